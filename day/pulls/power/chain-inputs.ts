import { median } from '../../../core/numerics/index.ts';
import { type Finding, type Measured, measured } from '../../../core/quantities/index.ts';
import type { EngineFacts, RollerFacts, VehicleFacts } from '../facts.ts';
import type { LossModel } from '../losses/loss-model.ts';
import type { ForceZero } from '../rolls/force-zero.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { ChainInputs } from './chain.ts';
import type { Stated, UncertainInputs } from './influences.ts';
import { ASSUMED_SLIP, type SlipReference } from './signals.ts';

/** Defaults of ours for what nobody stated; each is shown and can be replaced by a fact. Mean and standard uncertainty. */
export const DEFAULTS = {
  /** @source common practice, no source: cell calibration about 0.5 % */
  forceCalibration: 0.005,
  /** @source common practice, no source: speed about 0.1 % */
  speedCalibration: 0.001,
  /** Driven wheels, shafts and axle as a mass at the tyre [kg]. @source common practice, no source */
  wheelMass: measured(25, 12),
  /** Crank, flywheel, clutch [kg·m²]. @source common practice, no source */
  engineInertia: measured(0.15, 0.08),
  /**
   * What a tyre loses beyond its coasting loss while it carries the pull, as a share of its power [1]: not known, between nothing and
   * half a percent; more with tighter straps than in the coast-down. @source common practice, no source
   */
  loadLoss: measured(0, 0.003),
  /** Share of torque lost in the meshes [1]. @source common practice, no source: 1–2 % a mesh, two or three meshes */
  torqueLoss: measured(0.04, 0.015),
} as const;

export interface ChainFacts {
  readonly vehicle: VehicleFacts;
  readonly engine: EngineFacts;
  readonly roller: RollerFacts;
}

export interface ChainSetting {
  readonly inputs: ChainInputs;
  readonly known: UncertainInputs;
  readonly findings: readonly Finding[];
}

/** Puts facts, defaults, losses and zero together into what the chain needs; every default that a claimed figure rests on is a finding. */
export function chainSetting(
  facts: ChainFacts,
  found: {
    side: RollSide;
    zero: ForceZero;
    losses: LossModel | undefined;
    reference: SlipReference | undefined;
    /** As seen along the pull [1]. */
    slip: Float64Array;
  },
): ChainSetting {
  const { side, zero, losses, reference } = found;
  const wheel = wheelMass(facts.vehicle, reference);
  const converter = reference && facts.vehicle.transmission === undefined ? unexplainedSlip(found.slip) : 0;
  const engine = stated(facts.engine.inertia, DEFAULTS.engineInertia, 'engine inertia');
  const meshes = stated(facts.vehicle.torqueLoss, DEFAULTS.torqueLoss, 'loss in the meshes');
  const known: UncertainInputs = {
    forceCalibration: share(side.forceKind === 'none' ? 0 : facts.roller.forceCalibration, DEFAULTS.forceCalibration),
    forceZero: {
      value: measured(0, side.forceKind === 'none' ? 0 : zero.zero.standardUncertainty),
      origin: zero.origin,
      own: zero.own,
    },
    speedCalibration: share(facts.roller.speedCalibration, DEFAULTS.speedCalibration),
    rollMass: { value: side.mass, origin: side.massOrigin },
    wheelMass: wheel,
    engineInertia: engine,
    loadLoss: { value: DEFAULTS.loadLoss, origin: 'cannot be seen in a coast-down: our default' },
    torqueLoss: meshes,
    slip: {
      value: measured(
        0,
        reference
          ? Math.hypot(slipSpread(reference, side), converter / Math.sqrt(3))
          : ASSUMED_SLIP.standardUncertainty,
      ),
      origin: reference?.origin ?? 'slip cannot be seen: 1.5 ± 0.8 % taken, our default',
    },
    coastMass: losses?.coastMass ?? 0,
    lossSpread: losses && { spread: losses.spread, origin: losses.origin },
  };
  const inputs: ChainInputs = {
    rollMass: side.mass.value,
    wheelMass: wheel.value.value,
    rollingLoss: losses?.force,
    loadLoss: DEFAULTS.loadLoss.value,
    torqueLoss: meshes.value.value,
    engineInertia: engine.value.value,
    forceGain: 1,
    forceShift: 0,
    speedGain: 1,
    slipShift: 0,
  };
  const taken = losses ? [wheel, engine, meshes] : [];
  return { inputs, known, findings: [...taken.flatMap((part) => part.finding ?? []), ...converterFindings(converter)] };
}

