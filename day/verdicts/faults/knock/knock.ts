import { against, type Detector, type FaultWindow, informs, strengthOf, windowOf } from '../../detector.ts';
import { busiest, type KnockEvent, knockEvidence, type Retard } from '../../evidence/knock.ts';
import type { PullScene } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/** Retard alone, without a loud or counted event, must be so many times the limit, or stay so many times beyond it for so long [s]: a control takes single steps back by itself. @source our default */
const CAUTION = 2;
const STAYS = 1.5;
const LASTING = 1.5;

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
    const told = most >= least || (counted?.most ?? 0) >= least;
    const beyond = retard ? limits['knock.retard'].value * (told ? 1 : CAUTION) : Number.NaN;
    const byRetard =
      retard !== undefined && retard.windows.length > 0 && (retard.largest >= beyond || staysIn(retard, limits));
    // One loud sample is a loose wire; two on one cylinder are knock. Where retard is logged, it must have answered, or the events be many.
    const byLevel = most >= (retard ? 2 * least : least);
    const byCount = (counted?.most ?? 0) >= least;
    const features = [
      ...(retard ? [against(limits, 'knock.retard', retard.largest)] : []),
      ...(events ? [against(limits, 'knock.events', most)] : []),
      ...(counted === undefined ? [] : [against(limits, 'knock.events', counted.most)]),
    ];
    if (!byRetard && !byLevel && !byCount) return { features };
    const heard = (events ?? []).filter((list) => list.length >= least).flat();
    const windows =
      byRetard && retard
        ? retard.windows
        : byLevel || !counted?.span
          ? spanOf(scene, heard)
          : [windowOf(scene, counted.span)];
    const rate = Math.max(busiest(heard), counted?.rate ?? 0);
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
        counted: byCount ? (counted?.most ?? 0) / least : undefined,
        limits,
      }),
      stopClass: heavy ? 2 : 1,
      // The engine really made that power, with the retard that is logged beside it.
      voids: 'nothing',
    };
  },
};

/** Strength of retard that nothing else confirms. @source our default */
const ALONE = 0.75;

/** Of events that were only counted: from twice the limit on more is surer. @source our default */
const COUNTED = { least: 0.7, most: 0.9 } as const;

/** By the retard, which is small for a single light event; heard beside it, or counted, or heard alone. counted: as a ratio to the limit. */
function strengthOfKnock({
  retard,
  heard,
  counted,
  limits,
}: {
  readonly retard: number | undefined;
  readonly heard: boolean;
  readonly counted: number | undefined;
  readonly limits: Limits;
}): number {
  if (retard === undefined) return counted === undefined ? 0.6 : strengthOf(counted, COUNTED.least, COUNTED.most);
  if (heard || counted !== undefined) return strengthOf(retard / limits['knock.retard'].value, 0.6);
  return ALONE;
}

/** True when timing stays back beyond the limit: it is taken back again before it has recovered. */
function staysIn({ times, grown }: Retard, limits: Limits): boolean {
  const lasting = runningQuantile({ times, values: grown }, STAYS / 2, 0.5);
  return largest(lasting) >= LASTING * limits['knock.retard'].value;
}

function spanOf(scene: PullScene, events: readonly KnockEvent[]): readonly FaultWindow[] {
  if (events.length === 0) return [];
  const moments = events.map(({ time }) => time);
  return [windowOf(scene, { from: Math.min(...moments), to: Math.max(...moments) })];
}
