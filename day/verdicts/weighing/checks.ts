import type { Fault } from '../fault.ts';

/**
 * One thing that can be done to part causes. tests: the faults whose presence it shows by itself. parts: the faults that it tells from one
 * another. needs: what must be at hand. minutes, pulls: what it costs. text: what to do, as a sentence; nothing is ever to be touched or adjusted at full load.
 */
export interface Check {
  readonly tests: readonly Fault[];
  readonly parts: readonly Fault[];
  readonly needs: readonly string[];
  readonly minutes: number;
  readonly pulls: number;
  readonly text: string;
}

const SLIPS = ['wheel-slip', 'clutch-slip', 'converter-slip'] as const;
const SHORT = ['power-shortfall', 'driveline-loss-rising'] as const;

/** Checks by key. @source common practice, no source; minutes: our default */
export const CHECKS = {
  'read-the-trace': {
    tests: [],
    parts: ['rev-or-torque-cut', 'over-rev', 'boost-overshoot', 'knock', 'ignition-breakup', 'lost-sync'],
    needs: [],
    minutes: 2,
    pulls: 0,
    text: 'Look at the window in the traces: what was commanded, and which channel moved first.',
  },
  'limiter-settings': {
    tests: ['rev-or-torque-cut', 'over-rev'],
    parts: ['rev-or-torque-cut', 'ignition-breakup', 'lost-sync', 'valve-float', 'over-rev'],
    needs: ['the settings of speed, pressure and temperature limits'],
    minutes: 5,
    pulls: 0,
    text: 'With the engine idling or off, compare the engine speed, manifold pressure and temperatures of the cut with the limits that are set.',
  },
  'tyre-and-straps': {
    tests: ['wheel-slip'],
    parts: [...SLIPS],
    needs: ['rolls stopped and locked'],
    minutes: 10,
    pulls: 0,
    text: 'With the rolls stopped and locked, look for tyre marks and smoke traces, compare the strap marks, let the tyres cool, set their pressure and tension the straps again.',
  },
  'higher-gear': {
    tests: ['wheel-slip', 'clutch-slip'],
    parts: [...SLIPS],
    needs: ['a higher gear within the limits of roll and tyre speed'],
    minutes: 8,
    pulls: 1,
    text: 'Repeat in the next higher gear at the same manifold pressure if roll and tyre speed allow: a slipping tyre gets better, a slipping clutch does not.',
  },
  'log-driven-wheel': {
    tests: ['wheel-slip', 'clutch-slip', 'converter-slip'],
    parts: [...SLIPS, 'lost-sync'],
    needs: ['driven wheel speed in the log'],
    minutes: 10,
    pulls: 1,
    text: 'Add driven wheel speed to the log and repeat the same window: the wheel stays either with the roll or with the engine.',
  },
  'lock-up-command': {
    tests: ['converter-slip'],
    parts: ['converter-slip', 'wheel-slip'],
    needs: ['lock-up command and transmission oil temperature in the log'],
    minutes: 10,
    pulls: 1,
    text: 'Log the lock-up command and the transmission oil temperature, let the oil cool, and repeat with lock-up held from below the window.',
  },
  'smaller-gap-or-pressure': {
    tests: ['ignition-breakup'],
    parts: ['ignition-breakup', 'spark-energy', 'valve-float', 'lean-mixture', 'rich-mixture', 'lost-sync'],
    needs: ['a gap gauge, plugs that have cooled, or a lower pressure target'],
    minutes: 30,
    pulls: 1,
    text: 'With the engine off and cooled, close the plug gaps by 0.1 mm, or set the manifold pressure 10 kPa lower, and repeat the same window. Look for carbon tracks while the plugs are out.',
  },
  'voltage-drop': {
    tests: ['spark-energy'],
    parts: ['spark-energy', 'ignition-breakup', 'fuel-pressure-drop'],
    needs: ['a voltmeter at coil and pump, electrical loads switched on'],
    minutes: 15,
    pulls: 0,
    text: 'At idle with fans and pumps on, measure alternator voltage and the drops along coil feed and grounds; compare the dwell table at the lowest voltage seen.',
  },
  'coil-current': {
    tests: ['spark-energy'],
    parts: ['spark-energy', 'ignition-breakup'],
    needs: ['a current clamp fitted beforehand, battery voltage and dwell in the log'],
    minutes: 20,
    pulls: 1,
    text: 'Fit a clamp to a coil feed beforehand, log coil current, dwell and battery voltage, stay clear of the vehicle, and repeat the window: current short of its plateau is missing energy.',
  },
  'crank-signal': {
    tests: ['lost-sync'],
    parts: ['lost-sync', 'ignition-breakup', 'rev-or-torque-cut', 'spikes'],
    needs: ['an oscilloscope on crank and cam signal'],
    minutes: 30,
    pulls: 0,
    text: 'With the vehicle out of gear and nobody near rotating parts, record crank and cam signals against coil triggers up to the speed of the event; check sensor gap, shield, polarity and loom.',
  },
  'same-speed-less-pressure': {
    tests: ['valve-float'],
    parts: ['valve-float', 'ignition-breakup', 'rev-or-torque-cut', 'spark-energy', 'surge'],
    needs: [],
    minutes: 8,
    pulls: 1,
    text: 'Repeat with 20 kPa less manifold pressure and a lower highest speed: what belongs to speed stays at its speed, what belongs to pressure goes away.',
  },
  'fuel-supply': {
    tests: ['fuel-pressure-drop'],
    parts: ['fuel-pressure-drop', 'injector-saturation', 'lean-mixture', 'ignition-breakup', 'spark-energy'],
    needs: ['fuel pressure over manifold pressure in the log, a new filter'],
    minutes: 25,
    pulls: 0,
    text: 'Engine off and fuel pressure released: check filter, tank level, pump voltage and the reference hose; then watch pressure over manifold pressure at idle and light load before any load.',
  },
  'injector-duty': {
    tests: ['injector-saturation'],
    parts: ['injector-saturation', 'fuel-pressure-drop', 'lean-mixture'],
    needs: ['injector pulse width or duty in the log'],
    minutes: 5,
    pulls: 0,
    text: 'Compute the duty from pulse width and engine speed where the mixture began to lean, and compare it with the injectors’ limit.',
  },
  'lambda-sensor': {
    tests: ['lean-mixture', 'rich-mixture'],
    parts: ['lean-mixture', 'rich-mixture', 'stuck-channel', 'wrong-scale', 'lagging-channel', 'saturated-channel'],
    needs: ['free air at the sensor, or a second sensor'],
    minutes: 15,
    pulls: 0,
    text: 'With the engine off and the exhaust cold, read the sensor in free air, look for leaks before it, and compare the banks or a second sensor.',
  },
  'plugs-after-rich': {
    tests: ['rich-mixture'],
    parts: ['rich-mixture', 'ignition-breakup', 'lean-mixture'],
    needs: ['plugs that have cooled'],
    minutes: 25,
    pulls: 0,
    text: 'With the engine cooled, read the plugs and check oil level and smell for fuel; correct the fuel table by a small step before the next pull.',
  },
  'timing-back': {
    tests: ['knock'],
    parts: ['knock', 'pre-ignition', 'valve-float', 'spikes'],
    needs: [],
    minutes: 10,
    pulls: 1,
    text: 'Set the timing 2° later from the table, 10 kPa lower, and repeat up to below the window only: knock falls with retard, noise of the mechanism does not.',
  },
  'look-into-cylinders': {
    tests: ['pre-ignition', 'knock', 'over-rev'],
    parts: ['pre-ignition', 'knock', 'crankcase-pressure', 'head-lift', 'over-rev', 'valve-float'],
    needs: ['a borescope, a leak-down tester, an engine that has cooled'],
    minutes: 45,
    pulls: 0,
    text: 'No more load. With the engine off and cooled, take the plugs out, look into the cylinders and test for leakage.',
  },
  'leak-down': {
    tests: ['crankcase-pressure'],
    parts: ['crankcase-pressure', 'head-lift', 'power-shortfall', 'driveline-loss-rising'],
    needs: ['a leak-down tester'],
    minutes: 40,
    pulls: 0,
    text: 'With the engine off and cooled, a leak-down test of every cylinder with the crank held safely; listen at filler, intake, exhaust and coolant. Check the breather for blockage first.',
  },
  'cap-and-hoses-cold': {
    tests: ['head-lift'],
    parts: ['head-lift', 'wrong-scale', 'spikes'],
    needs: ['a cold engine, a test for combustion gas in the coolant'],
    minutes: 60,
    pulls: 0,
    text: 'Never open a hot system. When it is cold: coolant level, cap and hoses, trapped air, and a test for combustion gas in the coolant.',
  },
  'pressure-test': {
    tests: ['boost-leak'],
    parts: [
      'boost-leak',
      'charge-heat-soak',
      'exhaust-restriction',
      'boost-droop',
      'compressor-choke',
      'power-shortfall',
    ],
    needs: ['caps and a regulator for the intake, engine off'],
    minutes: 25,
    pulls: 0,
    text: 'Engine off: pressure-test the charge pipes at 100 kPa with safe caps and a regulator, standing clear of the pipe ends; listen and use soapy water.',
  },
  'let-it-cool': {
    tests: ['charge-heat-soak'],
    parts: ['charge-heat-soak', 'boost-leak', 'power-shortfall'],
    needs: ['fans'],
    minutes: 15,
    pulls: 1,
    text: 'Let the charge cooler cool with the fan until the charge starts within 3 °C of the reference, and repeat: heat soak is then gone, a leak is not.',
  },
  'gate-and-control': {
    tests: ['boost-overshoot', 'boost-oscillation', 'boost-creep', 'boost-droop'],
    parts: ['boost-overshoot', 'boost-oscillation', 'boost-creep', 'boost-droop', 'surge'],
    needs: ['wastegate duty or position in the log'],
    minutes: 20,
    pulls: 1,
    text: 'Engine off: check gate travel, line and spring. Then repeat with a fixed, lower duty: what the controller made goes away.',
  },
  'gate-alone': {
    tests: ['boost-creep'],
    parts: ['boost-creep', 'boost-overshoot', 'boost-droop', 'boost-leak'],
    needs: [],
    minutes: 10,
    pulls: 1,
    text: 'Repeat with the gate on its spring alone: pressure that still climbs with speed is flow that the gate cannot pass.',
  },
  'compressor-map': {
    tests: ['compressor-choke', 'turbo-overspeed', 'surge'],
    parts: ['compressor-choke', 'turbo-overspeed', 'surge', 'boost-droop', 'exhaust-restriction'],
    needs: ['the compressor map, turbo speed in the log'],
    minutes: 10,
    pulls: 0,
    text: 'Place the points of the window on the compressor map, with air flow and the inlet state of the day, and lower the target where they leave it.',
  },
  'exhaust-pressures': {
    tests: ['exhaust-restriction'],
    parts: ['exhaust-restriction', 'boost-leak', 'compressor-choke', 'boost-droop', 'power-shortfall'],
    needs: ['pressure before and after the turbine, engine cold for the fittings'],
    minutes: 40,
    pulls: 1,
    text: 'With the exhaust cold, look for a collapsed pipe or baffle and fit a pressure line after the turbine; repeat at a lower pressure and compare with the earlier pulls.',
  },
  'cam-signal': {
    tests: ['cam-not-tracking'],
    parts: ['cam-not-tracking', 'oil-pressure-low', 'power-shortfall'],
    needs: ['cam angle and target of each bank, oil temperature and pressure'],
    minutes: 15,
    pulls: 0,
    text: 'At a warm idle step the cam target by a few degrees and compare the banks; check oil level, temperature and pressure.',
  },
  'oil-check': {
    tests: ['oil-pressure-low'],
    parts: ['oil-pressure-low', 'wrong-scale', 'spikes', 'stuck-channel', 'cam-not-tracking'],
    needs: ['a second gauge, oil filter to cut open'],
    minutes: 40,
    pulls: 0,
    text: 'No more load. Engine off: oil level and foam, sensor at zero, second gauge at a hot idle; cut the filter open and look for metal.',
  },
  'driveline-by-hand': {
    tests: ['driveline-loss-rising'],
    parts: [...SHORT],
    needs: ['rolls stopped and locked, a contact thermometer, a magnet for the oil'],
    minutes: 20,
    pulls: 0,
    text: 'With the engine off and the rolls locked: compare the temperatures of final drive, gearbox, hubs and brakes side by side, turn the wheels by hand out of gear, and draw a little oil over a magnet. Hot or gritty parts are the driveline’s.',
  },
  'coast-down-pair': {
    tests: ['driveline-loss-rising'],
    parts: [...SHORT, 'wheel-slip', 'head-lift', 'exhaust-restriction', 'charge-heat-soak', 'crankcase-pressure'],
    needs: ['a free roll, the reference coast-down'],
    minutes: 8,
    pulls: 0,
    text: 'Coast down twice, once with the clutch open and once in gear, from the reference speed, and compare with the earlier pair: the driveline shows in both, the engine only in gear.',
  },
  'repeat-reference': {
    tests: ['power-shortfall'],
    parts: [...SHORT, 'charge-heat-soak', 'knock', 'boost-leak', 'exhaust-restriction', 'cam-not-tracking'],
    needs: [],
    minutes: 12,
    pulls: 1,
    text: 'Repeat the reference pull at its own, lower settings with all temperatures at their start values; if that is short as well, stop and look before more load.',
  },
  'known-state': {
    tests: ['wrong-scale', 'stuck-channel', 'saturated-channel', 'swapped-channels'],
    parts: ['wrong-scale', 'stuck-channel', 'saturated-channel', 'swapped-channels', 'lagging-channel'],
    needs: ['a state that is known: engine off, cold soak, free air, a known weight'],
    minutes: 10,
    pulls: 0,
    text: 'Bring the channel to a known state with the engine off: pressures against the barometer, temperatures after a cold soak, force with a known weight. Then move the quantity and see that the channel follows.',
  },
  'wiring-and-logger': {
    tests: ['dropout', 'spikes', 'stuck-channel', 'lagging-channel'],
    parts: ['dropout', 'spikes', 'clock-fault', 'stuck-channel', 'lagging-channel', 'swapped-channels'],
    needs: [],
    minutes: 15,
    pulls: 0,
    text: 'Engine off: plugs and wires of the channel, load of the logger, filter and rate settings, and the clock of both computers.',
  },
  'both-clocks': {
    tests: ['clock-fault'],
    parts: ['clock-fault', 'dropout', 'lagging-channel'],
    needs: [],
    minutes: 8,
    pulls: 0,
    text: 'Before the next pull: look whether either computer had its clock set or slept, and turn that off. Then log a minute with both at idle and flick the throttle at both ends: the two logs must be apart by the same time twice.',
  },
  'second-probe': {
    tests: ['ambient-probe'],
    parts: ['ambient-probe', 'charge-heat-soak', 'wrong-scale', 'stuck-channel'],
    needs: ['a second thermometer'],
    minutes: 10,
    pulls: 0,
    text: 'Engine off: hang a second thermometer in the room’s air, away from exhaust, radiators and sun. Read both for five minutes where the probe hangs now, then with the probe moved beside the second one: a probe that falls to it was warmed.',
  },
} as const satisfies Record<string, Check>;

