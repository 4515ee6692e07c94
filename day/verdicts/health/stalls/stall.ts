import { measured } from '../../../../core/quantities/index.ts';
import type { StopClass } from '../../detector.ts';
import { middle } from '../../scene/series.ts';
import type { HealthEntry } from '../entries.ts';
import { type HealthFinding, type HealthPart, type HealthUnknown, heldValue } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';
import { type EngineStop, engineStop } from './engine-stop.ts';
import { decelerationBetween, type StopCause, type StopContext, type StopSign, stopSigns } from './stop-evidence.ts';

/** One stop of the engine. causes: sum of the weights for and against each, the heaviest first. confirmed: other channels say that it really stopped; undefined when none can. */
export interface Stall {
  readonly entry: string;
  readonly stop: EngineStop;
  readonly confirmed: boolean | undefined;
  readonly causes: readonly {
    readonly cause: StopCause;
    readonly weight: number;
    readonly signs: readonly StopSign[];
  }[];
  readonly answer: StopCause | 'cannot tell';
  readonly stopClass: StopClass;
}

export interface StallHealth extends HealthPart {
  readonly stalls: readonly Stall[];
}

export interface StallQuestion {
  readonly entries: readonly HealthEntry[];
  readonly limits: HealthLimits;
  /** Entries from which on the engine's drag is known to have risen, and the oil pressure to have fallen. */
  readonly dragRisen: ReadonlySet<string>;
  readonly oilFallen: ReadonlySet<string>;
}

const CAUSES: readonly StopCause[] = [
  'strong engine drag',
  'lost idle air or control',
  'sensor dropout',
  'switched off by hand',
  'stopped with the rolls in gear',
];

/** A cause is named when it has this weight and leads the next by the other. @source our default */
const NAMED = 2;
const LEADS = 1;

/**
 * Engine stops of the day with their causes weighed. A stop that nothing commanded is class 3 until it is explained; a dropout of the sensor
 * is none of the engine's, but a guard channel is lost.
 *
 * @source stall without a control cause: common practice, no source
 */
export function stallHealth({ entries, limits, dragRisen, oilFallen }: StallQuestion): StallHealth {
  const falls: number[] = [];
  const stalls: Stall[] = [];
  let [dragged, starved] = [false, false];
  for (const entry of entries) {
    dragged ||= dragRisen.has(entry.id);
    starved ||= oilFallen.has(entry.id);
    const seen = withEngine(entry);
    const stop = engineStop(seen, limits);
    if (stop) stalls.push(weighed(seen, stop, { limits, fall: middle(falls), dragRisen: dragged, oilFallen: starved }));
    else falls.push(...freeFalls(seen));
  }
  return { stalls, findings: stalls.map(stallFinding), unknown: stallsUnknown(entries, stalls) };
}

/** An entry whose engine log stands apart is seen by that log alone. */
function withEngine(entry: HealthEntry): HealthEntry {
  const has = entry.tracks.some(({ meaning }) => meaning === 'engine-speed');
  return has || entry.apart.length === 0 ? entry : { ...entry, tracks: entry.apart };
}

function weighed(entry: HealthEntry, stop: EngineStop, context: StopContext): Stall {
  const { signs, confirmed } = stopSigns(entry, stop, context);
  const causes = CAUSES.map((cause) => {
    const own = signs.filter((sign) => sign.cause === cause);
    return { cause, weight: own.reduce((sum, { weight }) => sum + weight, 0), signs: own };
  }).sort((a, b) => b.weight - a.weight);
  const [first, second] = causes;
  const named = first && second && first.weight >= NAMED && first.weight - second.weight >= LEADS;
  const answer = named ? first.cause : 'cannot tell';
  const notByHand = causes.some(({ cause, weight }) => cause === 'switched off by hand' && weight < 0);
  return {
    entry: entry.id,
    stop,
    confirmed,
    causes,
    answer,
    stopClass: classOf(answer, confirmed === true && notByHand),
  };
}

function classOf(answer: Stall['answer'], uncommanded: boolean): StopClass {
  switch (answer) {
    case 'switched off by hand':
    case 'stopped with the rolls in gear':
      return 0;
    case 'sensor dropout':
      return 1;
    case 'lost idle air or control':
      return 2;
    case 'strong engine drag':
      return 3;
    case 'cannot tell':
      return uncommanded ? 3 : 2;
  }
}

/** How fast the free engine falls towards idle elsewhere on the day [rad/s²]: from 200 to 130 rad/s, as a stand-in for lower speeds. */
function freeFalls({ tracks }: HealthEntry): number[] {
  const track = tracks.find(({ meaning }) => meaning === 'engine-speed');
  if (!track || track.times.length < 2) return [];
  const span = [track.times[0], track.times[track.times.length - 1]] as const;
  const rate = decelerationBetween(track, span, [200, 130]);
  return Number.isFinite(rate) && rate > FREE ? [rate] : [];
}

/** An engine that falls more slowly than this was tied to the rolls, or held [rad/s²]. @source our default */
const FREE = 60;

function stallFinding({ entry, stop, answer, stopClass, causes, confirmed }: Stall): HealthFinding {
  const because = causes[0]?.signs.filter(({ weight }) => weight > 0).map(({ what }) => what) ?? [];
  return {
    ...{
      kind: 'stall',
      subject: answer === 'sensor dropout' ? 'sensors' : 'loads',
      stopClass,
      entry,
      rests: [entry],
      changed: [],
    },
    values: [
      heldValue('engine speed before', measured(Math.max(0, stop.level), 0.02 * Math.max(0, stop.level)), {
        kind: 'engine-speed',
        source: 'measured',
      }),
      heldValue('time from there to standstill', measured(stop.stopped - stop.above, 0.05), {
        kind: 'time',
        source: 'measured',
      }),
    ],
    why:
      answer === 'cannot tell'
        ? `engine speed fell to nothing (${stop.moment}); ${confirmed === undefined ? 'no other channel tells whether the engine stopped' : 'the cause cannot be told'}: was it switched off by hand?`
        : `${answer} (${stop.moment}): ${because.join('; ')}`,
  };
}

function stallsUnknown(entries: readonly HealthEntry[], stalls: readonly Stall[]): readonly HealthUnknown[] {
  const blind = entries.filter(
    (entry) => entry.open && !withEngine(entry).tracks.some(({ meaning }) => meaning === 'engine-speed'),
  );
  return [
    ...(blind.length > 0 ? [{ what: 'stalls', entries: blind.map(({ id }) => id), why: 'missing engine-speed' }] : []),
    ...stalls
      .filter(({ answer }) => answer === 'cannot tell')
      .map(({ entry }) => ({
        what: 'cause of the stall',
        entries: [entry],
        why: 'what the other channels show fits several causes or none',
      })),
  ];
}
