/** Style of the one-file report: dark on white, prints without backgrounds. Lines differ by dash as well as by colour (Okabe–Ito palette). */
export const STYLE = `
body{font:16px/1.5 system-ui,sans-serif;color:#111;background:#fff;margin:0}
main{max-width:62rem;margin:0 auto;padding:1.5rem}
h1{font-size:1.8rem;line-height:1.2}h2{margin:2.2rem 0 .6rem;font-size:1.35rem;border-bottom:2px solid #111}h3{margin:0 0 .4rem;font-size:1.1rem}
p{margin:.5rem 0}ul{margin:.3rem 0;padding-left:1.3rem}
table{border-collapse:collapse;width:100%;font-size:.9rem;margin:.6rem 0;font-variant-numeric:tabular-nums}
th,td{text-align:left;vertical-align:top;padding:.2rem .9rem .2rem 0;border-bottom:1px solid #ccc;overflow-wrap:break-word}
thead th{border-bottom:1.5px solid #111;font-weight:600}
td:last-child,th:last-child{padding-right:0}
.table{overflow-x:auto}.head{width:auto}.head th{font-weight:400;color:#444}
th.number,td.number{text-align:right;white-space:nowrap}
.sentence{font-size:1.05rem;font-weight:600}
.invented{border:2px solid #111;padding:.5rem .8rem;font-weight:600}
.end{margin-top:2rem;border-top:2px solid #111;padding-top:.5rem;font-weight:600}
.pair{display:flex;flex-wrap:wrap;gap:0 2.5rem;align-items:flex-start}.pair .table{flex:1 1 20rem;min-width:0}
figure{margin:.8rem 0;break-inside:avoid}svg{width:100%;height:auto;max-height:24rem}
figcaption{font-size:.85rem;color:#444}
svg text{font:12px system-ui,sans-serif;fill:#111}
.grid{stroke:#ddd;fill:none}.line{fill:none;stroke-width:2}
.line-0{stroke:#0072B2}.line-1{stroke:#B34700;stroke-dasharray:8 4}.line-2{stroke:#007A5A;stroke-dasharray:2 4}
.band{fill:#0072B2;fill-opacity:.15}.void{fill:#111;fill-opacity:.12;stroke:#111;stroke-dasharray:3 3}
section{margin:1.4rem 0;padding-top:1rem;border-top:1px solid #888}
@page{size:A4;margin:16mm 14mm 18mm;@bottom-right{content:counter(page) " / " counter(pages);font:9pt system-ui,sans-serif}}
@media print{body{font-size:9pt}main{max-width:none;padding:0}h2,h3{break-after:avoid}tr{break-inside:avoid}thead{display:table-header-group}svg{max-height:60mm}.table{overflow:visible}td{overflow-wrap:anywhere}}
`;
