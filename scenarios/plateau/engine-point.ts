/** What the engine is asked to do and the air it gets. rpm: 1/min; map: kPa; temperature: °C; pressure: kPa; angles: °CA. */
export interface EnginePoint {
  readonly rpm: number;
  readonly map: number;
  readonly ambientTemperature: number;
  readonly ambientPressure: number;
  /** Warming of the intercooler's cooling air [°C]. */
  readonly soak: number;
  readonly preCleaner: boolean;
  readonly phaseA: number;
  readonly phaseB: number;
  /** Timing against the base timing [°CA], advance positive. */
  readonly timing: number;
  /** Extra charge temperature [°C] from a leak or a hot intercooler. */
  readonly extraCharge?: number;
}
