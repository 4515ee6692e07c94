import { loadavg } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { INVENTED_ENGINE, stateAt } from '../../core/physics/cycle/testing/invented-engine.ts';
import { cycleSolver, gasModel, petrol } from '../../core/physics/index.ts';
import { absolutePressure, angularSpeed } from '../../core/quantities/index.ts';

const SPEEDS = 400;
const PRESSURES = 400;
const AIM = 5;

/** Places in {@link Share.state}: rows of one speed that are done, and 1 when nobody wants the rest. */
const DONE = 0;
const CANCELLED = 1;
/** Between two looks at how far it is [ms]. */
const LOOK = 200;

interface Share {
  readonly map: SharedArrayBuffer;
  readonly state: SharedArrayBuffer;
  readonly first: number;
  readonly every: number;
}

/** Torque over speed and manifold pressure; speeds are dealt out to the workers in turn. */
function fillShare({ map, state, first, every }: Share): void {
  const counts = new Int32Array(state);
  const torques = new Float64Array(map);
  const solver = cycleSolver(INVENTED_ENGINE, gasModel(petrol(98)));
  const usual = stateAt({ rpm: 3000, bar: 1.5 });
  for (let i = first; i < SPEEDS && Atomics.load(counts, CANCELLED) === 0; i += every) {
    const speed = angularSpeed(((1500 + (5500 * i) / (SPEEDS - 1)) * Math.PI) / 30);
    for (let j = 0; j < PRESSURES; j++) {
      const manifoldPressure = absolutePressure(0.8e5 + (1.7e5 * j) / (PRESSURES - 1));
      const exhaustPressure = absolutePressure(Math.max(1.05e5, manifoldPressure));
      const found = solver.solve({ ...usual, speed, manifoldPressure, exhaustPressure });
      torques[i * PRESSURES + j] = found.ok ? found.value.brakeTorque : Number.NaN;
    }
    Atomics.add(counts, DONE, 1);
  }
}

export interface MapTiming {
  readonly seconds: number;
  /** Of all threads together. */
  readonly processorSeconds: number;
  readonly states: number;
  readonly workers: number;
  readonly missing: number;
  readonly highest: number;
}

export interface MapOptions {
  readonly workers?: number;
  /** Told several times a second. @param share of the map that is there [1] */
  readonly onProgress?: (share: number) => void;
  /** Ends the work after the row that each worker is in; what is done stays. */
  readonly signal?: AbortSignal;
}

/** 160 000 states, each of a coarse and a full pass, from nothing to the last torque, worker start and gas tables included. */
export async function mapBenchmark({ workers = 2, onProgress, signal }: MapOptions = {}): Promise<MapTiming> {
  const map = new SharedArrayBuffer(8 * SPEEDS * PRESSURES);
  const state = new SharedArrayBuffer(8);
  const counts = new Int32Array(state);
  const cancel = (): void => void Atomics.store(counts, CANCELLED, 1);
  signal?.addEventListener('abort', cancel, { once: true });
  const looking = setInterval(() => onProgress?.(Atomics.load(counts, DONE) / SPEEDS), LOOK);
  const started = performance.now();
  const usedBefore = process.cpuUsage().user;
  await Promise.all(
    Array.from({ length: workers }, (_, first) => {
      const worker = new Worker(new URL(import.meta.url), { workerData: { map, state, first, every: workers } });
      return new Promise((done, failed) => {
        worker.on('message', done);
        worker.on('error', failed);
      });
    }),
  );
  clearInterval(looking);
  signal?.removeEventListener('abort', cancel);
  const seconds = (performance.now() - started) / 1000;
  const processorSeconds = (process.cpuUsage().user - usedBefore) / 1e6;
  const torques = new Float64Array(map);
  let missing = 0;
  let highest = 0;
  for (const torque of torques) {
    if (Number.isNaN(torque) || torque === 0) missing++;
    else if (torque > highest) highest = torque;
  }
  return { seconds, processorSeconds, states: PRESSURES * Atomics.load(counts, DONE), workers, missing, highest };
}

export function mapText({ seconds, processorSeconds, states, workers, missing, highest }: MapTiming): string {
  return `Map of ${states} states on ${workers} workers: ${seconds.toFixed(2)} s (aim ${AIM}), ${processorSeconds.toFixed(2)} s of processor time in all, ${missing} without an answer, highest torque ${highest.toFixed(1)} N·m`;
}

if (!isMainThread && parentPort) {
  fillShare(workerData);
  parentPort.postMessage('done');
} else if (import.meta.main) {
  let told = 0;
  const whole = await mapBenchmark({ onProgress: () => told++ });
  console.log(mapText(whole));
  const before = loadavg()[0];
  const cut = await mapBenchmark({ signal: AbortSignal.timeout(1000) });
  console.log(
    `  progress told ${told} times; cancelled after 1 s it ended at ${cut.seconds.toFixed(2)} s with ${cut.states} states; load ${before.toFixed(1)}`,
  );
}
