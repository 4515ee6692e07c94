/** A stretch of the joined record: what the engine was asked to do. Times in s on the record's clock, indices into its grid. */
export interface Segment {
  readonly kind: 'full-load' | 'hold' | 'coast-down' | 'overrun' | 'part-load' | 'standstill';
  readonly from: number;
  readonly to: number;
  readonly fromTime: number;
  readonly toTime: number;
  /** Overall ratio seen: engine speed over roll surface speed [rad/m]; absent when either is unknown. */
  readonly ratio?: number;
  /** Which group of equal ratios, 1 = shortest; absent when it cannot be told. */
  readonly gear?: number;
  readonly lowSpeed: number;
  readonly highSpeed: number;
  /** Engine speed at the ends [rad/s]; absent without an engine speed. */
  readonly lowEngineSpeed?: number;
  readonly highEngineSpeed?: number;
  readonly reason: string;
}
