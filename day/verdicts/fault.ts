/** Every fault that a detector looks for. */
export type Fault = EngineFault | ChannelFault;

/** What happens to the vehicle. */
export type EngineFault =
  | 'wheel-slip'
  | 'ignition-breakup'
  | 'spark-energy'
  | 'lost-sync'
  | 'rev-or-torque-cut'
  | 'over-rev'
  | 'boost-overshoot'
  | 'boost-oscillation'
  | 'boost-droop'
  | 'boost-creep'
  | 'knock'
  | 'pre-ignition'
  | 'fuel-pressure-drop'
  | 'injector-saturation'
  | 'lean-mixture'
  | 'rich-mixture'
  | 'boost-leak'
  | 'charge-heat-soak'
  | 'head-lift'
  | 'cam-not-tracking'
  | 'oil-pressure-low'
  | 'crankcase-pressure'
  | 'driveline-loss-rising'
  | 'clutch-slip'
  | 'converter-slip'
  | 'turbo-overspeed'
  | 'compressor-choke'
  | 'surge'
  | 'exhaust-restriction'
  | 'valve-float'
  | 'power-shortfall';

/** What happens to the measurement alone. */
export type ChannelFault =
  | 'stuck-channel'
  | 'saturated-channel'
  | 'dropout'
  | 'wrong-scale'
  | 'spikes'
  | 'swapped-channels'
  | 'lagging-channel'
  | 'clock-fault'
  | 'ambient-probe';

export type Subject =
  | 'air'
  | 'rolls'
  | 'driveline'
  | 'traction'
  | 'charge-air'
  | 'fuel'
  | 'spark'
  | 'knock'
  | 'loads'
  | 'heat'
  | 'sensors';

/** 0 note only; 1 pull or window void, mend, repeat; 2 hold: no more load until checked; 3 end the day for this engine. */
export type StopClass = 0 | 1 | 2 | 3;

/** What a fault makes unusable within its windows: the pull's power, the named channel, or nothing. */
export type Voids = 'power' | 'channel' | 'nothing';
