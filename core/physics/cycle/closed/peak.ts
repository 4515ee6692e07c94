import type { Trace } from './workspace.ts';

/** Peak pressure [Pa] and its crank angle [rad after firing TDC]. */
export interface Peak {
  readonly pressure: number;
  readonly angle: number;
}

/**
 * Highest pressure of a cycle, between the nodes.
 *
 * @source  top of the cubic through values and slopes of pressure at the two nodes around it
 */
export function pressurePeak({ angle, pressure, pressureSlope: slope }: Trace): Peak {
  let top = 0;
  for (let i = 1; i < pressure.length; i++) if (pressure[i] > pressure[top]) top = i;
  const left = slope[top] < 0 ? top - 1 : top;
  const right = left + 1;
  const plain = { pressure: pressure[top], angle: angle[top] };
  if (left < 0 || right >= angle.length || !(slope[left] >= 0 && slope[right] <= 0)) return plain;
  const h = angle[right] - angle[left];
  const rise = pressure[right] - pressure[left];
  const [a, b] = [slope[left] * h, slope[right] * h];
  // derivative of the Hermite cubic over s = 0 … 1: a + 2·c·s + 3·d·s²
  const c = 3 * rise - 2 * a - b;
  const d = a + b - 2 * rise;
  const root = Math.sqrt(Math.max(c * c - 3 * a * d, 0));
  const s = a === 0 ? 0 : a / (root - c);
  if (!(s >= 0 && s <= 1)) return plain;
  return { pressure: pressure[left] + s * (a + s * (c + s * d)), angle: angle[left] + s * h };
}
