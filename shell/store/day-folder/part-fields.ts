import type { CoolerKind, Electrodes, FuelName, PartsFacts } from '../../../day/pulls/index.ts';
import { choice, type Fields, measured, POSITIVE, RATIO, type Scale, SHARE, text } from './field.ts';

const FUELS: Readonly<Record<FuelName, true>> = {
  petrol: true,
  'ethanol blend': true,
  methanol: true,
  methane: true,
  LPG: true,
  diesel: true,
};

const ELECTRODES: Readonly<Record<Electrodes, true>> = { new: true, 'fine wire': true, worn: true };

const COOLERS: Readonly<Record<CoolerKind, true>> = { 'air-to-air': true, 'water-to-air': true };

/** No cylinder, rod or wheel is longer than this, no plug's gap wider [m]. @source our default: a slip of the unit */
const LONGEST = { part: 2, gap: 0.01 } as const;
const LENGTH: Scale = ['length', ['mm', 'm', 'cm', 'in'], { above: 0, to: LONGEST.part }];
const GAP: Scale = ['length', ['mm', 'm', 'cm', 'in'], { above: 0, to: LONGEST.gap }];
const FORCE: Scale = ['force', ['kN', 'N', 'lbf'], { from: 0 }];
const LOSS: Scale = ['pressure-difference', ['kPa', 'Pa', 'bar', 'psi'], { from: 0 }];
const FLOW: Scale = ['mass-flow', ['g/s', 'kg/s', 'lb/min'], POSITIVE];
const CYLINDER: Scale = ['cylinder-pressure', ['bar', 'MPa', 'kPa', 'Pa', 'psi'], POSITIVE];
const HEAT: Scale = ['temperature', ['°C', 'K', '°F'], POSITIVE];
const ROTATION: Scale = ['engine-speed', ['rpm', 'rad/s'], POSITIVE];
const STEEPNESS: Scale = ['angle', ['°', 'rad'], { from: 0, to: Math.PI / 2 }];
const WATER: Scale = ['mass', ['kg', 'g', 'lb'], POSITIVE];
const PULSE: Scale = ['pulse-width', ['ms', 's'], { from: 0 }];

