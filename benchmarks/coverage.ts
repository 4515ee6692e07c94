import { type Claim, coverageOf, POWERS } from '../scenarios/testing/coverage.ts';
import { type CoverageKind, coverageClaims } from '../scenarios/testing/coverage-days.ts';

/**
 * How often the claimed bands contain the truth: invented days with drawn instruments, half of each kind.
 *
 *     node benchmarks/coverage.ts [DAYS] [FIRST SEED]      200 days from seed 0 unless told; about six minutes
 */
const days = Number(process.argv[2] ?? 200);
const first = Number(process.argv[3] ?? 0);
const range = { from: first, to: first + Math.ceil(days / 2) };
const byKind: Readonly<Record<CoverageKind, readonly Claim[]>> = {
  plateau: coverageClaims('plateau', range),
  simple: coverageClaims('simple', range),
};

const percent = (share: number, digits: number): string => `${(100 * share).toFixed(digits)} %`.padStart(9);

console.log('days     power    days  claims   covered   rms error/u   mean error   mean u');
for (const [name, claims] of [...Object.entries(byKind), ['both', Object.values(byKind).flat()] as const]) {
  for (const power of POWERS) {
    const found = coverageOf(claims.filter((claim) => claim.power === power));
    console.log(
      `${name.padEnd(9)}${power.padEnd(7)}${String(found.days).padStart(6)}${String(found.claims).padStart(8)} ${percent(found.covered, 1)}${found.rootMeanSquare.toFixed(2).padStart(14)} ${percent(found.meanError, 2).padStart(12)}${percent(found.meanSpread, 2)}`,
    );
  }
}
const scatter = Math.sqrt((0.95 * 0.05) / days);
console.log(
  `Claims of one day share its instruments: about ${days} of them are independent, so 95 % scatters by ±${(100 * scatter).toFixed(1)} % (one standard deviation).`,
);
