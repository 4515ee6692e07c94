import { against, type Detector, type Feature, informs, strengthOf, windowOf, within } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { burstsOf } from '../../evidence/bursts.ts';
import { type CoilSupply, coilSupply } from '../../evidence/coil.ts';
import { unlitFirings } from '../../evidence/unlit.ts';
import type { PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/** Why nothing of the spark is judged. */
export const NO_SPARK = 'compression ignition has no spark';

/** Earlier pulls looked at. @source our default */
const EARLIER = 4;

/**
 * Breakup because the coils are fed too little: bursts of misfire where their energy has fallen, by voltage sagging inside the pull or low
 * throughout, by a short dwell, or by a current below what it was. Without bursts a sagging supply is said with less certainty.
 *
 * @source voltage limits: common practice, no source; share of energy: our default
 */
export const sparkEnergy: Detector = {
  fault: 'spark-energy',
  subject: 'spark',
  needs: [],
  sharper: ['coil-current'],
  lookAlikes: ['ignition-breakup', 'lost-sync', 'rev-or-torque-cut', 'lean-mixture'],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: NO_SPARK };
    const supply = coilSupply(scene, limits);
    if (!supply) {
      return {
        why: 'neither battery voltage, dwell nor coil current',
        missing: ['battery-voltage', 'dwell', 'coil-current'],
      };
    }
    const bursts = burstsOf(scene, limits);
    const known = typeof bursts === 'string' ? undefined : bursts;
    const windows = known?.sure ? known.windows : [];
    const shortHere = shortage(scene, limits, { supply, windows });
    const { features, short } = shortHere;
    // Where it is worst, at the end of the pull, the supply may fail although it misfired elsewhere.
    const last = windows.length > 0 && !short ? shortage(scene, limits, { supply, windows: [] }) : undefined;
    if (windows.length > 0 && short) {
      const all = [...features, against(limits, 'roughness.share', known?.share ?? Number.NaN)];
      return {
        windows,
        features: all,
        strength: known?.confirmed ? 0.85 : 0.7,
        stopClass: stopClassOf(shortHere, supply),
        voids: 'power',
      };
    }
    const end = last ?? shortHere;
    // A fall beyond what earlier pulls had is no habit of this car.
    const weak = end.sags || (supply.by.includes('coil-current') && beside(scene));
    const looked = known !== undefined && (known.drive.blind === undefined || unlitFirings(scene).every);
    const fires = looked && windows.length === 0 && end.sags && end.size > MISFIRES;
    const least = last || end.beyondUsual ? 0.6 : 0.5;
    // A supply that fails while nothing misfires yet, or nothing can show it.
    if (weak && end.short)
      return {
        windows: [windowOf(scene, scene)],
        features: end.features,
        strength: fires ? FIRES : strengthOf(end.size, least, 0.75),
        stopClass: stopClassOf(end, supply),
      };
    if (windows.length > 0 && !supply.by.includes('coil-current'))
      return {
        why: 'it misfires with the voltage as usual: whether the coils fill is not logged',
        missing: ['coil-current'],
      };
    return { features };
  },
};

/** A voltage that falls takes the fuel pump with it. Coils that take less current may be hot, or their supply fails, which the pump hangs on as well: without a voltage nobody knows. */
function stopClassOf({ sags }: Shortage, { voltage, by }: CoilSupply): 1 | 2 {
  return sags || (voltage === undefined && by.includes('coil-current')) ? 2 : 1;
}

/** True when earlier pulls say what the coils usually get. */
function beside(scene: PullScene): boolean {
  return besideState(scene, ['spark-energy']).length > 0;
}

/** A voltage that falls by so many times its limit would misfire: where nothing does, the coils have enough, and what hangs on the voltage besides them is looked for; strength then. @source our default */
const MISFIRES = 1.5;
const FIRES = 0.5;

interface Shortage {
  readonly features: readonly Feature[];
  /** Too little energy where it misfires, or at the end of the pull. */
  readonly short: boolean;
  /** The voltage fell by much within the pull, or is too low for a running engine. */
  readonly sags: boolean;
  /** It fell further than in earlier pulls, which are known. */
  readonly beyondUsual: boolean;
  /** The largest of what is short over its limit [1]. */
  readonly size: number;
}