export const PARTS: Fields<PartsFacts> = {
  bore: measured(LENGTH, 'Cylinder bore.', '83.0 mm'),
  stroke: measured(LENGTH, 'Stroke.', '76.4 mm'),
  rodLength: measured(LENGTH, 'Connecting rod, centre to centre.', '140 mm'),
  compressionRatio: measured(RATIO, 'Geometric compression ratio.', 9.6),
  reciprocatingMass: measured(
    ['mass', ['g', 'kg', 'lb'], POSITIVE],
    'Piston, rings, pin and upper part of the rod, one cylinder.',
    '580 g',
  ),
  inletCloses: measured(
    ['angle', ['°', 'rad'], {}],
    'Crank angle at which the inlet closes, after bottom dead centre.',
    '50 °',
  ),
  fuel: choice(Object.keys(FUELS), 'Which fuel is burnt.'),
  octane: measured(['ratio', ['1'], POSITIVE], 'Research octane number of the fuel.', 98),
  ethanolShare: measured(SHARE, 'Share of ethanol by volume.', '20 %'),
  fuelComposition: text(
    'Atoms of a fuel that is not in the list of fuels: C, H and O with their numbers. It goes before the named fuel.',
    'C7H13.2O0.1',
  ),
  heatingValue: measured(
    ['specific-energy', ['MJ/kg', 'kJ/kg', 'J/kg', 'BTU/lb'], POSITIVE],
    'Lower heating value of that fuel.',
    '42.5 MJ/kg',
  ),
  compressorMap: text('File in this folder with the compressor map.', 'compressor-map.csv'),
  compressorWheel: measured(LENGTH, 'Outer diameter of the compressor wheel.', '78 mm'),
  compressorTipLimit: measured(
    ['piston-speed', ['m/s', 'ft/s'], POSITIVE],
    'Highest speed of the tip of that wheel.',
    '540 m/s',
  ),
  compressorSpeedMargin: measured(SHARE, 'Share of the shaft’s speed limit that is kept in hand.', '3 %'),
  compressors: {
    form: { form: 'whole', limits: { from: 1, to: 8 } },
    about: 'Equal compressors side by side; the map is that of one of them.',
    example: 2,
  },
  turbineArea: measured(
    ['area', ['cm²', 'mm²', 'm²', 'in²'], POSITIVE],
    'Effective flow area of all turbines together.',
    '6.6 cm²',
  ),
  turbineEfficiency: measured(SHARE, 'Efficiency of the turbine with its shaft.', '64 %'),
  ratedAirFlow: measured(FLOW, 'Air flow at which the losses below hold; they grow with its square.', '260 g/s'),
  inletLoss: measured(LOSS, 'Pressure lost before the compressor at the rated flow.', '1.2 kPa'),
  coolerLoss: measured(LOSS, 'Pressure lost in the charge cooler at the rated flow.', '9 kPa'),
  exhaustLoss: measured(LOSS, 'Pressure above ambient after the turbine at the rated flow.', '9 kPa'),
  coolerEffectiveness: measured(SHARE, 'Effectiveness of the charge cooler at the rated flow.', '76 %'),
  coolerKind: choice(
    Object.keys(COOLERS),
    'What the charge cooler gives its heat to: the air outside, or a tank of water.',
  ),
  coolerWater: measured(WATER, 'Water in the tank and the loop of a water-to-air charge cooler, without ice.', '12 kg'),
  coolerIce: measured(
    ['mass', ['kg', 'g', 'lb'], { from: 0 }],
    'Ice that is put into that tank before a pull.',
    '4 kg',
  ),
  coolerWaterTemperature: measured(HEAT, 'Temperature of that water before the pull and before the ice.', '24 °C'),
  coolerPumpFlow: measured(
    ['volume-flow', ['L/min', 'L/h', 'm³/s', 'gal/h'], POSITIVE],
    'Flow of the pump of that water.',
    '25 L/min',
  ),
  coolerTimeConstant: measured(
    ['time', ['s', 'min'], POSITIVE],
    'Time in which the warmth that a pull left in the charge cooler falls to a third, fans on and no load.',
    '240 s',
  ),
  injectors: {
    form: { form: 'whole', limits: { from: 1, to: 64 } },
    about: 'Number of injectors.',
    example: 6,
  },
  injectorFlow: measured(FLOW, 'Flow of one injector, always open, at the pressure below.', '6.4 g/s'),
  injectorPressure: measured(LOSS, 'Fuel pressure over manifold pressure.', '350 kPa'),
  injectorDeadTime: measured(PULSE, 'Time an injector takes to open, less the time to close.', '0.9 ms'),
  largestDuty: measured(SHARE, 'Largest share of the cycle that an injector may stay open.', '88 %'),
  fuelPumpFlow: measured(FLOW, 'Flow of all fuel pumps together at the pressure and voltage below.', '48 g/s'),
  fuelPumpPressure: measured(
    LOSS,
    'Pressure over ambient at which that flow was measured; without it, that of the rail at full load.',
    '500 kPa',
  ),
  fuelPumpVoltage: measured(
    ['voltage', ['V'], POSITIVE],
    'Voltage at the pumps at which that flow was measured.',
    '13.5 V',
  ),
  fuelPumpFreeFlow: measured(
    FLOW,
    'Flow of all fuel pumps together against no pressure, at the same voltage.',
    '68 g/s',
  ),
  plugGap: measured(GAP, 'Gap of the plugs.', '0.70 mm'),
  coilResistance: measured(['resistance', ['Ω', 'mΩ'], POSITIVE], 'Resistance of the primary winding.', '0.45 Ω'),
  coilInductance: measured(['inductance', ['mH', 'Ω·s'], POSITIVE], 'Inductance of the primary winding.', '2.5 mH'),
  coilCapacitance: measured(
    ['capacitance', ['pF', 'A·s/V'], POSITIVE],
    'Capacitance of the high-voltage side with lead and plug.',
    '60 pF',
  ),
  coilTransfer: measured(SHARE, 'Share of the energy stored in the coil that reaches its high-voltage side.', '65 %'),
  largestCoilDuty: measured(SHARE, 'Largest share of the time that a coil may carry current.', '65 %'),
  sparksPerCycle: {
    form: { form: 'whole', options: [1, 2], limits: { from: 1, to: 2 } },
    about: 'Sparks of one coil in a cycle: 2 where it serves two cylinders at once.',
    example: 1,
  },
  plugThread: measured(LENGTH, 'Length of the thread of the plugs that are fitted.', '19.0 mm'),
  headThread: measured(LENGTH, 'Length of the thread of the plugs the engine was made with.', '19.0 mm'),
  plugStepsColder: {
    form: { form: 'whole', limits: { from: 0, to: 12 } },
    about: 'Heat-range steps by which the plugs are colder than those the engine was made with.',
    example: 1,
  },
  nativeBoost: measured(
    ['gauge-pressure', ['kPa', 'bar', 'Pa', 'psi'], { from: 0 }],
    'Highest boost of the engine as it was made, above ambient; 0 kPa without a compressor.',
    '60 kPa',
  ),
  nativePower: measured(
    ['power', ['kW', 'W', 'hp'], POSITIVE],
    'Power at the crankshaft of the engine as it was made.',
    '150 kW',
  ),
  electrodes: choice(
    Object.keys(ELECTRODES),
    'State of the plugs’ electrodes: square edges, a thin wire, or rounded by use.',
  ),
  dwell: measured(PULSE, 'Dwell at full load.', '3.0 ms'),
  coilVoltage: measured(['voltage', ['V'], POSITIVE], 'Voltage at the coil while pulling.', '13.5 V'),
  sparkVoltage: measured(
    ['high-voltage', ['kV', 'V'], POSITIVE],
    'Highest voltage the coil gives at that dwell and voltage.',
    '25.9 kV',
  ),
  headLiftPressure: measured(CYLINDER, 'Cylinder pressure at which the head is known to lift.', '123 bar'),
  peakPressureLimit: measured(CYLINDER, 'Highest cylinder pressure allowed for this engine.', '120 bar'),
  exhaustTemperatureLimit: measured(
    HEAT,
    'Highest temperature before the turbine, as a probe there shows it.',
    '950 °C',
  ),
  chargeTemperatureLimit: measured(HEAT, 'Highest charge temperature behind the cooler.', '70 °C'),
  bigEndDiameter: measured(LENGTH, 'Diameter of the big-end bearing.', '50 mm'),
  bigEndWidth: measured(LENGTH, 'Bearing width of the big end, grooves and edges off.', '22 mm'),
  bearingLoadLimit: measured(
    ['bearing-load', ['MPa', 'bar', 'Pa', 'psi'], POSITIVE],
    'Largest force over projected area that the big-end shells stand.',
    '75 MPa',
  ),
  pistonSpeedLimit: measured(
    ['piston-speed', ['m/s', 'ft/s'], POSITIVE],
    'Highest mean piston speed allowed.',
    '22 m/s',
  ),
  valveFloatSpeed: measured(ROTATION, 'Engine speed at which the valves are known to leave their cams.', '7600 rpm'),
  beltSpeedLimit: measured(ROTATION, 'Engine speed up to which a drive belt or chain is allowed.', '7800 rpm'),
  clampForce: measured(FORCE, 'Preload of all fasteners round one cylinder.', '110 kN'),
  sealDiameter: measured(LENGTH, 'Diameter that the gasket seals.', '93 mm'),
  rodCompression: measured(FORCE, 'Force that one rod may carry pressed, again and again.', '75 kN'),
  rodTension: measured(FORCE, 'Force that one rod and its bolts may carry pulled, again and again.', '28 kN'),
  rodBolts: {
    form: { form: 'whole', limits: { from: 1, to: 4 } },
    about: 'Bolts of one rod.',
    example: 2,
  },
  rodBoltPreload: measured(FORCE, 'Preload of one rod bolt, best told from its stretch.', '40 kN'),
  shankDepth: measured(
    LENGTH,
    'Shank of a rod where it is smallest: depth of its I-section in the plane in which the crank turns.',
    '24 mm',
  ),
  shankWidth: measured(LENGTH, 'Width of that section along the crankshaft.', '17 mm'),
  shankFlange: measured(LENGTH, 'Thickness of one flange of that section.', '4.5 mm'),
  shankWeb: measured(LENGTH, 'Thickness of the web between its flanges.', '4 mm'),
  shankYield: measured(
    ['stress', ['MPa', 'psi', 'bar', 'Pa'], POSITIVE],
    'Stress at which the steel of the rods yields.',
    '900 MPa',
  ),
  strapForce: measured(FORCE, 'Sum of the downward pull of the straps.', '3.0 kN'),
  strapCount: {
    form: { form: 'whole', limits: { from: 1, to: 16 } },
    about: 'How many straps share that downward pull.',
    example: 2,
  },
  strapAngle: measured(STEEPNESS, 'How far below the horizontal each of them leads to its anchor.', '40 °'),
  strapPlanAngle: measured(STEEPNESS, 'How far each leads off the vehicle’s axis, seen from above.', '20 °'),
  strapRating: measured(
    ['force', ['kN', 'N', 'lbf'], POSITIVE],
    'Working load of one strap or of its anchor, the smaller of the two.',
    '12 kN',
  ),
  axleLoadLimit: measured(
    ['force', ['kN', 'N', 'lbf'], POSITIVE],
    'Largest load that the tyres and bearings of the driven axle may carry.',
    '11 kN',
  ),
  grip: measured(RATIO, 'Largest tractive force over load that the tyres hold on these rolls.', 0.6),
  treadTemperature: measured(HEAT, 'Temperature of the tread in the pulls.', '60 °C'),
  gripKnee: measured(HEAT, 'Tread temperature above which grip falls.', '55 °C'),
  gripPerKelvin: measured(
    ['ratio', ['1'], { from: 0, to: 1 }],
    'Grip that is lost per kelvin above that temperature.',
    0.0015,
  ),
};
