import type { StripEntry } from '../../contract/index.ts';

/** Scale of the strip's powers [W]: where its ground lies, its highest end, and round levels between, the ground among them. */
export interface StripScale {
  readonly ground: number;
  readonly most: number;
  readonly levels: readonly number[];
}

/** Powers that all lie in the upper part of the scale are spread over it; the ground is then not zero, and says so. */
const SPREAD_FROM = 0.4;

/** The scale that holds every peak with its band of two standard uncertainties. Without any peak: 0 to 0. */
export function stripScale(entries: readonly Pick<StripEntry, 'peak'>[]): StripScale {
  const ends = entries.flatMap(({ peak }) => {
    const spread = 2 * (peak?.standardUncertainty ?? 0);
    return peak ? [{ low: peak.value - spread, high: peak.value + spread }] : [];
  });
  const most = Math.max(0, ...ends.map(({ high }) => high));
  if (!(most > 0)) return { ground: 0, most: 0, levels: [] };
  const least = Math.min(...ends.map(({ low }) => low));
  const rough = least < SPREAD_FROM * most ? most : Math.max(most - least, most * 0.1);
  const step = roundStep(rough / 3);
  const ground = least < SPREAD_FROM * most ? 0 : Math.max(0, Math.floor(least / step - 0.5) * step);
  const count = Math.floor((most - ground) / step);
  return { ground, most, levels: Array.from({ length: count + 1 }, (_, at) => ground + at * step) };
}

function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((part) => part * power).findLast((size) => size <= rough) ?? power;
}
