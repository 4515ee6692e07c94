import { describe, expect, it } from 'vitest';
import type { Detection, Fault } from '../detector.ts';
import { inventedPull } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import type { Occurrence } from '../verdict.ts';
import { checkNames } from './checks.ts';
import type { WeighingModel } from './model.ts';
import { made, plainModel, window } from './testing/made.ts';
import { weigh, weighWith } from './weigh.ts';

const scene = inventedPull();
const limits = limitsWith();

function weighed(detections: readonly Detection[], rest: Partial<WeighingModel> = {}): readonly Occurrence[] {
  return weighWith(
    plainModel(
      detections.map(({ fault }) => fault),
      rest,
    ),
    { scene, detections, limits },
  );
}

function probabilityOf(occurrences: readonly Occurrence[], fault: Fault): number {
  const all = occurrences.flatMap(({ hypotheses }) => hypotheses);
  return all.find((one) => one.fault === fault)?.probability ?? 0;
}

function sumOf({ hypotheses }: Occurrence): number {
  return hypotheses.reduce((sum, { probability }) => sum + probability, 0);
}

describe('a blind twin', () => {
  it('is nearly as likely as the one that was seen', () => {
    const blind = made('clutch-slip', {
      answer: 'cannot tell',
      missing: ['wheel-speed'],
      windows: [],
      strength: 0,
      lookAlikes: ['wheel-slip'],
    });
    const found = weighed([made('wheel-slip', { strength: 0.6 }), blind]);
    expect(probabilityOf(found, 'clutch-slip') / probabilityOf(found, 'wheel-slip')).toBeGreaterThan(0.4);
  });
});

describe('the summary', () => {
  it('has no rival in a cause that nobody could look for: power is short with that as well', () => {
    const short = made('power-shortfall', { strength: 0.9, lookAlikes: ['head-lift', 'knock'] });
    const blind = made('head-lift', { answer: 'cannot tell', stopClass: 0, strength: 0, windows: [] });
    const looked = made('knock', { answer: 'not seen', stopClass: 0, strength: 0, windows: [] });
    const [only] = weighed([short, blind, looked]);
    expect(only.hypotheses.map(({ fault }) => fault)).not.toContain('head-lift');
    expect(probabilityOf([only], 'power-shortfall')).toBe(probabilityOf(weighed([short, looked]), 'power-shortfall'));
  });

  it('is no cause beside a cause that was seen', () => {
    const found = weighed([
      made('knock', { strength: 0.6 }),
      made('power-shortfall', { strength: 0.9, lookAlikes: ['knock'] }),
    ]);
    expect(found).toHaveLength(1);
    expect(found[0].hypotheses.map(({ fault }) => fault)).toEqual(['knock']);
    expect(probabilityOf(weighed([made('power-shortfall', { strength: 0.9 })]), 'power-shortfall')).toBeGreaterThan(
      0.5,
    );
  });
});

describe('occurrences', () => {
  it('are none where nothing was seen', () => {
    expect(weigh(scene, [], limits)).toEqual([]);
    expect(weighed([made('knock', { answer: 'not seen' }), made('surge', { answer: 'cannot tell' })])).toEqual([]);
  });

  it('are one for one detection, with its windows, class and evidence', () => {
    const [only, ...rest] = weighed([made('knock', { stopClass: 2 })]);
    expect(rest).toEqual([]);
    expect(only.windows).toEqual([window(7, 9)]);
    expect(only.hypotheses.map(({ fault }) => fault)).toEqual(['knock']);
    expect(only.hypotheses[0].evidence[0]).toEqual({ what: 'clear signs of knock', weight: 3 });
    expect(only).toMatchObject({ stopClass: 2, voids: 'power' });
    expect(checkNames()).toContain(only.next?.check);
  });

  it('are ten for ten that do not compete, in the same windows', () => {
    const ten = [
      ...(['knock', 'wheel-slip', 'boost-leak', 'surge', 'head-lift'] as const),
      ...(['oil-pressure-low', 'lost-sync', 'rich-mixture', 'boost-creep', 'cam-not-tracking'] as const),
    ].map((fault) => made(fault));
    const found = weighed(ten);
    expect(found).toHaveLength(10);
    for (const occurrence of found) expect(occurrence.hypotheses).toHaveLength(1);
  });

  it('are two for slip and knock at once, and one for slip and breakup at once', () => {
    const slip = made('wheel-slip', { lookAlikes: ['ignition-breakup'] });
    expect(weighed([slip, made('knock')])).toHaveLength(2);
    expect(weighed([slip, made('ignition-breakup')])).toHaveLength(1);
  });

  it('are two for look-alikes in windows that do not meet', () => {
    const slip = made('wheel-slip', { lookAlikes: ['ignition-breakup'] });
    const later = made('ignition-breakup', { windows: [window(9.6, 11)] });
    expect(weighed([slip, later])).toHaveLength(2);
    expect(weighed([slip, { ...later, windows: [window(9.4, 11)] }])).toHaveLength(1);
  });

  it('name the channel that is at fault, when the first cause does', () => {
    const [only] = weighed([made('stuck-channel', { channel: 'oil p', voids: 'channel' })]);
    expect(only).toMatchObject({ channel: 'oil p', voids: 'channel' });
  });
});

