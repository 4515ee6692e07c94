import { z } from 'zod';
import { WRITTEN_DAY } from './written-schema.ts';

/** JSON Schema (draft 2020-12) of `day.yaml`, for editors. Units and names are checked on reading only. */
export function daySchema(): object {
  return {
    title: 'A day at the dynamometer',
    description: 'day.yaml: what a person knows about a day. Quantities carry their unit: "0.330 m", "450 ± 4.5 kg".',
    ...z.toJSONSchema(WRITTEN_DAY, { io: 'input' }),
  };
}
