import { chanceOf } from '../random.ts';
import type { Level } from './channels.ts';
import { type Decoy, decoyNames } from './decoys.ts';
import { ENGINE_FAULTS } from './faults.ts';
import { SENSOR_FAULTS } from './faults-sensors.ts';
import type { VirtualFault, VirtualOptions, WantedFault } from './options.ts';

export const STRENGTHS = [0.5, 1, 2, 4] as const;

/** Of every 25 seeds: five clean days, four with a decoy, sixteen with a fault. */
const BLOCK = 25;
const CLEAN = 5;
const DECOYS = 4;

/**
 * What a numbered day of a set is: clean, with a decoy, or with a fault of some strength, logged richly or poorly. Three hundred numbers in a row from
 * 1 modulo 25 hold every fault at every strength.
 */
export function drawVirtual(seed: number): VirtualOptions {
  const chance = chanceOf(seed, 'virtual set');
  const block = Math.floor((seed - 1) / BLOCK);
  const place = (((seed - 1) % BLOCK) * 7) % BLOCK;
  const level = chance.pick(SPREAD);
  if (place < CLEAN) return { seed, level };
  if (place < CLEAN + DECOYS) return { seed, level, decoys: [decoyOf(block * DECOYS + place - CLEAN)] };
  const number = block * (BLOCK - CLEAN - DECOYS) + place - CLEAN - DECOYS;
  const first = faultOf(number);
  const second = chance.uniform() < 0.1 ? faultOf(number + 83) : undefined;
  const faults = second && second.fault !== first.fault && fits(first, second) ? [first, second] : [first];
  const blind = faults.some(({ fault }) => SENSOR_FAULTS.some((name) => name === fault));
  return { seed, level: blind && (level === 'poor' || level === 'basic') ? 'medium' : level, faults };
}

const SPREAD: readonly Level[] = [
  ...new Array<Level>(3).fill('poor'),
  ...new Array<Level>(4).fill('basic'),
  ...new Array<Level>(6).fill('medium'),
  ...new Array<Level>(7).fill('rich'),
];

/** The nth fault and strength, every pair once before any comes again. */
function faultOf(number: number): WantedFault {
  const all = allFaults();
  const pairs = all.length * STRENGTHS.length;
  // A stride without a common factor scatters neighbours.
  const index = (number * strideFor(pairs)) % pairs;
  const fault = all[index % all.length];
  const strength = STRENGTHS[Math.floor(index / all.length)];
  if (!fault || !strength) throw new Error(`no fault ${index} of ${pairs}`);
  return { fault, strength };
}

function decoyOf(number: number): Decoy {
  const all = decoyNames();
  const decoy = all[number % all.length];
  if (!decoy) throw new Error('no decoy');
  return decoy;
}

/** All faults of engine, driveline and sensors. */
export function allFaults(): readonly VirtualFault[] {
  const engine = Object.keys(ENGINE_FAULTS).filter((name): name is keyof typeof ENGINE_FAULTS => name in ENGINE_FAULTS);
  return [...engine, ...SENSOR_FAULTS];
}

function strideFor(pairs: number): number {
  let stride = Math.floor(0.381966 * pairs);
  while (divisor(stride, pairs) !== 1) stride += 1;
  return stride;
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

/** Clutch and converter do not meet in one vehicle. */
function fits(first: WantedFault, second: WantedFault): boolean {
  const both = [first.fault, second.fault];
  const manual = both.includes('clutch-slip') || both.includes('coast-down-drag');
  return !(manual && both.includes('converter-slip'));
}
