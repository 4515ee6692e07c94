import type { LimitName } from './limit.ts';

const FILLING = ['displacement', 'coolerEffectiveness', 'ambientPressure', 'ambientTemperature'] as const;
const FIRING = [...FILLING, 'compressionRatio', 'inletCloses'] as const;
const WHEEL = [...FILLING, 'torqueLoss', 'tyreRadius'] as const;

/**
 * Facts that each limit feels through what is predicted, beside those that it takes itself. Those that nobody stated are named as assumed.
 *
 * @source  how the engine model works; a fact that moves the margin by less than about 1 % is left out
 */
export const RESTS_ON: Readonly<Record<LimitName, readonly string[]>> = {
  'spark voltage': [...FIRING, 'plugGap'],
  'coil heat': [],
  'compressor speed': [...FILLING, 'inletLoss', 'coolerLoss'],
  'compressor choke': FILLING,
  'compressor surge': FILLING,
  'wastegate authority': [...FILLING, 'turbineArea', 'turbineEfficiency', 'exhaustLoss'],
  'injector duty': [...FILLING, 'injectors', 'injectorPressure', 'injectorDeadTime'],
  'fuel supply': FILLING,
  knock: [...FIRING, 'octane'],
  'peak pressure': FIRING,
  'head clamp': FIRING,
  'rod compression': [...FIRING, 'bore', 'stroke', 'rodLength'],
  'rod tension': ['stroke', 'rodLength'],
  'bearing film': [...FIRING, 'bore', 'stroke', 'rodLength'],
  'piston speed': ['stroke'],
  'engine speed': [],
  'valve float': [],
  'belt speed': [],
  'exhaust temperature': FILLING,
  traction: WHEEL,
  'roller force': WHEEL,
  'roller speed': ['tyreRadius'],
  'roller power': WHEEL,
  'charge temperature': ['coolerEffectiveness', 'coolerLoss', 'inletLoss', 'ambientTemperature'],
};
