import { expect, test } from 'vitest';
import type { StepControl } from '../../contract/index.ts';
import { stepText } from './step-text.ts';
import { turnedControls } from './turned.ts';

const control = (name: string, word: string, named: boolean): StepControl => ({
  ...{ name, word, named, title: name, kind: 'absolute-pressure', value: 200e3, low: 0, high: 400e3, increment: 1e3 },
});
const CONTROLS = [control('a', 'A', false), control('b', 'B', true)];
const NOTHING = { name: '', value: undefined };

test('nothing turned: the answer as it is', () => {
  expect(turnedControls(CONTROLS, new Map())).toBe(CONTROLS);
});

test('two things turned before any answer came are both in force', () => {
  const turned = turnedControls(
    CONTROLS,
    new Map([
      ['a', 210e3],
      ['b', 190e3],
    ]),
  );
  expect(stepText(turned, NOTHING)).toBe('A 210 kPa, B 190 kPa');
});

test('taken back: no longer named', () => {
  expect(stepText(turnedControls(CONTROLS, new Map([['b', undefined]])), NOTHING)).toBe('');
});
