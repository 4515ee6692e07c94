import { clamp } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import type { SimplePlace } from '../simple/draw.ts';
import { fillingOf, GAS } from './air.ts';

/**
 * A turbocharger (several are taken as one). SI. tip: radius of the compressor wheel; best: flow coefficient of its best efficiency [1];
 * turbine, gate: flow capacities [m²]; effectiveness: of the charge cooler [1]; fullShare: speed of full boost over the redline.
 */
export interface Turbo {
  readonly tip: number;
  readonly best: number;
  readonly inertia: number;
  readonly turbine: number;
  readonly gate: number;
  readonly turbineEfficiency: number;
  readonly effectiveness: number;
  readonly coolerDrop: number;
  readonly fullShare: number;
  /** Steady gate opening over the speed as a share of the redline, as a person mapped it. */
  readonly mapped: { readonly share: readonly number[]; readonly open: readonly number[] };
}

/** What the compressor does at a moment. head: J/kg; ratio, efficiency, place (flow over best flow): 1; outlet: K; power: W. */
export interface Compression {
  readonly ratio: number;
  readonly efficiency: number;
  readonly outlet: number;
  readonly power: number;
  readonly place: number;
}

const CP = 1005;
const CP_EXHAUST = 1150;

/** How suddenly the pressure ends near the largest flow. @source our default: a tenth of the flow below it, a third of the head is gone */
const STEEP = 10;

/**
 * Compressor by its wheel: head = ψ(x)·U², with x the flow coefficient over the best one; temperature by the efficiency η(x). throat: narrowest area over that
 * of the wheel's disc [1]; near the flow at which it is choked the head ends, while the work stays.
 *
 *     ṁ = ρ·a·A·((2 + (γ − 1)·(U/a)²)/(γ + 1))^((γ + 1)/(2(γ − 1)))        largest flow of a turning throat
 *
 * @source Euler head with a falling characteristic; the two shapes are our own simple curves, not a measured map. Largest flow: Dixon & Hall, Fluid Mechanics and
 * Thermodynamics of Turbomachinery, choking of an impeller (from memory)
 */
export function compression(
  wheel: { tip: number; best: number; throat?: number },
  { speed, flow, temperature, pressure }: { speed: number; flow: number; temperature: number; pressure: number },
): Compression {
  const rim = Math.max(20, speed * wheel.tip);
  const density = pressure / (GAS * temperature);
  const place = flow / (density * Math.PI * wheel.tip ** 2 * rim) / wheel.best;
  const head = 0.66 * Math.max(-0.2, 1 - (place / 2) ** 4) * rim ** 2;
  const efficiency = clamp(0.75 * (1 - (place > 1 ? 0.5 : 0.3) * (place - 1) ** 2), 0.25, 0.75);
  const sound = Math.sqrt(1.4 * GAS * temperature);
  const largest = density * sound * Math.PI * wheel.tip ** 2 * ((2 + 0.4 * (rim / sound) ** 2) / 2.4) ** 3;
  const left = Math.max(0, 1 - (flow / (largest * (wheel.throat ?? Number.POSITIVE_INFINITY))) ** STEEP);
  const ratio = Math.max(0.6, 1 + (head * left) / (CP * temperature)) ** 3.5;
  const work = Math.max(0.02 * rim ** 2, head) / efficiency;
  return { ratio, efficiency, outlet: temperature + work / CP, power: flow * work, place };
}

/** Exhaust side. upstream: pressure before the turbine [Pa]; power: on the shaft [W]. */
export function expansion(
  turbo: { turbine: number; turbineEfficiency: number },
  {
    flow,
    temperature,
    downstream,
    gateArea,
  }: { flow: number; temperature: number; downstream: number; gateArea: number },
): { readonly upstream: number; readonly power: number } {
  const area = turbo.turbine + gateArea;
  // Ellipse law of Stodola for turbine and gate together.
  const upstream = Math.hypot(downstream, (flow * Math.sqrt(GAS * temperature)) / area);
  const share = turbo.turbine / area;
  const drop = 1 - (downstream / upstream) ** 0.248;
  return { upstream, power: turbo.turbineEfficiency * flow * share * CP_EXHAUST * temperature * drop };
}

