import type { PullScene } from '../scene/scene.ts';

/** Full load that goes on this soon after a pull was cut in two, by an event or by a gap of the log [s]. @source our default */
const RESUMES = 2;

/** Where events of a pull count up to: its end, or where full load goes on after it was cut in two [s]. */
export function nextLoad(scene: PullScene): number {
  return continued(scene).reduce((latest, { fromTime }) => Math.max(latest, fromTime), scene.to);
}

/** Where the full load of a pull ends, what goes on after a gap included [s]. */
export function fullLoadEnd(scene: PullScene): number {
  return continued(scene).reduce((latest, { toTime }) => Math.max(latest, toTime), scene.to);
}

function continued({ to, segments }: PullScene): PullScene['segments'] {
  return segments.filter(({ kind, fromTime }) => kind === 'full-load' && fromTime >= to && fromTime - to < RESUMES);
}