export type CheckName = keyof typeof CHECKS;

/** Names of all checks, in their order. */
export function checkNames(): readonly CheckName[] {
  return Object.keys(CHECKS).filter((name): name is CheckName => name in CHECKS);
}

/** What a pull counts for when checks are compared [min]. @source our default: a pull with its cool-down */
const PULL_MINUTES = 15;

/**
 * The check to make next: the cheapest that parts the two most probable causes and shows by itself whether one of them is there; else the cheapest
 * that shows the first one; else one that parts the two, or that concerns the first.
 * From stop class 2 on none that needs a pull is named while another one will do.
 */
export function nextCheck(
  causes: readonly Fault[],
  stopClass: number,
): { readonly check: CheckName; readonly parts: readonly Fault[] } | undefined {
  const [first, second] = causes;
  if (first === undefined) return undefined;
  const touches = (name: CheckName, faults: 'tests' | 'parts', fault: Fault | undefined): boolean =>
    fault !== undefined && allOf(CHECKS[name][faults]).includes(fault);
  // An engine that must not be loaded, or must be shut down, is not driven up to coast down from speed either.
  const allowed = checkNames().filter((name) => stopClass < 2 || !TURNS_THE_ROLLS.includes(name));
  const concerned = allowed.filter((name) => touches(name, 'parts', first));
  const showing = concerned.filter((name) => touches(name, 'tests', first));
  const parting = concerned.filter((name) => touches(name, 'parts', second));
  const both = parting.filter((name) => touches(name, 'tests', first) || touches(name, 'tests', second));
  const ways = [both, showing, parting, concerned];
  const still = ways.map((names) => names.filter((name) => CHECKS[name].pulls === 0));
  const offered = stopClass >= 3 ? still : stopClass === 2 ? [...still, ...ways] : ways;
  const [best] = [...(offered.find((names) => names.length > 0) ?? [])].sort(
    (one, other) => costOf(one) - costOf(other),
  );
  return best && { check: best, parts: allOf(CHECKS[best].parts).filter((fault) => causes.includes(fault)) };
}

function allOf(faults: readonly Fault[]): readonly Fault[] {
  return faults;
}

/** Checks without a pull that still need the engine to bring the rolls up to speed. */
const TURNS_THE_ROLLS: readonly CheckName[] = ['coast-down-pair'];

function costOf(name: CheckName): number {
  const { minutes, pulls } = CHECKS[name];
  return minutes + PULL_MINUTES * pulls;
}
