import { expect, it } from 'vitest';
import { detected } from '../../testing/behaves.ts';
import { dropout } from './dropout.ts';

it('a guard that keeps its last value for nearly as long as one that is stuck holds the load as well', () => {
  const kept = (seconds: number) => {
    let last = Number.NaN;
    return detected(dropout, {
      change: {
        'oil-pressure': (value, { t }) => {
          if (!(t > 5 && t < 5 + seconds)) last = value;
          return last;
        },
      },
    });
  };
  expect(kept(0.5)).toMatchObject({ answer: 'seen', channel: 'oil-pressure', stopClass: 1 });
  expect(kept(0.85)).toMatchObject({ answer: 'seen', channel: 'oil-pressure', stopClass: 2 });
});
