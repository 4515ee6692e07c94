import type { UnitSystem } from '../../../core/quantities/index.ts';

/** How wide the person's window is and which units they read. */
export interface TextStyle {
  readonly width: number;
  readonly system: UnitSystem;
}
