import type { Detection, Fault, FaultWindow } from '../detector.ts';
import type { WeighingModel } from './model.ts';

/** Which faults compete to explain the same evidence. Both ways: a list that one detector keeps holds for the other as well. */
export type LookAlikes = ReadonlyMap<Fault, ReadonlySet<Fault>>;

/** A sum of everything that costs power and no cause of its own: any fault of engine, driveline or contact in the same windows explains it. @source common practice, no source */
export const SUMMARY: Fault = 'power-shortfall';

/**
 * Faults that look the same in every other channel when the one channel that parts them is missing: a clutch and a tyre without the driven wheel, a
 * dragging driveline and a dragging engine without its oil pressure, sparks that ask too much and coils that give too little without what they are fed, misfire and a limiter or a lost
 * trigger without a status, a counter or a drive that is quick enough, oil and its gauge, and a value that never moves, without a second one. @source common practice, no source
 */
const TWINS: readonly (readonly [Fault, Fault])[] = [
  ['wheel-slip', 'clutch-slip'],
  ['driveline-loss-rising', 'oil-pressure-low'],
  ['ignition-breakup', 'spark-energy'],
  ['ignition-breakup', 'rev-or-torque-cut'],
  ['ignition-breakup', 'lost-sync'],
  ['oil-pressure-low', 'wrong-scale'],
  ['stuck-channel', 'saturated-channel'],
];

/** True when nothing but a missing channel parts two faults. */
export function areTwins(one: Fault, other: Fault): boolean {
  return TWINS.some((pair) => pair.includes(one) && pair.includes(other) && one !== other);
}

/** Look-alikes as the detectors list them, and what a fault was learnt to set off besides its own detector. */
export function lookAlikesOf(
  detections: readonly Pick<Detection, 'fault' | 'subject' | 'lookAlikes'>[],
  explains: WeighingModel['explains'],
): LookAlikes {
  const found = new Map<Fault, Set<Fault>>(detections.map(({ fault }) => [fault, new Set<Fault>()]));
  const join = (one: Fault, other: Fault): void => {
    if (one === other) return;
    found.get(one)?.add(other);
    found.get(other)?.add(one);
  };
  for (const { fault, subject, lookAlikes } of detections) {
    for (const other of lookAlikes) join(fault, other);
    for (const other of explains[fault] ?? []) join(fault, other);
    // A channel that lies costs no power; which of them make power look short is learnt. A trigger that is lost does.
    if (subject !== 'sensors' || fault === 'lost-sync') join(fault, SUMMARY);
  }
  for (const [one, other] of TWINS) join(one, other);
  return found;
}

/** Windows that are apart by less than this still meet [s]. @source our default: the smearing of 4–20 Hz roughness and of lambda's travel */
export const SLACK = 0.5;

/** True when any of the windows meet; no window at all is the whole pull. */
export function windowsMeet(one: readonly Span[], other: readonly Span[], slack = SLACK): boolean {
  if (one.length === 0 || other.length === 0) return true;
  return one.some(({ from, to }) => other.some((span) => span.from <= to + slack && span.to >= from - slack));
}

export type Span = Pick<FaultWindow, 'from' | 'to'>;
