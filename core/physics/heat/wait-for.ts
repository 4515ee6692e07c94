import { answered, type Measured, measured, type Outcome, refused } from '../../quantities/index.ts';
import type { DecayFit } from './decay-fit.ts';

/**
 * Time from the last sample until a temperature is reached, with its standard uncertainty [s].
 *
 *     t = τ·ln((Tlast − Tend)/(T − Tend))
 *
 * 0 ± 0 where it is passed already. Refuses a temperature that the decay does not reach, or reaches only within the uncertainty of its end.
 *
 * @source  JCGM 100:2008, equation 13, with the covariance of the fit
 */
export function waitFor(fit: DecayFit, wanted: number): Outcome<Measured> {
  const [last, end, tau] = [fit.temperature.value, fit.end.value, fit.timeConstant.value];
  const sign = Math.sign(last - end);
  if (sign * (wanted - last) >= 0) return answered(measured(0, 0));
  const left = sign * (wanted - end);
  const numbers = { wanted, end, endUncertainty: fit.end.standardUncertainty };
  if (!(left > 2 * fit.end.standardUncertainty)) {
    return refused({ kind: 'never-reached', message: 'temperature out of reach of this decay', numbers });
  }
  const wait = tau * Math.log((last - end) / (wanted - end));
  const slopes = [tau / (last - end), tau * (1 / (wanted - end) - 1 / (last - end)), wait];
  let variance = 0;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) variance += slopes[i] * slopes[j] * fit.covariance[3 * i + j];
  return answered(measured(wait, Math.sqrt(Math.max(0, variance))));
}
