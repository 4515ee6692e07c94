import type { ReliabilityBin } from '../day/verdicts/weighing/calibration.ts';

const SIZE = 420;
const EDGE = 50;
const SIDE = SIZE - 2 * EDGE;

/** A reliability diagram as SVG: probability told against the share that was right, with 95 % intervals and the number of claims of each bin. */
export function reliabilityDrawing(bins: readonly ReliabilityBin[], title: string): string {
  const x = (share: number): string => (EDGE + share * SIDE).toFixed(1);
  const y = (share: number): string => (SIZE - EDGE - share * SIDE).toFixed(1);
  const ticks = [0, 0.25, 0.5, 0.75, 1];
  const marks = bins.flatMap(({ told, right, low, high, claims }) => [
    `<line x1="${x(told)}" y1="${y(low)}" x2="${x(told)}" y2="${y(high)}" stroke="#5b6b7a" stroke-width="2"/>`,
    `<circle cx="${x(told)}" cy="${y(right)}" r="4" fill="#1d4e89"/>`,
    `<text x="${x(told)}" y="${(Number(y(high)) - 5).toFixed(1)}" font-size="9" text-anchor="middle" fill="#444">${claims}</text>`,
  ]);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE}" height="${SIZE}" viewBox="0 0 ${SIZE} ${SIZE}" font-family="sans-serif" role="img">`,
    `<title>${title}</title>`,
    `<rect width="${SIZE}" height="${SIZE}" fill="#fff"/>`,
    `<rect x="${EDGE}" y="${EDGE}" width="${SIDE}" height="${SIDE}" fill="none" stroke="#999"/>`,
    `<line x1="${x(0)}" y1="${y(0)}" x2="${x(1)}" y2="${y(1)}" stroke="#999" stroke-dasharray="4 4"/>`,
    ...ticks.map(
      (tick) =>
        `<text x="${x(tick)}" y="${SIZE - EDGE + 16}" font-size="10" text-anchor="middle">${tick}</text><text x="${EDGE - 6}" y="${y(tick)}" font-size="10" text-anchor="end" dominant-baseline="middle">${tick}</text>`,
    ),
    ...marks,
    `<text x="${SIZE / 2}" y="${SIZE - 12}" font-size="12" text-anchor="middle">probability told</text>`,
    `<text x="14" y="${SIZE / 2}" font-size="12" text-anchor="middle" transform="rotate(-90 14 ${SIZE / 2})">share that was right</text>`,
    `<text x="${SIZE / 2}" y="26" font-size="10" text-anchor="middle">${title}</text>`,
    '</svg>\n',
  ].join('\n');
}