describe('explaining away', () => {
  const slip = made('wheel-slip', { lookAlikes: ['ignition-breakup'] });
  const breakup = made('ignition-breakup', { lookAlikes: ['wheel-slip'], strength: 0.5 });
  const alone = plainModel(['wheel-slip', 'ignition-breakup']).weights;
  const explained: Partial<WeighingModel> = {
    weights: {
      ...alone,
      'said:ignition-breakup': {
        ...alone['said:ignition-breakup'],
        'wheel-slip': { clear: 0.5, faint: 1.5, no: -0.2 },
      },
    },
  };

  it('makes breakup lose when slip explains the roughness', () => {
    const both = weighed([slip, breakup], explained);
    const without = weighed([{ ...slip, answer: 'not seen' }, breakup], explained);
    expect(without[0].hypotheses[0].fault).toBe('ignition-breakup');
    expect(probabilityOf(both, 'ignition-breakup')).toBeLessThan(0.35 * probabilityOf(without, 'ignition-breakup'));
    expect(both[0].hypotheses[0].fault).toBe('wheel-slip');
  });

  it('adds up to 1 at most, whatever was seen', () => {
    for (let k = 1; k < 64; k += 3) {
      const answer = (bit: number): Detection['answer'] => ((k >> bit) & 1 ? 'seen' : 'not seen');
      const list = (['wheel-slip', 'clutch-slip', 'lost-sync', 'ignition-breakup', 'knock', 'surge'] as const).map(
        (fault, bit) =>
          made(fault, {
            answer: answer(bit),
            lookAlikes: ['wheel-slip', 'ignition-breakup'],
            strength: 0.3 + 0.1 * bit,
          }),
      );
      for (const occurrence of weighed(list)) expect(sumOf(occurrence)).toBeLessThanOrEqual(1 + 1e-12);
      for (const occurrence of weigh(scene, list, limits)) expect(sumOf(occurrence)).toBeLessThanOrEqual(1 + 1e-12);
    }
  });

  it('gives two causes the same probability when everything speaks for both alike', () => {
    const pair = weighed([slip, { ...breakup, strength: 0.8 }])[0].hypotheses;
    expect(pair[0].probability).toBeCloseTo(pair[1].probability, 12);
  });
});

describe('a channel that is missing', () => {
  const slip = made('wheel-slip', { lookAlikes: ['clutch-slip'] });
  const blind = made('clutch-slip', {
    ...{ answer: 'cannot tell', windows: [], strength: 0, missing: ['wheel-speed'], lookAlikes: ['wheel-slip'] },
  });
  const tables = plainModel(['wheel-slip', 'clutch-slip']).weights;
  const alike: Partial<WeighingModel> = {
    weights: {
      ...tables,
      'said:wheel-slip': { ...tables['said:wheel-slip'], 'clutch-slip': { clear: 2.5, faint: 2, no: -1 } },
    },
  };

  it('keeps both causes, says that they cannot be parted and by which channel they could', () => {
    const [only] = weighed([slip, blind], alike);
    expect(only.hypotheses.map(({ fault }) => fault)).toEqual(['wheel-slip', 'clutch-slip']);
    expect(only.inseparable[0]).toMatchObject({ one: 'wheel-slip', other: 'clutch-slip' });
    expect(only.inseparable[0].without).toContain('wheel-speed');
    expect(only.next?.parts).toEqual(['wheel-slip', 'clutch-slip']);
  });

  it('weighs nothing and is named', () => {
    const [only] = weighed([slip, blind], alike);
    const unknown = only.hypotheses[1].evidence.filter(({ weight }) => weight === 0);
    expect(unknown.map(({ what }) => what)).toContain('not known: whether there are signs of clutch slip');
  });

  it('is no reason to doubt when it is there', () => {
    const seen = { ...blind, answer: 'not seen', missing: [] } as const;
    const [only] = weighed([slip, seen], alike);
    expect(only.hypotheses[0].fault).toBe('wheel-slip');
    expect(probabilityOf([only], 'clutch-slip')).toBeLessThan(0.1);
    expect(only.inseparable).toEqual([]);
  });
});

describe('a detector of which nothing was learnt', () => {
  it('is believed as far as its own strength', () => {
    const found = weighWith(plainModel([]), { scene, detections: [made('surge', { strength: 0.62 })], limits });
    expect(found[0].hypotheses[0].probability).toBeCloseTo(0.62, 6);
  });
});