function shortage(
  scene: PullScene,
  limits: Limits,
  { supply, windows }: { supply: CoilSupply; windows: readonly { readonly from: number; readonly to: number }[] },
): Shortage {
  const { times, energy, voltage } = supply;
  const inside = (i: number): boolean =>
    windows.length > 0 ? within(windows, times[i], 0.1) : times[i] > scene.to - 1.5;
  const during = (values: Float64Array): number => middle(values.filter((_, i) => inside(i)));
  const less = 1 - during(energy) / usualEnergy(scene, limits, { supply, inside });
  const features: Feature[] = [against(limits, 'spark-energy.less', less)];
  let [sags, beyondUsual] = [false, false];
  let size = less / limits['spark-energy.less'].value;
  if (voltage) {
    const start = middle(voltage.filter((_, i) => times[i] < scene.from + 1));
    const [now, fall] = [during(voltage), start - during(voltage)];
    features.push(against(limits, 'spark-energy.fall', fall), against(limits, 'spark-energy.voltage', now));
    // An engine whose fans and pumps take as much in every pull has a weak supply, but not a failing one.
    const usual = usualFall(scene, limits, { supply, inside });
    const low = now < limits['spark-energy.voltage'].value;
    const falls = fall >= limits['spark-energy.fall'].value;
    if (Number.isFinite(usual)) {
      const beyond = fall - usual;
      features.push(against(limits, 'spark-energy.fall-beyond', beyond));
      size = Math.max(size, beyond / (2 * limits['spark-energy.fall-beyond'].value));
      beyondUsual = beyond >= limits['spark-energy.fall-beyond'].value;
      sags = (falls || low || windows.length > 0) && beyondUsual;
    } else sags = low || (falls && windows.length > 0);
  }
  if (supply.by.includes('dwell'))
    features.push(informs('energy of the coils against the start', during(energy), 'fraction'));
  return { features, short: sags || less > limits['spark-energy.less'].value, sags, beyondUsual, size };
}

/** Fall of the voltage to the same place of earlier pulls [V]; NaN where none is known. */
function usualFall(
  scene: PullScene,
  limits: Limits,
  { supply, inside }: { supply: CoilSupply; inside: (i: number) => boolean },
): number {
  const places = placesOf(scene, supply, inside);
  return middle(
    besideState(scene, ['spark-energy'])
      .slice(0, EARLIER)
      .flatMap((other) => {
        const there = coilSupply(other, limits);
        if (!there?.voltage) return [];
        const { times, voltage } = there;
        const start = middle(voltage.filter((_, i) => times[i] < other.from + 1));
        return [start - middle(places.map((place) => voltage[Math.round(place * (voltage.length - 1))]))];
      }),
  );
}

/** Places in the pull, 0 … 1, of the samples that are looked at. */
function placesOf(scene: PullScene, { times }: CoilSupply, inside: (i: number) => boolean): readonly number[] {
  return Array.from(times).flatMap((t, i) => (inside(i) ? [(t - scene.from) / (scene.to - scene.from)] : []));
}

/** Energy at the same place of earlier pulls, against the same start; that of this pull's start where there are none: dwell may fall with speed by design. */
function usualEnergy(
  scene: PullScene,
  limits: Limits,
  { supply, inside }: { supply: CoilSupply; inside: (i: number) => boolean },
): number {
  const places = placesOf(scene, supply, inside);
  const levels = besideState(scene, ['spark-energy'])
    .slice(0, EARLIER)
    .flatMap((other) => {
      const there = coilSupply(other, limits);
      if (!there || there.by.join() !== supply.by.join()) return [];
      const values = places.map((place) => there.energy[Math.round(place * (there.energy.length - 1))]);
      // A current that was logged is compared as it is: a coil that is hot from the start on is weak from the start on.
      const starts = supply.start && there.start ? (there.start / supply.start) ** 2 : 1;
      return [middle(values) * starts];
    });
  const usual = middle(levels);
  return Number.isFinite(usual) ? usual : 1;
}
