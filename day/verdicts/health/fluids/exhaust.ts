import { measured } from '../../../../core/quantities/index.ts';
import { middle } from '../../scene/series.ts';
import { exhaustSpec } from '../lines/line-table.ts';
import type { PullState } from '../pull-state.ts';
import { type HealthFinding, heldValue } from '../result.ts';
import { atPoints, type FluidQuestion, lineOf, type PressureHealth, restsOf } from './pressures.ts';

/** Exhaust temperatures of the day; spreads: between the hottest and the coolest place of each pull [K]. */
export interface ExhaustHealth extends PressureHealth {
  readonly spreads: readonly {
    readonly entry: string;
    readonly spread: number;
    readonly hottest: string;
    readonly coolest: string;
  }[];
}

/** Exhaust temperature at equal load, and its spread between places. @source limits: thresholds `exhaust.…` */
export function exhaustHealth(question: FluidQuestion): ExhaustHealth {
  const { limits, pulls } = question;
  const { line, unknown } = lineOf(exhaustSpec(limits), question);
  const risen = atPoints(line, (point, i) => {
    const { value, standardUncertainty } = point.deviation;
    if (!(value > limits['exhaust.rise'].value && value > limits['significance'].value * standardUncertainty))
      return [];
    return [
      {
        ...{
          kind: 'exhaust-temperature-rise',
          subject: 'heat',
          stopClass: 1,
          entry: point.entry,
          changed: point.changed,
        },
        rests: restsOf(line, i),
        values: [heldValue('exhaust temperature above that at equal load', point.deviation, limits['exhaust.rise'])],
        why: 'hotter at equal pressure, timing and mixture as far as they are known: late burning, lean cylinder, restriction',
      },
    ];
  });
  const spreads = pulls.flatMap((pull) => spreadOf(pull) ?? []);
  const wide = spreads.flatMap(({ entry, spread, hottest, coolest }): readonly HealthFinding[] => {
    if (!(spread > limits['exhaust.spread'].value)) return [];
    return [
      {
        ...{ kind: 'exhaust-temperature-spread', subject: 'heat', stopClass: 1, entry, rests: [entry], changed: [] },
        values: [
          heldValue(
            `${hottest} above ${coolest}`,
            measured(spread, limits['exhaust.repeat'].value),
            limits['exhaust.spread'],
          ),
        ],
        why: 'places differ more than sensors and runners usually do: one cylinder or bank burns otherwise',
      },
    ];
  });
  return { line, spreads, findings: [...risen, ...wide], unknown };
}

/** Spread of the places over the upper half of the engine speeds; undefined with fewer than two. */
function spreadOf({ entry, cells }: PullState): ExhaustHealth['spreads'][number] | undefined {
  const names = [...new Set(cells.flatMap(({ values }) => [...values.keys()]))].filter((name) =>
    name.startsWith('exhaust-temperature@'),
  );
  const upper = cells.slice(Math.floor(cells.length / 2));
  const levels = names
    .map((name) => ({
      name: name.slice(name.indexOf('@') + 1),
      level: middle(upper.map(({ values }) => values.get(name) ?? Number.NaN)),
    }))
    .filter(({ level }) => Number.isFinite(level))
    .sort((a, b) => b.level - a.level);
  const [first, last] = [levels[0], levels[levels.length - 1]];
  if (!first || levels.length < 2) return undefined;
  return { entry: entry.id, spread: first.level - last.level, hottest: first.name, coolest: last.name };
}
