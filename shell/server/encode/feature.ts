import { MEANINGS, type Meaning } from '../../../day/channels/index.ts';
import { featureTitle } from '../../../day/reports/index.ts';
import { type Feature, isSettable } from '../../../day/verdicts/index.ts';
import type { FeatureView } from '../../contract/index.ts';
import { plainNumber } from './plain.ts';

/** One number that spoke, with the limit it was held against. */
export function encodeFeature({ name, value, threshold, kind, source }: Feature): FeatureView {
  return {
    ...{ name, title: featureTitle(name), kind, source },
    value: plainNumber(value),
    ...(threshold !== undefined && Number.isFinite(threshold) && { threshold }),
    settable: isSettable(name),
  };
}

export function titlesOf(meanings: readonly Meaning[]): string[] {
  return meanings.map((meaning) => MEANINGS[meaning].title);
}

/** Titles of lacking channels; what is logged, as something could be told by it, lacks a second one. @param told channels that something could be told by */
export function lackedTitles(lacking: readonly Meaning[], told: ReadonlySet<Meaning>): string[] {
  return lacking.map((meaning) => {
    const [title = meaning] = titlesOf([meaning]);
    return told.has(meaning) ? `a second ${title}` : title;
  });
}
