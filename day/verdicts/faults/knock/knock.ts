import { against, type Detector, type FaultWindow, informs, strengthOf, windowOf } from '../../detector.ts';
import { type KnockEvent, knockEvidence, type Retard } from '../../evidence/knock.ts';
import type { PullScene } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/** Retard alone, without a loud or counted event, must be so many times the limit, or stay so many times beyond it for so long [s]: a control takes single steps back by itself. @source our default */
const CAUTION = 2;
const STAYS = 1.5;
const LASTING = 1.5;
/** So many events a second are counted over the busiest stretch of this length [s]: a short burst that retard ends is no heavy knock. @source our default */
const BUSIEST = 2.5;

/** Why knock is not judged there. @source common practice, no source */
export const BY_NATURE = 'compression ignition knocks by nature';

/**
 * Knock and the retard that answers it: retard steps, counted events, or a level far above its own background at that moment.
 *
 * @source limits and classes: common practice, no source
 */
export const knock: Detector = {
  fault: 'knock',
  subject: 'knock',
  needs: [],
  lookAlikes: ['valve-float', 'pre-ignition'],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: BY_NATURE };
    const { retard, events, counted } = knockEvidence(scene, limits);
    if (!retard && !events && counted === undefined) {
      return { why: 'neither knock level, retard nor count', missing: ['knock-level', 'knock-retard', 'knock-count'] };
    }
    const most = Math.max(0, ...(events ?? []).map((list) => list.length));
    const least = limits['knock.events'].value;
    const told = most >= least || (counted ?? 0) >= least;
    const beyond = retard ? limits['knock.retard'].value * (told ? 1 : CAUTION) : Number.NaN;
    const byRetard =
      retard !== undefined && retard.windows.length > 0 && (retard.largest >= beyond || staysIn(retard, limits));
    // One loud sample is a loose wire; two on one cylinder are knock. Where retard is logged, it must have answered, or the events be many.
    const byLevel = most >= (retard ? 2 * least : least);
    const byCount = (counted ?? 0) >= least;
    const features = [
      ...(retard ? [against(limits, 'knock.retard', retard.largest)] : []),
      ...(events ? [against(limits, 'knock.events', most)] : []),
      ...(counted === undefined ? [] : [against(limits, 'knock.events', counted)]),
    ];
    if (!byRetard && !byLevel && !byCount) return { features };
    const heard = (events ?? []).filter((list) => list.length >= least).flat();
    const windows = byRetard && retard ? retard.windows : spanOf(scene, heard);
    const rate = busiest(heard);
    const heavy =
      (retard?.largest ?? 0) > limits['knock.heavy-retard'].value || rate >= limits['knock.heavy-rate'].value;
    return {
      windows: windows.length > 0 ? windows : [windowOf(scene, scene)],
      features: [
        ...features,
        informs('events', heard.length, 'count'),
        against(limits, 'knock.heavy-rate', rate),
        ...(retard ? [against(limits, 'knock.heavy-retard', retard.largest)] : []),
      ],
      strength: strengthOfKnock({
        retard: byRetard ? retard?.largest : undefined,
        heard: most >= least,
        byCount,
        limits,
      }),
      stopClass: heavy ? 2 : 1,
      // The engine really made that power, with the retard that is logged beside it.
      voids: 'nothing',
    };
  },
};

/** Of retard that nothing else confirms: a control takes as much back for knock that retard does not end. @source our default */
const ALONE = { usual: 0.75, heavy: 0.65 } as const;

/** By the retard, which is small for a single light event; heard beside it, or counted, or heard alone. */
function strengthOfKnock({
  retard,
  heard,
  byCount,
  limits,
}: {
  readonly retard: number | undefined;
  readonly heard: boolean;
  readonly byCount: boolean;
  readonly limits: Limits;
}): number {
  if (retard === undefined) return byCount ? 0.7 : 0.6;
  if (heard || byCount) return strengthOf(retard / limits['knock.retard'].value, 0.6);
  return retard > limits['knock.heavy-retard'].value ? ALONE.heavy : ALONE.usual;
}

/** True when timing stays back beyond the limit: it is taken back again before it has recovered. */
function staysIn({ times, grown }: Retard, limits: Limits): boolean {
  const lasting = runningQuantile({ times, values: grown }, STAYS / 2, 0.5);
  return largest(lasting) >= LASTING * limits['knock.retard'].value;
}

/** Events of one channel a second over the busiest stretch [1/s]. */
function busiest(events: readonly KnockEvent[]): number {
  return Math.max(
    0,
    ...events.map(
      ({ time, channel }) =>
        events.filter((other) => other.channel === channel && other.time >= time && other.time < time + BUSIEST)
          .length / BUSIEST,
    ),
  );
}

function spanOf(scene: PullScene, events: readonly KnockEvent[]): readonly FaultWindow[] {
  if (events.length === 0) return [];
  const moments = events.map(({ time }) => time);
  return [windowOf(scene, { from: Math.min(...moments), to: Math.max(...moments) })];
}
