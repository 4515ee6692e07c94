import type { PartsFacts } from '../../../day/pulls/index.ts';
import { type Field, SECTIONS } from '../../store/index.ts';
import type { FactRow } from './fact-table.ts';

type Part = keyof PartsFacts;

/** Where a part stands in the form: subjects in the order of the way from the air to the wheels. */
const GROUPS: Readonly<Record<string, readonly Part[]>> = {
  'Parts: cylinder': [
    'bore',
    'stroke',
    'rodLength',
    'compressionRatio',
    'inletCloses',
    'fuel',
    'octane',
    'ethanolShare',
    'fuelComposition',
    'heatingValue',
  ],
  'Parts: charge air': [
    ...(['compressorMap', 'compressorWheel', 'turbineArea', 'turbineEfficiency', 'ratedAirFlow'] as const),
    ...(['compressors', 'compressorTipLimit', 'compressorSpeedMargin'] as const),
    ...(['inletLoss', 'coolerLoss', 'coolerEffectiveness', 'exhaustLoss'] as const),
    ...(['coolerKind', 'coolerWater', 'coolerIce', 'coolerWaterTemperature', 'coolerPumpFlow'] as const),
    'coolerTimeConstant',
  ],
  'Parts: fuel': [
    ...(['injectors', 'injectorFlow', 'injectorPressure', 'injectorDeadTime', 'largestDuty'] as const),
    ...(['fuelPumpFlow', 'fuelPumpPressure', 'fuelPumpVoltage', 'fuelPumpFreeFlow'] as const),
  ],
  'Parts: spark': [
    ...(['plugGap', 'electrodes', 'sparkVoltage', 'coilVoltage', 'dwell', 'coilResistance', 'coilInductance'] as const),
    ...(['coilCapacitance', 'coilTransfer', 'largestCoilDuty', 'sparksPerCycle'] as const),
    ...(['plugThread', 'headThread', 'plugStepsColder', 'nativeBoost', 'nativePower'] as const),
  ],
  'Parts: loads': [
    ...(['headLiftPressure', 'clampForce', 'sealDiameter'] as const),
    ...(['reciprocatingMass', 'rodCompression', 'rodTension', 'rodBolts', 'rodBoltPreload'] as const),
    ...(['shankDepth', 'shankWidth', 'shankFlange', 'shankWeb', 'shankYield'] as const),
    ...(['bigEndDiameter', 'bigEndWidth', 'bearingLoadLimit', 'peakPressureLimit'] as const),
    ...(['pistonSpeedLimit', 'valveFloatSpeed', 'beltSpeedLimit'] as const),
  ],
  'Parts: heat': ['exhaustTemperatureLimit', 'chargeTemperatureLimit'],
  'Parts: contact': [
    ...(['strapForce', 'strapCount', 'strapAngle', 'strapPlanAngle', 'strapRating', 'axleLoadLimit'] as const),
    ...(['grip', 'treadTemperature', 'gripKnee', 'gripPerKelvin'] as const),
  ],
};

const WHEN_UNKNOWN: Partial<Record<Part, string>> = {
  compressorMap: 'Turbocharger speed and its limits are not predicted.',
  headLiftPressure: 'The clamp is worked out from preload and sealed diameter; without those it is not judged.',
  sparkVoltage: 'Worked out from the coil and its dwell where those are stated; else a wide prior.',
  fuelPumpFlow: 'Fuel supply is not judged, unless fuel pressure fell in a pull.',
  fuelPumpPressure: 'The flow is taken as that at the rail pressure of full load.',
  fuelPumpVoltage: 'The flow is taken as that at the voltage of the day.',
  chargeTemperatureLimit: 'Charge temperature is shown, not judged; its cost shows in knock and power.',
  peakPressureLimit: 'Where neither lift pressure nor clamp is stated, a usual value with a wide spread is taken.',
  valveFloatSpeed: 'Valve float is not judged.',
  beltSpeedLimit: 'The drive belt is not judged.',
  compressors: 'One is taken.',
  coolerKind: 'Air to air, unless something is said of its water.',
  coolerIce: 'None is taken.',
  coolerWaterTemperature: 'As warm as the air outside.',
  coolerTimeConstant:
    'A usual value; with a tank that of a small radiator in the loop, which warms iced water in the pauses.',
  coolerPumpFlow: 'Enough is taken: the effectiveness holds.',
  sparksPerCycle: 'One coil per cylinder is taken.',
  electrodes: 'Anywhere between new and worn.',
  treadTemperature: 'Grip is taken as stated, whatever the tread.',
  gripKnee: 'Grip is taken as stated, whatever the tread.',
  gripPerKelvin: 'Grip is taken as stated, whatever the tread.',
  fuelComposition: 'The named fuel is taken.',
  heatingValue: '2.95 MJ for each kilogram of air that the fuel needs: common practice, no source.',
  plugThread: 'Reach is not compared.',
  headThread: 'Reach is not compared.',
  plugStepsColder: 'The usual heat range is told, not compared with the plugs that are fitted.',
  nativeBoost: 'Heat range goes by the power of the engine as it was made; without that too nothing is said of it.',
  nativePower: 'Heat range goes by the boost of the engine as it was made; without that too nothing is said of it.',
  strapCount: 'What the straps must pull down is told for all together, not for each.',
  strapAngle: 'What the straps must pull down is told for all together, not for each.',
  strapPlanAngle: 'How much the straps take up under drive is not told.',
  strapRating: 'Straps and anchors are not compared with their rating.',
  axleLoadLimit: 'No more is called sensible than the axle’s own load once again.',
  rodCompression: 'Worked out from the shank where its section is stated; else not judged.',
  rodTension: 'Worked out from the preload of the bolts where it is stated; else not judged.',
  rodBoltPreload: 'Tension of the rods is judged only by a stated limit.',
  shankDepth: 'Compression of the rods is judged only by a stated limit.',
};

const PRIOR = 'A usual value with a wide spread stands in; “What comes first?” says which.';

/** The parts in the form of facts: which limit comes first depends on them. */
export const PART_ROWS: readonly FactRow[] = Object.entries(GROUPS).flatMap(([group, names]) =>
  names.map((name) => ({
    ...{ path: `parts.${name}`, group, short: false },
    ...{ title: SECTIONS.parts[name].about.replace(/\.$/, ''), example: String(SECTIONS.parts[name].example) },
    form: formOf(SECTIONS.parts[name]),
    whenUnknown: WHEN_UNKNOWN[name] ?? PRIOR,
    ...limitsOf(SECTIONS.parts[name]),
  })),
);

function formOf({ form }: Field): FactRow['form'] {
  switch (form.form) {
    case 'measured':
    case 'plain':
      return { kind: 'quantity', quantity: form.kind };
    case 'choice':
      return { kind: 'choice', choices: form.options.map((value) => ({ value, title: value })) };
    case 'whole':
      return { kind: 'count' };
    case 'falling':
    case 'text':
    case 'date':
    case 'clock':
      return { kind: 'text' };
  }
}

function limitsOf({ form }: Field): Pick<FactRow, 'above' | 'most'> {
  if (form.form !== 'measured' && form.form !== 'plain') return {};
  const { above, to } = form.limits;
  return { ...(above === undefined ? {} : { above }), ...(to === undefined ? {} : { most: to }) };
}
