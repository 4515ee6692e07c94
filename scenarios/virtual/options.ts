import type { RollerKind, SimpleEngine } from '../simple/draw.ts';
import type { Level } from './channels.ts';
import type { Decoy } from './decoys.ts';
import type { EngineFault } from './faults.ts';
import type { SensorFault } from './faults-sensors.ts';

/** Everything that can be put into a virtual day on purpose. */
export type VirtualFault = EngineFault | SensorFault;

/** One fault wanted. strength: size over the threshold of the trade [1], 1 when absent; variant: drawn when absent. */
export interface WantedFault {
  readonly fault: VirtualFault;
  readonly strength?: number;
  readonly variant?: string;
}

/**
 * What is wanted; the rest is drawn from the seed. fault, strength: short for one of `faults`. decoys: harmless things that look like faults.
 * level: how much is logged; channels: exactly these on the engine's side; missing: channels left out. rates: Hz, 10 to 500.
 */
export interface VirtualOptions {
  readonly seed: number;
  readonly fault?: VirtualFault;
  readonly strength?: number;
  readonly variant?: string;
  readonly faults?: readonly WantedFault[];
  readonly decoys?: readonly Decoy[];
  readonly level?: Level;
  readonly channels?: readonly string[];
  readonly missing?: readonly string[];
  readonly engine?: Partial<SimpleEngine>;
  readonly roller?: RollerKind;
  readonly altitude?: number;
  readonly rates?: { readonly roller?: number; readonly engine?: number };
  readonly oneFile?: boolean;
  readonly pulls?: number;
  readonly instruments?: 'nominal' | 'drawn';
  readonly noise?: boolean;
}

/** All faults wanted, however they were given. */
export function wantedFaults(options: VirtualOptions): readonly WantedFault[] {
  const { fault, strength, variant } = options;
  const single =
    fault === undefined ? [] : [{ fault, ...(strength ? { strength } : {}), ...(variant ? { variant } : {}) }];
  return [...single, ...(options.faults ?? [])];
}

/** What an engine must be to have a fault. */
const NEEDS: Readonly<Partial<Record<VirtualFault, Partial<SimpleEngine>>>> = {
  'clutch-slip': { transmission: 'manual' },
  'converter-slip': { transmission: 'converter' },
  ...forAll(['ignition-breakup', 'spark-energy', 'knock', 'pre-ignition'], { ignition: 'spark' }),
  ...forAll(['lean-mixture', 'rich-mixture', 'fuel-pressure-drop', 'injector-saturation'], { ignition: 'spark' }),
  ...forAll(['boost-leak', 'boost-overshoot', 'boost-oscillation', 'boost-creep', 'boost-droop'], { boosted: true }),
  ...forAll(['surge', 'compressor-choke', 'turbo-overspeed', 'exhaust-restriction'], { boosted: true }),
};

/** The engine as wanted, able to have every fault wanted. */
export function ableEngine(options: VirtualOptions): Partial<SimpleEngine> {
  const variants = wantedFaults(options).map(({ variant }) => variant);
  const manual = variants.includes('stall') || variants.includes('engine');
  const needed = wantedFaults(options).map(({ fault }) => NEEDS[fault] ?? {});
  return Object.assign({}, ...needed, manual ? { transmission: 'manual' } : {}, options.engine ?? {});
}

function forAll(
  faults: readonly VirtualFault[],
  engine: Partial<SimpleEngine>,
): Partial<Record<VirtualFault, Partial<SimpleEngine>>> {
  return Object.fromEntries(faults.map((fault) => [fault, engine]));
}
