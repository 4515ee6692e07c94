/** Style of the one-file report: dark on white, prints without backgrounds. Lines differ by dash as well as by colour (Okabe–Ito palette). */
export const STYLE = `
body{font:16px/1.5 system-ui,sans-serif;color:#111;background:#fff;margin:0}
main{max-width:62rem;margin:0 auto;padding:1.5rem}
h1{font-size:1.8rem}h2{margin-top:2rem;font-size:1.25rem}
table{border-collapse:collapse;width:100%;font-size:.9rem}
th,td{text-align:left;vertical-align:top;padding:.25rem .6rem .25rem 0;border-bottom:1px solid #bbb;overflow-wrap:anywhere}
.number{text-align:right;white-space:nowrap}
.sentence{font-size:1.1rem;font-weight:600}
.invented{border:2px solid #111;padding:.5rem .8rem;font-weight:600}
figure{margin:1rem 0}svg{width:100%;height:auto}
svg text{font:12px system-ui,sans-serif;fill:#111}
.grid{stroke:#ddd;fill:none}.line{fill:none;stroke-width:2}
.line-0{stroke:#0072B2}.line-1{stroke:#B34700;stroke-dasharray:8 4}.line-2{stroke:#007A5A;stroke-dasharray:2 4}
.band{fill:#0072B2;fill-opacity:.15}
section{break-inside:avoid-page}
@media print{main{max-width:none;padding:0}details>*{display:block}}
`;
