import type { Branded } from './branded.ts';

/** Area [m²]. */
export type Area = Branded<'area'>;

/** Area [m²]. @param value number in m² */
export function area(value: number): Area {
  return value as Area;
}
