import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import type { EntryResult, PullResult } from '../../../day/pulls/index.ts';
import { type EntryReport, peakText, pullSentence, withBand } from '../../../day/reports/index.ts';
import { findingLines, refusalText } from './findings.ts';
import { textTable, wrapped } from './table.ts';

export interface TextStyle {
  readonly width: number;
  readonly system: UnitSystem;
}

/** One entry in full: its sentence, every pull with its lines and budget, losses, clocks, air, findings. */
export function entryText({ facts, result, sentence, questions }: EntryReport, style: TextStyle): string {
  const head = [facts.title ?? facts.id, wrapped(sentence, style.width)];
  const asked = questions.flatMap(({ file, proposals }) =>
    proposals.map(({ column, question }) =>
      wrapped(`? ${file}, ${column}: ${question ?? 'what is it?'}`, style.width, '  '),
    ),
  );
  const open = asked.length > 0 ? ['', 'To be decided (--column "NAME = MEANING, UNIT")', ...asked] : [];
  if (!result) return [...head, ...open].join('\n');
  const pulls = result.pulls.flatMap((pull, i) => [
    '',
    ...pullLines(pull, result.pulls.length > 1 ? i + 1 : undefined, style),
  ]);
  return [
    ...head,
    ...open,
    ...pulls,
    ...clockLines(result),
    ...airLines(result, style),
    ...findingBlock(result, style),
  ].join('\n');
}

function pullLines(pull: PullResult, number: number | undefined, style: TextStyle): readonly string[] {
  const lines = number === undefined ? [] : [wrapped(pullSentence(pull, number), style.width)];
  if (pull.refusal) return [...lines, refusalText(pull.refusal)];
  return [
    ...lines,
    ...gearLines(pull, style),
    ...peakLines(pull, style),
    '',
    ...chainLines(pull, style),
    '',
    ...budgetLines(pull, style),
    ...pull.curve.missing.map((text) => wrapped(`· ${text}`, style.width, '  ')),
  ];
}

function gearLines({ segment }: PullResult, { system }: TextStyle): readonly string[] {
  const { fromTime, toTime, lowSpeed, highSpeed, gear, reason, lowEngineSpeed, highEngineSpeed } = segment;
  const speeds = `${formatQuantity(lowSpeed, 'speed', { system, unit: false })}–${formatQuantity(highSpeed, 'speed', { system })}`;
  const engine =
    lowEngineSpeed === undefined || highEngineSpeed === undefined
      ? ''
      : `, ${formatQuantity(lowEngineSpeed, 'engine-speed', { unit: false })}–${formatQuantity(highEngineSpeed, 'engine-speed')}`;
  return [
    `  ${fromTime.toFixed(1)}–${toTime.toFixed(1)} s, ${speeds}${engine}${gear === undefined ? '' : `, gear ${gear}`}`,
    `  full load because: ${reason}`,
  ];
}

function peakLines({ peaks, curve }: PullResult, { system }: TextStyle): readonly string[] {
  const basis = { curve: `at ${curve.bandwidth.toFixed(1)} Hz`, 'one second': 'over 1 s', samples: 'single samples' };
  return peaks.map((peak) => `  peak ${peak.what.padEnd(16)} ${peakText(peak, system)}  (${basis[peak.basis]})`);
}

function chainLines({ curve, peaks }: PullResult, { system }: TextStyle): readonly string[] {
  const at = bestPoint(curve, peaks);
  const watts = (series: Float64Array): string => formatQuantity(series[at] ?? Number.NaN, 'power', { system });
  const rows = [
    ['brake or whole force × roll speed', watts(curve.brakePower)],
    ['+ accelerating the rolls', watts(curve.rollInertiaPower)],
    ['= roll power', watts(curve.rollPower)],
    [
      `+ slip ${formatQuantity(curve.slip[at] ?? Number.NaN, 'fraction')}`,
      difference(curve.tyrePower, curve.rollPower),
    ],
    ['= wheel power', watts(curve.tyrePower)],
    ['+ rolling loss', watts(curve.rollingLossPower)],
    ['+ accelerating the wheels', watts(curve.wheelInertiaPower)],
    ['+ loss in the meshes', watts(curve.torqueLossPower)],
    ['+ accelerating the engine', watts(curve.engineInertiaPower)],
    ['= engine power', watts(curve.enginePower)],
    ...(curve.rule === 'none' ? [] : [[`× ${curve.rule} ${curve.factor.toFixed(4)}`, watts(curve.correctedPower)]]),
  ];
  function difference(a: Float64Array, b: Float64Array): string {
    return formatQuantity((a[at] ?? Number.NaN) - (b[at] ?? Number.NaN), 'power', { system });
  }
  const where = formatQuantity(curve.engineSpeed[at] ?? Number.NaN, 'engine-speed');
  return [textTable([{ heading: `the chain at ${where}` }, { heading: 'power', align: 'right' }], rows)].map(indented);
}

