import type { RollRun } from '../rig/roll-run.ts';
import { faultBetween, faultDuring, timeAbove } from '../rig/run-truth.ts';
import type { InjectedFault } from '../truth.ts';
import type { PullFaults } from './faults.ts';

/** Where the faults of a pull really lie on its roller clock, and how large they are. */
export function faultWindows(run: RollRun, faults: PullFaults, probe: number): readonly InjectedFault[] {
  return [
    ...airWindows(run, faults),
    ...fireWindows(run, faults),
    ...driveWindows(run, faults),
    ...bodyWindows(run, faults),
    ...(probe > 0 ? [faultBetween(run, { kind: 'ambient probe polluted', size: { temperature: probe } })] : []),
  ];
}

function airWindows(run: RollRun, faults: PullFaults): InjectedFault[] {
  const list: InjectedFault[] = [];
  const { leak, swing } = faults;
  if (leak) list.push(faultBetween(run, { kind: 'boost leak', fromRpm: 2600, size: { ...leak } }));
  if (swing) {
    list.push(
      faultBetween(run, { kind: 'boost overshoot', fromRpm: 2810, toRpm: 3150, size: { pressure: swing.overshoot } }),
      faultBetween(run, {
        kind: 'boost oscillation',
        fromRpm: swing.from,
        toRpm: swing.to,
        size: { hertz: swing.hertz, pressure: swing.size },
      }),
    );
  }
  if (faults.flutter) {
    const span = { from: run.lift, to: run.lift + 0.8 };
    list.push(faultDuring(run, { kind: 'compressor flutter', ...span, size: { hertz: 9, pressure: 26 }, decoy: true }));
  }
  if (faults.heatSoak) {
    list.push(faultBetween(run, { kind: 'heat soak', size: { temperature: faults.heatSoak } }));
  }
  return list;
}

function fireWindows(run: RollRun, faults: PullFaults): InjectedFault[] {
  const list: InjectedFault[] = [];
  const { breakup, knock, syncLoss, softCut, fuelPressure, phaserB } = faults;
  if (softCut) {
    list.push(
      faultBetween(run, { kind: 'limiter', fromRpm: softCut.rpm, toRpm: 9000, size: { hertz: softCut.hertz } }),
    );
  }
  if (breakup) {
    const span = { fromRpm: breakup.from, toRpm: breakup.to };
    list.push(faultBetween(run, { kind: 'spark breakup', ...span, size: { torque: -breakup.loss } }));
  }
  if (knock) {
    const span = { fromRpm: knock.from, toRpm: knock.to };
    list.push(
      faultBetween(run, { kind: 'knock', ...span, size: { cylinder3: 6, cylinder5: 2, torque: knock.torque } }),
    );
  }
  if (syncLoss) {
    const from = timeAbove(run, syncLoss.rpm);
    const pauses = 0.06 * (syncLoss.seconds.length - 1);
    const to = from + syncLoss.seconds.reduce((sum, seconds) => sum + seconds, pauses);
    list.push(faultDuring(run, { kind: 'sync loss', from, to, size: { drops: syncLoss.seconds.length, counter: 5 } }));
  }
  if (fuelPressure) {
    const size = { pressure: -fuelPressure.drop, lambda: fuelPressure.lambda };
    list.push(faultBetween(run, { kind: 'fuel pressure low', fromRpm: 5600, toRpm: 9000, size }));
  }
  if (faults.voltageSag) {
    list.push(
      faultBetween(run, { kind: 'voltage sag', fromRpm: 5200, toRpm: 9000, size: { volts: -faults.voltageSag } }),
    );
  }
  if (phaserB) {
    list.push(faultDuring(run, { kind: 'cam phaser', from: run.tipIn, to: run.lift, size: { ...phaserB } }));
  }
  return list;
}

function driveWindows(run: RollRun, faults: PullFaults): InjectedFault[] {
  const list: InjectedFault[] = [];
  const { slip, axleTorque, rollerGap, rollerJump } = faults;
  if (slip) {
    const size = { low: slip.low, high: slip.high };
    list.push(faultBetween(run, { kind: 'wheel slip', fromRpm: slip.from, toRpm: slip.to, size }));
  }
  if (axleTorque) list.push(faultBetween(run, { kind: 'driveline drag', size: { axleTorque } }));
  if (rollerGap) {
    const from = timeAbove(run, rollerGap.rpm);
    const size = { seconds: rollerGap.seconds };
    list.push(faultDuring(run, { kind: 'roller gap', from, to: from + rollerGap.seconds, size }));
  }
  if (rollerJump) list.push(faultBetween(run, { kind: 'clock jump', size: { seconds: -rollerJump.seconds } }));
  return list;
}

function bodyWindows(run: RollRun, faults: PullFaults): InjectedFault[] {
  const list: InjectedFault[] = [];
  if (faults.stuckLambdaA !== undefined) {
    list.push(faultBetween(run, { kind: 'lambda stuck', size: { lambda: faults.stuckLambdaA } }));
  }
  if (faults.coolant === 'lift') {
    list.push(
      faultBetween(run, { kind: 'head lift', fromRpm: 3300, toRpm: 4700, size: { pressure: 34, torque: -0.021 } }),
    );
  }
  if (faults.coolant === 'vent') {
    list.push(
      faultBetween(run, { kind: 'head lift', fromRpm: 2900, toRpm: 9000, size: { pressure: 72, torque: -0.034 } }),
    );
  }
  if (faults.coolant === 'lost') {
    list.push(faultBetween(run, { kind: 'coolant lost', size: { torque: -0.11 } }));
  }
  if (faults.oilSpike) {
    const from = timeAbove(run, faults.oilSpike.rpm);
    const to = from + faults.oilSpike.seconds;
    list.push(
      faultDuring(run, { kind: 'oil pressure spike', from, to, size: { drop: faults.oilSpike.drop }, decoy: true }),
    );
  }
  return list;
}
