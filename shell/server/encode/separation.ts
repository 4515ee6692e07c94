import type { Separation, SeparationAnswer } from '../../../day/verdicts/index.ts';
import type { SeparationView } from '../../contract/index.ts';
import { encodeFeature, titlesOf } from './feature.ts';

/** The three questions in their order, each with its answer in plain words. */
export function encodeSeparation({ tied, commanded, supply }: Separation): SeparationView[] {
  return [
    answered('Was the engine still tied to the roll by the gearing?', TIED, tied),
    answered('Did the control ask for it: spark, fuel, throttle, boost target, a cut?', COMMANDED, commanded),
    answered('Did air or fuel change?', SUPPLY, supply),
  ];
}

type Words<Answer extends string> = Readonly<Record<Answer | 'unknown', string>>;

const TIED: Words<'tied' | 'free'> = {
  tied: 'Yes, no slip beyond the limit.',
  free: 'No: engine speed left roll speed.',
  unknown: 'No channel tells.',
};
const COMMANDED: Words<'changed' | 'unchanged'> = {
  changed: 'Yes, what was commanded changed.',
  unchanged: 'No, nothing commanded changed.',
  unknown: 'No channel tells.',
};
const SUPPLY: Words<'air' | 'fuel' | 'air and fuel' | 'neither'> = {
  air: 'Air did, fuel did not.',
  fuel: 'Fuel did, air did not.',
  'air and fuel': 'Both did.',
  neither: 'Neither did: spark, mechanics or a sensor.',
  unknown: 'No channel tells.',
};

function answered<Answer extends string>(
  question: string,
  words: Words<Answer>,
  { answer, evidence, missing }: SeparationAnswer<Answer>,
): SeparationView {
  return {
    question,
    answer: words[answer],
    known: answer !== 'unknown',
    evidence: evidence.map(encodeFeature),
    missing: titlesOf(missing),
  };
}