type Sized = {
  readonly displacement: number;
  readonly filling: number;
  readonly peakShare: number;
  readonly fall: number;
  readonly redline: number;
  readonly target: number;
  readonly lambdaFull: number;
  readonly stoichiometric: number;
  readonly ignition: 'spark' | 'compression';
};

/** A turbocharger that reaches the target at some share of the redline and whose gate can hold it up to the redline. */
export function sizedTurbo(engine: Sized, place: SimplePlace, chance: Chance): Turbo {
  const effectiveness = chance.between(0.65, 0.82);
  const fullShare = chance.between(0.38, 0.48);
  const flowAt = (share: number): number => {
    const speed = share * engine.redline;
    return (fillingOf(engine, speed) * engine.target * engine.displacement * speed) / (4 * Math.PI * GAS * 322);
  };
  const top = flowAt(0.95);
  const coolerDrop = chance.between(4e3, 9e3) / top ** 2;
  const head = CP * place.temperature * (((engine.target + coolerDrop * top ** 2) / place.pressure) ** (1 / 3.5) - 1);
  const rim = Math.sqrt(head / (0.66 * (1 - (1.15 / 2) ** 4)));
  const density = place.pressure / (GAS * place.temperature);
  const best = 0.11;
  const tip = Math.sqrt(top / (density * Math.PI * best * 1.15 * rim));
  const wheel = { tip, best };
  const turbineEfficiency = chance.between(0.48, 0.58);
  const needAt = (share: number, capacity: (area: number) => { turbine: number; gateArea: number }): number => {
    const flow = flowAt(share);
    const exhaust = flow * (1 + 1 / (engine.lambdaFull * engine.stoichiometric));
    const outlet = engine.target + coolerDrop * flow ** 2;
    const power = neededPower(wheel, {
      flow,
      ratio: outlet / place.pressure,
      temperature: place.temperature,
      pressure: place.pressure,
    });
    const temperature = engine.ignition === 'spark' ? 1130 : 930;
    return bisect((area) => {
      const { turbine, gateArea } = capacity(area);
      const found = expansion(
        { turbine, turbineEfficiency },
        { flow: exhaust, temperature, downstream: place.pressure + 4e3, gateArea },
      );
      return found.power - power;
    });
  };
  const turbine = 0.93 * needAt(fullShare, (area) => ({ turbine: area, gateArea: 0 }));
  const share = [0.3, fullShare, 0.6, 0.7, 0.8, 0.9, 1];
  const areas = share.map((s) => (s <= fullShare ? 0 : needAt(s, (area) => ({ turbine, gateArea: area }))));
  const gate = Math.max(0.35 * turbine, 1.7 * Math.max(...areas));
  return {
    ...wheel,
    inertia: 1.6e-5 * (tip / 0.03) ** 5 * chance.between(0.8, 1.2),
    turbine,
    gate,
    turbineEfficiency,
    effectiveness,
    coolerDrop,
    fullShare,
    mapped: { share, open: areas.map((area) => area / gate) },
  };
}

/** Power the compressor needs for a ratio at a flow [W]: the wheel speed that gives it is searched. */
function neededPower(
  wheel: { tip: number; best: number },
  at: { flow: number; ratio: number; temperature: number; pressure: number },
): number {
  let [low, high] = [100 / wheel.tip, 700 / wheel.tip];
  for (let round = 0; round < 30; round += 1) {
    const speed = (low + high) / 2;
    if (compression(wheel, { ...at, speed }).ratio < at.ratio) low = speed;
    else high = speed;
  }
  return compression(wheel, { ...at, speed: high }).power;
}

/** Capacity [m²] at which a falling excess of power is zero. */
function bisect(excess: (area: number) => number): number {
  let [low, high] = [1e-6, 0.1];
  for (let round = 0; round < 50; round += 1) {
    const middle = Math.sqrt(low * high);
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}
