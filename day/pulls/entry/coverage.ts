import type { Finding } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../channels/index.ts';
import type { JoinedRecord } from '../record.ts';
import { trackOf } from '../rolls/find-track.ts';

/** What cannot be said without which channel. */
const NEEDS: readonly { readonly anyOf: readonly Meaning[]; readonly missing: string; readonly lost: string }[] = [
  {
    anyOf: ['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure'],
    missing: 'no boost channel',
    lost: 'whether the charge pressure was what it should be cannot be said, and powers of two pulls cannot be set against equal manifold pressure',
  },
  {
    anyOf: ['engine-speed'],
    missing: 'no engine speed',
    lost: 'slip, torque and power against engine speed cannot be known',
  },
  { anyOf: ['lambda'], missing: 'no lambda', lost: 'a mixture fault cannot be told from others' },
  { anyOf: ['throttle', 'pedal'], missing: 'no throttle or pedal', lost: 'full load is taken from the force alone' },
];

/** One finding for each thing that this record's channels cannot show. */
export function coverageFindings(record: JoinedRecord): readonly Finding[] {
  return NEEDS.filter(({ anyOf }) => anyOf.every((meaning) => trackOf(record, meaning) === undefined)).map(
    ({ anyOf, missing, lost }) => ({
      kind: 'missing-channel',
      weight: 'note',
      message: `missing channel, ${missing}: ${lost}`,
      numbers: { needs: anyOf.join(', ') },
    }),
  );
}
