import {
  FAULT_TITLES,
  featureTitle,
  occurrenceText,
  probabilityText,
  pullSentence,
  STOP_WORDS,
  verdictSentence,
  windowsText,
} from '../../../day/reports/index.ts';
import {
  type Detection,
  type Fault,
  type FaultWindow,
  type Hypothesis,
  isBelieved,
  type Limits,
  type Occurrence,
  type PullVerdict,
  type StopClass,
} from '../../../day/verdicts/index.ts';
import type { HypothesisView, OccurrenceView, StopView, VerdictView, WindowView } from '../../contract/index.ts';
import { encodeFeature, lackedTitles } from './feature.ts';
import { plainNumber } from './plain.ts';
import { encodeSeparation } from './separation.ts';
import { guidesOf, speakingChannels } from './speaking.ts';
import { encodeCheck } from './words.ts';

/** The verdict of one pull for the page: every word that it shows, every number in SI. */
export function encodeVerdict(verdict: PullVerdict, limits: Limits): VerdictView {
  const { index, validity, stopClass, voidWindows, occurrences, detections, pull } = verdict;
  const told = new Set(detections.filter(({ answer }) => answer !== 'cannot tell').flatMap(({ needs }) => needs));
  const named = (answer: Detection['answer']) => detections.filter((detection) => detection.answer === answer);
  return {
    index,
    validity,
    sentence: verdictSentence(verdict),
    made: pullSentence(pull),
    stop: encodeStop(stopClass),
    voidWindows: voidWindows.map(encodeWindow),
    occurrences: occurrences.map((one) => encodeOccurrence(one, limits)),
    unseen: named('not seen').map(({ fault, features }) => ({
      ...nameOf(fault),
      features: features.map(encodeFeature),
    })),
    untold: named('cannot tell').map(({ fault, why = '', missing }) => ({
      ...nameOf(fault),
      why,
      missing: lackedTitles(missing, told),
    })),
  };
}

export function encodeStop(stop: StopClass): StopView {
  return { class: stop, ...STOP_WORDS[stop] };
}

export function encodeOccurrence(occurrence: Occurrence, limits: Limits): OccurrenceView {
  const { windows, hypotheses, separation, inseparable, next, stopClass, voids, channel, overruled } = occurrence;
  const lead = hypotheses[0]?.detection;
  return {
    sentence: occurrenceText(occurrence),
    windows: windows.map(encodeWindow),
    where: windowsText(windows),
    hypotheses: hypotheses.map(encodeHypothesis),
    separation: encodeSeparation(separation),
    inseparable: inseparable.map(({ one, other, without }) => ({
      one: FAULT_TITLES[one],
      other: FAULT_TITLES[other],
      without: lackedTitles(without, new Set(lead?.answer === 'seen' ? lead.needs : [])),
    })),
    next: next && encodeCheck(next),
    stop: encodeStop(stopClass),
    voids,
    channel,
    believed: isBelieved(occurrence),
    overruled,
    channels: lead ? [...speakingChannels(lead)] : [],
    guides: lead ? guidesOf(lead.fault, limits, featureTitle) : [],
  };
}

function encodeHypothesis({ fault, probability, evidence, detection }: Hypothesis): HypothesisView {
  return {
    ...nameOf(fault),
    probability,
    chance: probabilityText(probability),
    evidence: evidence.filter(({ weight }) => Number.isFinite(weight)).map(({ what, weight }) => ({ what, weight })),
    features: detection.features.map(encodeFeature),
  };
}

export function encodeWindow({ from, to, lowSpeed, highSpeed }: FaultWindow): WindowView {
  return { from, to, lowSpeed: plainNumber(lowSpeed), highSpeed: plainNumber(highSpeed) };
}

function nameOf(fault: Fault): { readonly fault: Fault; readonly title: string } {
  return { fault, title: FAULT_TITLES[fault] };
}
