import { type CompressorPoints, compressorPoints } from '../../../day/plans/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import type { MapPointsView } from '../../contract/index.ts';
import type { DayEngine } from '../../desk/index.ts';
import { inWords } from './limit-words.ts';
import { plainSamples } from './plain.ts';

/** The clean pulls of the day on the map of the compressor. They do not move with the step. */
export function encodeMapPoints(
  { model, seen = [] }: DayEngine,
  { entries }: Pick<DayFacts, 'entries'>,
): MapPointsView {
  const points = compressorPoints(model, seen);
  if (!points.ok) return { pulls: [], why: inWords(points.refusal.message) };
  const title = (id: string): string => entries.find((entry) => entry.id === id)?.title ?? '';
  return {
    pulls: points.value.map((pull) => encodePull(pull, title(pull.entry))),
    ...(points.value.length === 0 && { why: 'missing pull: none of the day is clean' }),
  };
}

function encodePull(pull: CompressorPoints, title: string): MapPointsView['pulls'][number] {
  const { entry, measured } = pull;
  return {
    ...{ entry, title, measured },
    speed: plainSamples(pull.speed),
    manifoldPressure: plainSamples(pull.manifoldPressure),
    flow: plainSamples(pull.flow),
    flowUncertainty: plainSamples(pull.flowUncertainty),
    pressureRatio: plainSamples(pull.pressureRatio),
    pressureRatioUncertainty: plainSamples(pull.pressureRatioUncertainty),
  };
}
