import { writeSync } from 'node:fs';
import { openStore } from '../store.ts';
import { titled } from './facts-sample.ts';

// A process of its own for the tests that kill it, fill its disk, or let two of them write at once:
// node writer.ts FOLDER DAY NAME COUNT [SIZE]. Each acknowledged change is printed as one line, at once.
const [folder = '', day = '', name = '', count = '0', size = '3000'] = process.argv.slice(2);
const at = '2031-05-14T10:00:00Z';

function say(...words: readonly unknown[]): void {
  writeSync(1, `${words.join(' ')}\n`);
}

const opened = await openStore(folder);
if (!opened.ok) {
  say('refused', opened.refusal.kind);
  process.exit(1);
}
const store = opened.value;
say('open');
for (let index = 0; index < Number(count); index++) {
  const bytes = new Uint8Array(Number(size) * (1 + (index % 7))).fill(index % 251);
  bytes.set(new TextEncoder().encode(`${name}-${index}`));
  const kept = await store.keepRaw(bytes, { name: `${name}-${index}.csv`, at });
  say(...(kept.ok ? ['raw', kept.value] : ['refused', kept.refusal.kind, kept.refusal.numbers?.['code']]));
  const set = await store.setFacts(day, titled(`${name}-${index}`), { at, why: name });
  say(...(set.ok ? ['facts', set.value.sequence, set.value.facts.title] : ['refused', set.refusal.kind]));
}
store.close();
say('done');
