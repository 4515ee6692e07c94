import { describe, expect, it } from 'vitest';
import { type Invented, inventedPull } from '../testing/invented-pull.ts';
import { SPEED_STEP } from './by-speed.ts';
import { gatePressure } from './gate.ts';

/** Flow as the law takes it without an air meter: manifold pressure times engine speed. */
const flow = (manifold: number, speed: number): number => manifold * speed;

/** A gate that makes 240 kPa before the turbine at 200 kPa and 500 rad/s with 101.325 kPa outside: h = (240² − 101.325²)/(200·500)², by hand. */
const RESISTANCE = (240e3 ** 2 - 101325 ** 2) / flow(200e3, 500) ** 2;

/** A pull that holds a pressure with the gate so far shut; while boost builds up the control shuts it. share: of the resistance, of another gate. */
function held(manifold: number, duty: number, share = 1): Invented {
  return {
    without: ['air-flow'],
    change: {
      'manifold-pressure': (_, { t, full }) => (full && t > 0.3 ? manifold : 95e3),
      'wastegate-duty': (_, { t, full }) => (full && t > 0.6 ? duty : 0.9),
      'exhaust-pressure': (_, { speed }) =>
        Math.sqrt(101325 ** 2 + flow(manifold, speed) ** 2 * RESISTANCE * share * (1 + 2 * (duty - 0.5))),
    },
  };
}

const at = (pressures: Float64Array | undefined, speed: number): number =>
  pressures?.[Math.round(speed / SPEED_STEP)] ?? Number.NaN;

describe('pressure before the turbine that the gate makes of the flow', () => {
  it('follows the ellipse law: four fifths of the flow make 201.4 kPa where the whole made 240', () => {
    // √(101.325² + 0.8²·(240² − 101.325²)) = √(10266.8 + 30293.3) = 201.395 kPa, by hand
    const found = gatePressure(
      inventedPull({ ...held(160e3, 0.5), references: [held(200e3, 0.5)] }),
      inventedPull({ references: [held(200e3, 0.5)] }).references,
    );
    expect(Math.abs(at(found, 500) / 201395 - 1)).toBeLessThan(1e-3);
    // at 600 rad/s: √(10266.8 + 0.64·1.44·47333.2) = √53889.1 = 232.140 kPa
    expect(Math.abs(at(found, 600) / 232140 - 1)).toBeLessThan(1e-3);
  });

  it('does not follow what the pull itself shows: behind a restriction of a fifth it tells the gate alone', () => {
    const references = [held(200e3, 0.5)];
    const scene = inventedPull({ ...held(160e3, 0.5, 1.2), references });
    expect(Math.abs(at(gatePressure(scene, scene.references), 500) / 201395 - 1)).toBeLessThan(1e-3);
  });

  it('goes straight between openings that other pulls had, and says nothing where none was near', () => {
    const references = [held(200e3, 0.48), held(200e3, 0.52)];
    const between = inventedPull({ ...held(160e3, 0.51), references });
    // the resistance there is 1.02 times that at one half: √(10266.8 + 1.02·30293.3) = 202.893 kPa
    expect(Math.abs(at(gatePressure(between, between.references), 500) / 202893 - 1)).toBeLessThan(1e-3);
    const far = inventedPull({ ...held(160e3, 0.6), references });
    expect(at(gatePressure(far, far.references), 500)).toBeNaN();
  });

  it('reads a duty that opens the gate the other way round', () => {
    const turned = (invented: Invented): Invented => ({
      ...invented,
      change: {
        ...invented.change,
        'wastegate-duty': (value, moment) => 1 - (invented.change?.['wastegate-duty']?.(value, moment) ?? value),
      },
    });
    const scene = inventedPull({
      ...turned(held(160e3, 0.51)),
      references: [turned(held(200e3, 0.48)), turned(held(200e3, 0.52))],
    });
    expect(Math.abs(at(gatePressure(scene, scene.references), 500) / 202893 - 1)).toBeLessThan(1e-3);
  });

  it('is not known without duty, or when no other pull logs all of it', () => {
    const references = [held(200e3, 0.5)];
    const blind = inventedPull({ ...held(160e3, 0.5), without: ['air-flow', 'wastegate-duty'], references });
    expect(gatePressure(blind, blind.references)).toBeUndefined();
    const alone = inventedPull(held(160e3, 0.5));
    expect(gatePressure(alone, [])).toBeUndefined();
  });
});
