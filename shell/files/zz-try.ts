import { writeSync } from 'node:fs';
import * as arrow from 'apache-arrow';
import { exportChannels } from './export-channels.ts';
import { openTable } from './open-table.ts';

const parquet = exportChannels({
  channels: [{ name: 'a', unit: 'V', times: [0, 1, 2, 3], samples: [1, 2, 3, 4] }],
  format: 'parquet',
});
const stream = arrow.tableToIPC(
  new arrow.Table({ a: arrow.vectorFromArray([1, 2, 3], new arrow.Float64()) } as any),
  'stream',
);
const file = arrow.tableToIPC(
  new arrow.Table({ a: arrow.vectorFromArray([1, 2, 3], new arrow.Float64()) } as any),
  'file',
);
for (const [name, bytes] of Object.entries({ parquet, stream, file })) {
  if (process.argv[2] && process.argv[2] !== name) continue;
  let state = 20310502;
  const random = (below: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return Math.floor(((state >>> 0) / 4294967296) * below);
  };
  for (let k = 0; k < 400; k++) {
    const hurt = k % 4 === 0 ? bytes.slice(0, random(bytes.length)) : bytes.slice();
    for (let n = 0; n <= k % 3 && hurt.length > 4; n++) hurt[4 + random(hurt.length - 4)] = random(256);
    const t = performance.now();
    writeSync(2, `\r${name} ${k}   `);
    try {
      const r = await openTable(hurt, { timeLimit: 1 });
      const ms = performance.now() - t;
      if (ms > 200) console.log('slow', name, k, ms, r.ok ? r.value.rows : r.refusal.message);
    } catch (e) {
      console.log('THROW', name, k, e);
    }
  }
}