/** The point of the highest power that is furthest up the chain. */
function bestPoint(curve: PullResult['curve'], peaks: PullResult['peaks']): number {
  const order = ['engine power', 'wheel power', 'roll power'];
  const peak = order.flatMap((what) => peaks.find((one) => one.what === what && one.basis === 'curve') ?? [])[0];
  return Math.max(
    0,
    curve.time.findIndex((time) => time === peak?.time),
  );
}

function budgetLines({ budget }: PullResult, { system }: TextStyle): readonly string[] {
  const watts = (value: number): string => formatQuantity(value, 'power', { system, decimals: 2 });
  const rows = budget.map(({ name, roll, tyre, engine, sharing, origin }) => [
    name,
    watts(roll),
    watts(tyre),
    watts(engine),
    sharing,
    origin,
  ]);
  const columns = [
    { heading: 'uncertainty (1 standard deviation)' },
    { heading: 'roll', align: 'right' as const },
    { heading: 'wheel', align: 'right' as const },
    { heading: 'engine', align: 'right' as const },
    { heading: 'between pulls' },
    { heading: 'from', most: 70 },
  ];
  return [indented(textTable(columns, rows))];
}

function clockLines({ alignment }: EntryResult): readonly string[] {
  if (!alignment || alignment.by === 'same clock') return [];
  const pieces = alignment.pieces.map(
    ({ offset, rate, residual, offsetUncertainty }) =>
      `  offset ${offset.toFixed(3)} ± ${(2 * offsetUncertainty).toFixed(3)} s, rate ${(1e6 * rate).toFixed(0)} ppm, residual ${(1000 * residual).toFixed(1)} ms`,
  );
  const second = alignment.second
    ? `; second-best peak ${alignment.second.correlation.toFixed(3)} at ${alignment.second.lag.toFixed(2)} s`
    : '';
  return ['', `Clocks joined by ${alignment.by}, correlation ${alignment.correlation.toFixed(4)}${second}`, ...pieces];
}

function airLines({ conditions }: EntryResult, { system, width }: TextStyle): readonly string[] {
  const { temperature, pressure, vapourPressure } = conditions;
  const known = [
    temperature &&
      `${withBand(temperature.value, temperature.standardUncertainty, { kind: 'temperature', system })} (${conditions.origin.temperature})`,
    pressure &&
      `${withBand(pressure.value, pressure.standardUncertainty, { kind: 'barometric-pressure', system })} (${conditions.origin.pressure})`,
    vapourPressure &&
      `vapour ${withBand(vapourPressure.value, vapourPressure.standardUncertainty, { kind: 'barometric-pressure', system })} (${conditions.origin.humidity})`,
  ].filter((part) => part !== undefined);
  const rows = conditions.factors.map(({ rule, factor, standardUncertainty, valid, why }) => [
    rule,
    factor === undefined
      ? '–'
      : `${factor.toFixed(4)}${standardUncertainty === undefined ? '' : ` ± ${(2 * standardUncertainty).toFixed(4)}`}`,
    valid ? 'within its limits' : 'not valid here',
    why,
  ]);
  return [
    '',
    wrapped(`Air: ${known.length > 0 ? known.join(', ') : 'unknown'}`, width, '  '),
    indented(
      textTable(
        [
          { heading: 'ambient rule' },
          { heading: 'factor', align: 'right' },
          { heading: 'validity' },
          { heading: 'why', most: 110 },
        ],
        rows,
      ),
    ),
  ];
}

function findingBlock(result: EntryResult, { width }: TextStyle): readonly string[] {
  const findings = [...result.findings, ...result.pulls.flatMap((pull) => pull.findings)];
  const seen = new Set<string>();
  const once = findings.filter(({ message }) => !seen.has(message) && seen.add(message));
  return once.length > 0 ? ['', 'Findings', ...findingLines(once, width)] : [];
}

function indented(text: string): string {
  return text.replaceAll(/^/gm, '  ');
}
