import type { Rig } from '../rig/rig.ts';
import type { InstrumentErrors } from '../truth.ts';
import type { BuiltDecoy, Decoy } from './decoys.ts';
import type { Hall } from './hall.ts';
import type { Nature } from './nature.ts';
import type { VirtualOptions } from './options.ts';
import type { VirtualEntry } from './plan.ts';
import type { VirtualRun } from './run.ts';

/** A day drawn and not yet run. luck: spread of a pull [1]; warming [K], falling [Pa] per entry; faultPull: number of the pull of the fault. */
export interface Day {
  readonly options: VirtualOptions;
  readonly nature: Nature;
  readonly hall: Hall;
  readonly rig: Rig;
  readonly errors: InstrumentErrors;
  readonly plan: readonly VirtualEntry[];
  readonly clean: VirtualRun;
  readonly luck: number;
  readonly warming: number;
  readonly falling: number;
  readonly faultPull: number;
  readonly decoys: readonly { readonly name: Decoy; readonly built: BuiltDecoy }[];
}
