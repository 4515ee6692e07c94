/** What a published text says of correcting the power of a pressure-charged engine. Data for a verdict, no computation. */
export interface BoostStatement {
  readonly text: string;
  readonly says: string;
  readonly boostedSpark: 'claimed' | 'excluded' | 'caution';
  readonly status: string;
}

/** @source each row names its own */
export const BOOST_STATEMENTS: readonly BoostStatement[] = [
  {
    text: 'SAE J245 (1971), scope',
    says: 'all spark-ignition engines except turbocharged ones, for lack of definitive correction data',
    boostedSpark: 'excluded',
    status: 'abstract seen',
  },
  {
    text: 'ISO 1585:1992, scope',
    says: 'naturally aspirated and pressure-charged spark- and compression-ignition engines of road vehicles',
    boostedSpark: 'claimed',
    status: 'scope seen',
  },
  {
    text: 'SAE J1349 (2011), field of application',
    says: 'naturally aspirated and pressure-charged engines, with and without charge-air cooling; not aircraft or marine',
    boostedSpark: 'claimed',
    status: 'abstract seen',
  },
  {
    text: 'SAE committee rationale for revising J1349',
    says: 'the diesel factors were rarely used and no longer suit engines under modern closed-loop control',
    boostedSpark: 'caution',
    status: 'annotation seen on a mirror; that closed-loop control breaks a classical factor is our reading',
  },
  {
    text: 'control of absolute manifold pressure',
    says: 'ambient pressure hardly reaches the filling, so every pressure term corrects too much; show the observed value with its conditions, or a temperature-only one',
    boostedSpark: 'excluded',
    status:
      'reasoning; common practice, no source; parallel in UN R85 (temperature exponent zero with automatic intake heating) from memory',
  },
];