/** Uncertainty of the reference over a pull: of the ratio, and of the growth at two thirds of the top speed (mean square over the range). */
function slipSpread({ spread, growthSpread }: SlipReference, { speed }: RollSide): number {
  let top = 0;
  for (const v of speed) if (v > top) top = v;
  return Math.hypot(spread, growthSpread * (0.67 * top) ** 2);
}

/** Most that an ordinary tyre slips at full load [1]. @source common practice, no source: elastic creep 0.5–3 % */
const ORDINARY_SLIP = 0.02;

/** What is seen beyond an ordinary tyre's slip in the middle of the pull [1]: with an unknown transmission it may be a converter's. */
function unexplainedSlip(slip: Float64Array): number {
  const middle = median(slip, 'skip');
  return Number.isFinite(middle) ? Math.max(0, middle - ORDINARY_SLIP) : 0;
}

function converterFindings(unexplained: number): readonly Finding[] {
  if (unexplained === 0) return [];
  const percent = (share: number): string => (100 * share).toFixed(1);
  return [
    {
      kind: 'transmission-not-stated',
      weight: 'doubt',
      message: `engine and roll differ by ${percent(ORDINARY_SLIP + unexplained)} %, a tyre slips up to about ${percent(ORDINARY_SLIP)} %: if there is a converter, wheel and engine power are too high by part of the rest; state the transmission`,
      numbers: { unexplained, limit: ORDINARY_SLIP },
      rule: 'ordinary tyre slip, common practice, no source',
    },
  ];
}

interface Filled extends Stated {
  readonly finding?: Finding;
}

function stated(fact: Measured | undefined, fallback: Measured, name: string): Filled {
  if (fact && fact.standardUncertainty > 0) return { value: fact, origin: 'stated with its uncertainty' };
  if (fact) {
    const relative = fallback.standardUncertainty / fallback.value;
    return {
      value: measured(fact.value, Math.abs(fact.value) * Math.min(0.1, relative)),
      origin: 'stated without an uncertainty: 10 % taken, our default',
    };
  }
  return { value: fallback, origin: 'not stated: our default', finding: assumed(name, fallback) };
}

function wheelMass(vehicle: VehicleFacts, reference: SlipReference | undefined): Filled {
  const radius =
    vehicle.tyreRadius?.value ??
    (vehicle.overallRatio && reference ? vehicle.overallRatio.value / reference.ratio : undefined);
  const inertia = vehicle.wheelInertia;
  if (!inertia || radius === undefined) return { ...stated(undefined, DEFAULTS.wheelMass, 'inertia of the wheels') };
  const scale = 1 / (radius * radius);
  const relative = inertia.standardUncertainty > 0 ? inertia.standardUncertainty / inertia.value : 0.1;
  return {
    value: measured(inertia.value * scale, inertia.value * scale * relative),
    origin:
      inertia.standardUncertainty > 0
        ? 'stated with its uncertainty'
        : 'stated without an uncertainty: 10 % taken, our default',
  };
}

function share(fact: number | undefined, fallback: number): Stated {
  return fact === undefined
    ? {
        value: measured(1, fallback),
        origin: `not stated: ${(100 * fallback).toFixed(1)} % taken, common practice, no source`,
      }
    : { value: measured(1, fact), origin: 'stated' };
}

function assumed(name: string, value: Measured): Finding {
  return {
    kind: 'assumed-value',
    weight: 'note',
    message: `missing ${name}: ${value.value} ± ${value.standardUncertainty} (SI) taken for the engine figure, our default`,
    numbers: { value: value.value, standardUncertainty: value.standardUncertainty },
    rule: 'common practice, no source',
  };
}
