import { readDelimited } from '../day/channels/index.ts';
import { dayModel, mapOfTable, type Step, stepOf } from '../day/plans/index.ts';
import { makePlateauDay } from '../scenarios/index.ts';
import { encodeLimits, encodeNext } from '../shell/server/index.ts';
import { parseDayText } from '../shell/store/index.ts';

/** What a turn of a slider may take in the server [ms]. @source our aim */
const AIM = 50;
const RUNS = 60;

/**
 * One turn of a slider on the page of margins: every limit of the step, as sent; and which limit comes first, once for a new step and once for
 * one that differs in pressure alone. The engine is that of the demonstration day before its pulls: the size of the question is the same.
 */
export function slidersBenchmark(runs = RUNS): readonly { readonly name: string; readonly times: readonly number[] }[] {
  const { files } = makePlateauDay({ seed: 1420, pulls: [] });
  const bytesOf = (wanted: string): Uint8Array => files.find(({ name }) => name === wanted)?.bytes ?? new Uint8Array();
  const facts = parseDayText(new TextDecoder().decode(bytesOf('day.yaml')));
  if (!facts.ok) throw new Error(facts.refusal.message);
  const file = 'compressor-map.csv';
  const table = readDelimited({ bytes: bytesOf(file), file, source: file });
  const map = table.ok ? mapOfTable(table.value) : table;
  if (!map.ok) throw new Error(map.refusal.message);
  const verdicts = { pulls: [], asked: [], findings: [] };
  const model = dayModel({ facts: facts.value, verdicts, results: new Map(), map: map.value });
  const engine = { model, step: { manifoldPressure: 200e3 }, from: undefined, findings: [] };
  const day = { id: 'plateau', facts: facts.value };
  const asked = (step: Step) => ({ engine, step, named: step, findings: [] });
  const parts = new Map<string, number[]>();
  for (let run = -5; run < runs; run++) {
    const timed = (name: string, work: () => unknown): void => {
      const from = performance.now();
      const sent = JSON.stringify(work());
      if (sent.length < 100) throw new Error(`no answer: ${name}`);
      if (run >= 0) parts.set(name, [...(parts.get(name) ?? []), performance.now() - from]);
    };
    const step = stepOf(`MAP ${180 + run} kPa, gap ${(0.4 + run / 200).toFixed(3)} mm`);
    if (!step.ok) throw new Error(step.refusal.message);
    timed('every limit of a step', () => encodeLimits(day, asked(step.value.step)));
    timed('next limits, new step', () => encodeNext(asked(step.value.step)));
    timed('next limits, other pressure', () =>
      encodeNext(asked({ ...step.value.step, manifoldPressure: step.value.step.manifoldPressure + 500 })),
    );
  }
  return [...parts].map(([name, times]) => ({ name, times: [...times].sort((a, b) => a - b) }));
}

if (import.meta.main) {
  for (const { name, times } of slidersBenchmark()) {
    const [low, median, high] = [0, times.length >> 1, times.length - 1].map((at) => times[at] ?? Number.NaN);
    console.log(
      `  ${name.padEnd(28)} ${median?.toFixed(1)} ms (${low?.toFixed(1)}–${high?.toFixed(1)}), against the aim of ${AIM} ms: ${((median ?? 0) / AIM).toFixed(2)}`,
    );
  }
}
