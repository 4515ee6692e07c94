import { beforeAll, describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../../scenarios/index.ts';
import type { Fault, PullVerdict } from '../../verdicts/index.ts';
import { foresightOf, limitsAt, nextLimits } from '../limits/at.ts';
import { dayModel } from '../model/day-model.ts';
import type { EngineModel } from '../model/engine-model.ts';
import { inventedMap } from '../model/testing/invented-map.ts';
import { type Judged, judged } from '../model/testing/plateau.ts';
import { type JudgedPull, momentsOf } from './moment.ts';
import { saidOf } from './seen.ts';
import { taughtModel } from './taught-model.ts';

const RPM = Math.PI / 30;
const MAP = inventedMap();
let day: Judged;
let untaught: EngineModel;
let model: EngineModel;

beforeAll(() => {
  day = judged(makePlateauDay({ seed: 1 }));
  untaught = dayModel({ ...day, map: MAP });
  model = taughtModel({ ...day, map: MAP });
}, 240_000);

function pullNamed(id: string): JudgedPull {
  const index = day.verdicts.pulls.findIndex(({ entry }) => entry === id);
  const result = day.results.get(id);
  if (!result) throw new Error('missing pull');
  return { verdict: day.verdicts.pulls[index], scene: day.verdicts.asked[index].scene, result };
}

/** The day as if a person had overruled a fault in every pull that it leads. */
function overruled(fault: Fault): Judged {
  const pulls = day.verdicts.pulls.map(
    (pull): PullVerdict => ({
      ...pull,
      occurrences: pull.occurrences.map((one) =>
        one.hypotheses[0]?.fault === fault ? { ...one, overruled: 'seen with my own eyes' } : one,
      ),
    }),
  );
  return { ...day, verdicts: { ...day.verdicts, pulls } };
}

describe('what a pull says of a fault', () => {
  it('there with its windows, not there where the detector could look, silent where it could not', () => {
    expect(saidOf(pullNamed('24'), ['head-lift']).said).toBe('there');
    expect(saidOf(pullNamed('10'), ['head-lift']).said).toBe('not there');
    const { verdict, ...rest } = pullNamed('10');
    const blind = verdict.detections.map((one) => ({ ...one, answer: 'cannot tell' as const }));
    expect(saidOf({ ...rest, verdict: { ...verdict, detections: blind } }, ['head-lift']).said).toBe('silent');
  });

  it('silent where a person overruled it, and where it is less likely than not', () => {
    const { verdict, ...rest } = pullNamed('24');
    const changed = (occurrences: PullVerdict['occurrences']): JudgedPull => ({
      ...rest,
      verdict: { ...verdict, occurrences },
    });
    const own = changed(verdict.occurrences.map((one) => ({ ...one, overruled: 'gauge was open' })));
    expect(saidOf(own, ['head-lift']).said).toBe('silent');
    const weak = changed(
      verdict.occurrences.map((one) => ({
        ...one,
        hypotheses: one.hypotheses.map((cause) => ({ ...cause, probability: 0.4 })),
      })),
    );
    expect(saidOf(weak, ['head-lift']).said).toBe('silent');
  });
});

describe('the moments of a pull', () => {
  it('are asked with the charge as hot as it was logged, the gap of that pull and its voltage', () => {
    const moments = momentsOf(foresightOf(untaught), pullNamed('9'));
    expect(moments.length).toBeGreaterThan(8);
    for (const { told, step, where } of moments) {
      expect(where).toBe('pull 9');
      expect(step.plugGap).toBeCloseTo(0.7e-3, 9);
      expect(step.coilVoltage).toBeGreaterThan(12.5);
      expect(told.lines['charge temperature'].value[0]).toBeGreaterThan(295);
    }
  });
});

describe('the borders of the invented demonstration day', () => {
  it('says of each where it was learnt', () => {
    const words = (name: string): string => model.values.get(name)?.learnt ?? '';
    expect(words('headLiftPressure')).toMatch(/^head lift at \d+ rpm in pull 24, none in \d+ other pulls$/);
    expect(words('sparkDemandFactor')).toMatch(/^ignition breakup at 5\d00 rpm in pull 9, none in \d+ other pulls$/);
    expect(words('knockIntegralLimit')).toMatch(/^knock at 3\d+ rpm in pull 21, none in \d+ other pulls$/);
    expect(words('grip')).toMatch(/^wheel slip at 4\d+ rpm in pull 5/);
    expect(words('surgeFlowFactor')).toMatch(/^no surge in \d+ pulls$/);
    const clamp = limitsAt(model, { manifoldPressure: 215e3 }, Float64Array.of(4000 * RPM)).find(
      ({ name }) => name === 'head clamp',
    );
    expect(clamp?.learnt?.[0]).toContain('in pull 24');
  });

  it('the head clamp comes first when the pressure rises, at 212 kPa and in the middle of the speeds, then injectors and spark', () => {
    const next = nextLimits(model, { manifoldPressure: 200e3, camPhase: 0, soak: 8 });
    const [first] = next;
    expect(first.name).toBe('head clamp');
    expect(Math.abs(first.manifoldPressure - 212e3)).toBeLessThan(first.standardUncertainty);
    expect(first.standardUncertainty).toBeLessThan(13e3);
    expect(first.speed / RPM).toBeLessThanOrEqual(4500);
    const later = next.map(({ name }) => name);
    expect(later.indexOf('injector duty')).toBeLessThan(later.indexOf('spark voltage'));
    expect(later.indexOf('spark voltage')).toBeLessThan(later.indexOf('traction'));
  });

  it('what is learnt from the lift narrows the head clamp to a third', () => {
    const spread = (one: EngineModel): number =>
      nextLimits(one, { manifoldPressure: 200e3 }).find(({ name }) => name === 'head clamp')?.standardUncertainty ?? 0;
    expect(spread(model)).toBeLessThan(spread(untaught) / 3);
  });

  it('a lift lasts: what came after the first one is not held against the head', () => {
    const [only] = ['24', '25', '26'].map((id) => model.values.get('headLiftPressure')?.learnt?.includes(`pull ${id}`));
    expect(only).toBe(true);
    expect(model.values.get('headLiftPressure')?.learnt).not.toMatch(/pull 2[56]/);
  });
});

describe('fuel pressure that fell', () => {
  /** Pull 16 as if falling fuel pressure led with nine to one. */
  const led = (): PullVerdict => {
    const { verdict } = pullNamed('16');
    const found = verdict.occurrences.flatMap((one) => {
      const hypothesis = one.hypotheses.find(({ fault }) => fault === 'fuel-pressure-drop');
      return hypothesis ? [{ ...one, hypotheses: [{ ...hypothesis, probability: 0.9 }] }] : [];
    });
    return { ...verdict, occurrences: found };
  };

  it('tells what the pumps bring, when no other pull took more fuel', () => {
    const asked = day.verdicts.asked.filter(({ scene }) => scene.entry === '16');
    const only = { ...day, verdicts: { pulls: [led()], asked, findings: [] } };
    const flow = taughtModel({ ...only, map: MAP }).values.get('fuelPumpFlow');
    expect(flow?.learnt).toMatch(/^fuel pressure falling at \d+ rpm in pull 16$/);
    // 0.0384 kg/s of the injectors, open for 70 … 80 % of the cycle
    expect(flow?.value).toBeGreaterThan(0.024);
    expect(flow?.value).toBeLessThan(0.032);
  });

  it('teaches nothing about the flow of the pump where other pulls took more without it', () => {
    const pulls = day.verdicts.pulls.map((pull) => (pull.entry === '16' ? led() : pull));
    const taught = taughtModel({ ...day, verdicts: { ...day.verdicts, pulls }, map: MAP });
    expect(taught.values.has('fuelPumpFlow')).toBe(false);
  }, 60_000);
});

describe('surge', () => {
  /** Pull 24 as if surge led with nine to one from a time on. */
  const surging = (from: number): PullVerdict => {
    const { verdict } = pullNamed('24');
    const [one] = verdict.occurrences;
    const windows = [{ ...one.windows[0], from, to: from + 0.5 }];
    const hypotheses = [{ ...one.hypotheses[0], fault: 'surge', probability: 0.9 } as const];
    return { ...verdict, occurrences: [{ ...one, windows, hypotheses }] };
  };
  const learnt = (from: number): string => {
    const pulls = day.verdicts.pulls.map((pull) => (pull.entry === '24' ? surging(from) : pull));
    const taught = taughtModel({ ...day, verdicts: { ...day.verdicts, pulls }, map: MAP });
    return taught.values.get('surgeFlowFactor')?.learnt ?? '';
  };

  it('under load teaches where its border lies; a flutter when the throttle closes says that it ran clean under load', () => {
    const { fromTime, toTime } = pullNamed('24').verdict.pull.segment;
    expect(learnt((fromTime + toTime) / 2)).toMatch(/^surge at \d+ rpm in pull 24, none in \d+ other pulls$/);
    expect(learnt(toTime + 0.1)).toMatch(/^no surge in \d+ pulls$/);
  }, 60_000);
});

describe('what a person overruled', () => {
  it('teaches nothing: neither that it was there nor that it was not', () => {
    const without = taughtModel({ ...overruled('head-lift'), map: MAP });
    const lift = without.values.get('headLiftPressure');
    expect(lift?.learnt ?? '').not.toMatch(/pull 2[456]/);
    const breakup = taughtModel({ ...overruled('ignition-breakup'), map: MAP }).values.get('sparkDemandFactor');
    expect(breakup?.learnt).toMatch(/^no ignition breakup in \d+ pulls$/);
    expect(breakup?.value).toBeLessThan(model.values.get('sparkDemandFactor')?.value ?? 0);
  }, 60_000);

  it('a day without a verdict is left as it is', () => {
    const none = taughtModel({ ...day, verdicts: { pulls: [], asked: [], findings: [] }, map: MAP });
    expect([...none.values.values()].filter(({ learnt }) => learnt !== undefined)).toEqual([]);
  });
});
