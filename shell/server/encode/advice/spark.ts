import { PLUG_RULE, PLUG_TIP, type PlugRange } from '../../../../core/physics/index.ts';
import { formatQuantity, type Measured } from '../../../../core/quantities/index.ts';
import type { PlugAdvice } from '../../../../day/plans/index.ts';
import type { PlugsView } from '../../../contract/index.ts';
import { plainMeasured } from '../plain.ts';
import { unknownFacts } from '../unknown-facts.ts';

type Told = Extract<PlugAdvice, { kind: 'plugs' }>;

/** What practice says of the plugs, in sentences and numbers; every sentence says that it has no source. */
export function encodePlugs(advice: PlugAdvice): PlugsView {
  if (advice.kind === 'none') {
    const sentence = `No plugs to speak of: ${advice.why}.`;
    return { ...{ rule: PLUG_RULE, sentence, applies: false }, lines: [], cautions: [], unknown: [] };
  }
  const { boost, gap, spark, steps, reach, unknown } = advice;
  const [now, usual] = [plainMeasured(spark?.now), plainMeasured(spark?.usual)];
  return {
    ...{ rule: PLUG_RULE, sentence: sentenceOf(advice), applies: true, boost },
    gap: { now: gap.now.value, stated: gap.stated, usual: { ...gap.usual }, against: gap.against },
    ...(now && usual && { spark: { now, usual } }),
    steps: {
      ...(steps.byBoost && { byBoost: { ...steps.byBoost } }),
      ...(steps.byOutput && { byOutput: { ...steps.byOutput } }),
      ...(steps.fitted !== undefined && { fitted: steps.fitted }),
      ...(steps.against !== undefined && { against: steps.against }),
    },
    ...(reach && { reach: { ...reach } }),
    lines: [gapLine(advice), ...sparkLine(advice), heatLine(advice), reachLine(advice)],
    cautions: [...CAUTIONS],
    unknown: unknownFacts({ missing: unknown, assumed: [] }),
  };
}

/** @source common practice, no source; temperatures from memory */
const CAUTIONS = [
  `The tip has to stay between about ${celsius(PLUG_TIP.low)} and ${celsius(PLUG_TIP.high)}: below it fouls, above it lights the charge by itself (from memory). White, blistered or melted: too hot, too lean or too early; sooty after a clean cut: too cold or too rich.`,
  'Read the plugs after a clean cut at full load, not after idling. No thread may stand in the chamber, and none of the head’s may lie bare.',
] as const;

function celsius(kelvin: number): string {
  return formatQuantity(kelvin, 'temperature', { decimals: 0 });
}

function sentenceOf({ boost, gap }: Told): string {
  const above = boost > 0 ? `${kPa(boost)} above air at sea level` : 'no boost above air at sea level';
  const stands =
    gap.against === 'usual'
      ? 'is usual'
      : `is ${gap.against === 'above' ? 'wider' : 'narrower'} than usual, ${rangeText(gap.usual, mm)} mm`;
  return `${PLUG_RULE.replace('common', 'Common')}, for plugs at ${above}: a gap of ${mm(gap.now.value)} mm${gap.stated ? '' : ' (nobody stated it)'} ${stands}.`;
}

function gapLine({ gap }: Told): string {
  const narrow = gap.against === 'below' ? '; too small a gap quenches the young flame and roughens the idle' : '';
  return `Gap: ${mm(gap.now.value)} mm; usual to begin with ${rangeText(gap.usual, mm)} mm${narrow} (${PLUG_RULE}).`;
}

function sparkLine({ spark, gap }: Told): string[] {
  if (!spark) return ['What the gap does to the spark margin cannot be told: coil unknown, as said beside the limit.'];
  return [
    `Spark margin, computed: ${marginText(spark.now)} with the gap of the step, ${marginText(spark.usual)} with ${mm(gap.usual.high)} mm.`,
  ];
}

function heatLine({ steps: { byBoost, byOutput, fitted, against } }: Told): string {
  if (!byBoost && !byOutput)
    return 'Heat range: cannot be told; state native boost, or native power, of the engine as it was made.';
  const by = [
    ...(byBoost ? [`${rangeText(byBoost, steps)} by added boost (one for each 60 to 80 kPa)`] : []),
    ...(byOutput ? [`${rangeText(byOutput, steps)} by added output (one for each 40 to 50 %)`] : []),
  ].join(', ');
  const stands = {
    usual: 'as usual',
    above: 'more than usual: it may foul',
    below: 'fewer than usual: it may run too hot',
  };
  const there =
    fitted === undefined || against === undefined
      ? 'how much colder those that are fitted are, nobody stated'
      : `fitted are plugs ${fitted} colder, ${stands[against]}`;
  return `Heat range, in steps colder than the plugs the engine was made with: ${by}; ${there} (${PLUG_RULE}).`;
}

function reachLine({ reach }: Told): string {
  if (!reach)
    return 'Reach: cannot be compared; state plug thread and head thread. It must be that of the plugs the engine was made with.';
  const threads = `thread of ${mm(reach.fitted, 1)} mm against ${mm(reach.head, 1)} mm`;
  const words = {
    right: 'right',
    'too long': 'too long: it stands in the chamber, glows, and may meet the piston',
    'too short': 'too short: the thread of the head lies bare in the chamber, and the spark is hidden',
  };
  return `Reach: ${threads}, ${words[reach.verdict]} (${PLUG_RULE}).`;
}

function rangeText({ low, high }: PlugRange, text: (value: number) => string): string {
  const [from, to] = [text(low), text(high)];
  return from === to ? from : `${from} to ${to}`;
}

function steps(value: number): string {
  return value.toFixed(1);
}

function mm(metres: number, decimals = 2): string {
  return formatQuantity(metres, 'length', { unit: false, decimals });
}

function kPa(value: number): string {
  return formatQuantity(value, 'pressure-difference', { decimals: 0 });
}

function marginText({ value, standardUncertainty }: Measured): string {
  const sign = value < 0 ? '−' : '+';
  return `${sign}${Math.abs(100 * value).toFixed(0)} ± ${(200 * standardUncertainty).toFixed(0)} %`;
}
