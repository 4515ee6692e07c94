import { formatQuantity } from '../../../core/quantities/index.ts';
import {
  type CoolerReady,
  type CoolerSeries,
  type CoolerState,
  coolerSeriesOf,
  coolerStateOf,
  type EngineModel,
  type SeriesQuestion,
  type Step,
} from '../../../day/plans/index.ts';
import type { CoolerSeriesView, CoolerView } from '../../contract/index.ts';
import { inWords } from './limit-words.ts';
import { plainNumber } from './plain.ts';

/** How warm the charge cooler is taken to be for a step; undefined without a compressor. */
export function encodeCooler(model: EngineModel, step: Step): CoolerView | undefined {
  const state = coolerStateOf(model, step);
  if (!state) return undefined;
  const { kind, origin, start, end, water, ice } = state;
  const plain = ({ value, standardUncertainty }: CoolerState['start']) => ({
    value,
    standardUncertainty: plainNumber(standardUncertainty),
  });
  return {
    ...{ kind, origin, start: plain(start), end: plain(end) },
    ...(water !== undefined && { water }),
    ...(ice !== undefined && { ice }),
    sentence: sentenceOf(state, model.pulls),
  };
}

const kelvin = (value: number, spread?: number): string =>
  formatQuantity(value, 'temperature-difference', {
    ...(spread === undefined ? { decimals: 1 } : { standardUncertainty: 2 * spread }),
  }).replace('Δ', '');

/** `8 ± 5 °C above`, `12 °C below`. */
function against(value: number, spread?: number): string {
  return `${kelvin(Math.abs(value), spread)} ${value < 0 ? 'below' : 'above'}`;
}

function sentenceOf({ kind, origin, start, end, water, ice }: CoolerState, pulls: number): string {
  const held = start.value === end.value && end.standardUncertainty === 0;
  if (held) return `Charge cooler ${against(start.value)} the air outside over the whole pull, as asked`;
  const by = {
    asked: 'as asked',
    'pulls of the day': `as in a usual pull of the day, from ${pulls === 1 ? 'one pull' : `${pulls} pulls`}`,
    'usual values': 'usual values of the trade: no pull of the day tells',
  }[origin];
  const last = against(end.value, end.standardUncertainty);
  if (kind === 'air-to-air')
    return `Charge cooler ${against(start.value)} the air outside when the load begins, ${last} it at the redline: ${by}; a cold one is \`soak 0 K\``;
  const iced = ice !== undefined && ice > 0 ? ` with ${formatQuantity(ice, 'mass')} of ice` : ' without ice';
  const tank = water === undefined ? '' : `, its water ${formatQuantity(water, 'temperature')}${iced}`;
  return `Water-to-air charge cooler${tank} when the load begins; what cools the charge is ${last} the air outside at the redline: ${by}; otherwise say \`water 20 °C\`, \`ice 4 kg\` or \`soak 0 K\``;
}

/** The charge cooler over a series of equal pulls. */
export function encodeSeries(model: EngineModel, step: Step, question: SeriesQuestion): CoolerSeriesView {
  const { pulls, ready, iceFor, assumed } = coolerSeriesOf(model, step, question);
  return {
    pause: question.pause,
    pulls: pulls.map(({ charge, ...rest }) => ({ ...rest, charge: plainNumber(charge) })),
    ready: readyWords(ready, iceFor),
    ...(ready.kind === 'after' && {
      wait: { value: ready.wait.value, standardUncertainty: plainNumber(ready.wait.standardUncertainty) },
    }),
    ...(iceFor !== undefined && { iceFor }),
    assumed: assumed.map(inWords),
  };
}

function readyWords(ready: CoolerReady, iceFor: CoolerSeries['iceFor']): string {
  const ice = iceFor === undefined ? '' : ` ${iceWords(iceFor)}`;
  switch (ready.kind) {
    case 'at once':
      return `Ready again at once.${ice}`;
    case 'with new ice only':
      return `As cold as before with new ice only: the air outside is warmer.${ice}`;
    case 'after': {
      const { value, standardUncertainty } = ready.wait;
      const minutes = `${(value / 60).toFixed(1)} ± ${(standardUncertainty / 30).toFixed(1)} min`;
      return `Ready again after ${minutes}, fans on and no load: then a tenth of what the pull brought is left.${ice}`;
    }
    default:
      return unknownReady(ready);
  }
}

function iceWords(pulls: number): string {
  if (pulls === 0) return 'The ice does not last one pull.';
  if (pulls >= 30) return 'The ice lasts 30 pulls and more.';
  return `The ice lasts ${pulls === 1 ? 'one pull' : `${pulls} pulls`}; then the water warms from pull to pull.`;
}

function unknownReady(ready: never): never {
  throw new Error(`unknown readiness: ${JSON.stringify(ready)}`);
}
