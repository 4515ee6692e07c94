import type { Alignment } from '../../../channels/index.ts';
import { against, type Detector, type FaultWindow, type Feature, informs, windowOf } from '../../detector.ts';
import type { PullScene } from '../../scene/scene.ts';
import type { Limits } from '../../thresholds.ts';

type ClockPiece = Alignment['pieces'][number];

/** A break of a log belongs to a pull when it lies in it or this near [s]: it may be what ended it. @source our default */
const NEAR = 0.5;
/** Times of a log that was written badly, by the findings of its reading. */
const BAD_STAMPS = new Set(['time-backward', 'time-jump', 'time-repeated', 'time-stray', 'clock-set-back']);

/**
 * A clock that cannot be trusted: a gap or a jump inside the pull, repeated or backward stamps, two clocks that run further apart than
 * crystals and tyres explain, or logs that do not lie on one another.
 *
 * @source rate and residual: common practice, no source
 */
export const clockFault: Detector = {
  fault: 'clock-fault',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['wheel-slip', 'dropout'],
  look: (scene, limits) => {
    const breaks = breaksOf(scene);
    const stamps = scene.record.findings.filter(({ kind, place }) => BAD_STAMPS.has(kind) && touches(scene, place));
    const over = coveringPieces(scene);
    // A converter's slip moves engine speed against roll speed: what the clocks do cannot be told from it.
    const told = scene.facts.vehicle.transmission !== 'converter';
    const apart = told ? over.filter((piece) => isFarOff(piece, limits)) : [];
    const rate = Math.max(0, ...over.map((piece) => Math.abs(piece.rate)));
    const loose = over.filter(({ residual }) => residual > limits['clock.residual'].value);
    const features: Feature[] = [
      ...(told && over.length > 0 ? [against(limits, 'clock.rate', rate)] : []),
      ...over
        .filter(({ residual }) => Number.isFinite(residual))
        .map(({ residual }) => against(limits, 'clock.residual', residual)),
      informs('breaks of a log in the pull', breaks.length, 'count'),
      informs('stamps repeated or out of order', stamps.length, 'count'),
    ];
    if (breaks.length + stamps.length + loose.length + apart.length === 0) return { features };
    return {
      windows: breaks.length > 0 ? breaks : [windowOf(scene, scene)],
      features,
      strength: breaks.length > 0 || stamps.length > 0 ? 0.9 : apart.length > 0 ? 0.75 : 0.5,
      stopClass: 1,
      // What a gap took is not in the curve; the pieces beside it are as good as ever.
      voids: 'nothing',
    };
  },
};

/** Pieces of the two clocks' alignment that this pull lies in; none where nothing was aligned by speed. */
function coveringPieces({ alignment, from, to }: Pick<PullScene, 'alignment' | 'from' | 'to'>): readonly ClockPiece[] {
  return alignment.by === 'speed' ? alignment.pieces.filter((piece) => piece.from < to && piece.to > from) : [];
}

/**
 * What the growth of a tyre with its speed, and its creep, can make of the rate of two clocks aligned by speed [1], and how many standard uncertainties a
 * rate must be beyond that. Less than that cannot be told from a tyre: 500 ppm are a hundredth of a second in a pull.
 *
 * @source our default: alignments of clean pulls by their speeds alone show up to some thousand ppm
 */
const TYRE = { rate: 4.5e-3, uncertainties: 4 } as const;

function isFarOff({ rate, rateUncertainty }: ClockPiece, limits: Limits): boolean {
  return Math.abs(rate) > limits['clock.rate'].value + TYRE.rate + TYRE.uncertainties * rateUncertainty;
}

/** Where a log was interrupted, once per log. */
function breaksOf(scene: PullScene): readonly FaultWindow[] {
  const seen = new Set<string>();
  const found: FaultWindow[] = [];
  for (const { file, times, pieces } of scene.record.tracks) {
    for (let k = 1; k < pieces.length; k++) {
      const [from, to] = [times[pieces[k - 1].to - 1], times[pieces[k].from]];
      const key = `${file} ${from}`;
      if (seen.has(key) || to < scene.from - NEAR || from > scene.to + NEAR) continue;
      seen.add(key);
      found.push(windowOf(scene, { from, to }));
    }
  }
  return found.sort((a, b) => a.from - b.from);
}

/** A finding of the roller's log is on the record's clock, one of the engine's nearly so once it is moved by the alignment. */
function touches(
  scene: PullScene,
  place: { readonly from?: number; readonly to?: number; readonly file?: string } | undefined,
): boolean {
  if (place?.from === undefined) return false;
  const roller = scene.record.tracks[0]?.file;
  const { offset, rate } = scene.alignment.pieces[0] ?? { offset: 0, rate: 0 };
  const onRecord = (t: number): number => (place.file === roller ? t : (t - offset) / (1 + rate));
  return onRecord(place.to ?? place.from) >= scene.from - NEAR && onRecord(place.from) <= scene.to + NEAR;
}
