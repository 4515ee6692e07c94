import { type Detection, type Detector, detect } from './detector.ts';
import { camNotTracking } from './faults/air/cam-not-tracking.ts';
import { powerShortfall } from './faults/air/power-shortfall.ts';
import { boostCreep, boostDroop } from './faults/charge-air/boost-control.ts';
import { boostLeak } from './faults/charge-air/boost-leak.ts';
import { boostOscillation } from './faults/charge-air/boost-oscillation.ts';
import { boostOvershoot } from './faults/charge-air/boost-overshoot.ts';
import { compressorChoke } from './faults/charge-air/compressor-choke.ts';
import { exhaustRestriction } from './faults/charge-air/exhaust-restriction.ts';
import { surge } from './faults/charge-air/surge.ts';
import { turboOverspeed } from './faults/charge-air/turbo-overspeed.ts';
import { clutchSlip } from './faults/driveline/clutch-slip.ts';
import { converterSlip } from './faults/driveline/converter-slip.ts';
import { drivelineLossRising } from './faults/driveline/driveline-loss-rising.ts';
import { revOrTorqueCut } from './faults/driveline/rev-or-torque-cut.ts';
import { fuelPressureDrop } from './faults/fuel/fuel-pressure-drop.ts';
import { injectorSaturation } from './faults/fuel/injector-saturation.ts';
import { leanMixture, richMixture } from './faults/fuel/mixture.ts';
import { chargeHeatSoak } from './faults/heat/charge-heat-soak.ts';
import { knock } from './faults/knock/knock.ts';
import { preIgnition } from './faults/knock/pre-ignition.ts';
import { crankcasePressure } from './faults/loads/crankcase-pressure.ts';
import { headLift } from './faults/loads/head-lift.ts';
import { oilPressureLow } from './faults/loads/oil-pressure-low.ts';
import { overRev } from './faults/loads/over-rev.ts';
import { valveFloat } from './faults/loads/valve-float.ts';
import { ambientProbe } from './faults/sensors/ambient-probe.ts';
import { clockFault } from './faults/sensors/clock-fault.ts';
import { dropout } from './faults/sensors/dropout.ts';
import { laggingChannel } from './faults/sensors/lagging-channel.ts';
import { lostSync } from './faults/sensors/lost-sync.ts';
import { saturatedChannel } from './faults/sensors/saturated-channel.ts';
import { spikes } from './faults/sensors/spikes.ts';
import { stuckChannel } from './faults/sensors/stuck-channel.ts';
import { swappedChannels } from './faults/sensors/swapped-channels.ts';
import { wrongScale } from './faults/sensors/wrong-scale.ts';
import { ignitionBreakup } from './faults/spark/ignition-breakup.ts';
import { sparkEnergy } from './faults/spark/spark-energy.ts';
import { wheelSlip } from './faults/traction/wheel-slip.ts';
import type { PullScene } from './scene/scene.ts';
import { type Limits, limitsWith } from './thresholds.ts';

/** Every detector there is. */
export const DETECTORS: readonly Detector[] = [
  ...[wheelSlip, ignitionBreakup, sparkEnergy, lostSync, revOrTorqueCut],
  ...[boostOvershoot, boostOscillation, boostDroop, boostCreep],
  ...[knock, preIgnition, fuelPressureDrop, injectorSaturation, leanMixture, richMixture],
  ...[boostLeak, chargeHeatSoak, headLift, camNotTracking, oilPressureLow, crankcasePressure],
  ...[drivelineLossRising, clutchSlip, converterSlip, turboOverspeed, compressorChoke, surge],
  ...[exhaustRestriction, valveFloat, overRev, powerShortfall],
  ...[stuckChannel, saturatedChannel, dropout, wrongScale, spikes, swappedChannels],
  ...[laggingChannel, clockFault, ambientProbe],
];

/** What every detector says about one pull, in the order of `DETECTORS`: seen, not seen, or why it cannot be told. */
export function detections(scene: PullScene, limits: Limits = limitsWith()): readonly Detection[] {
  return DETECTORS.map((detector) => detect(detector, scene, limits));
}
