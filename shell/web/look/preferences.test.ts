import { expect, test } from 'vitest';
import { FIRST_PREFERENCES, readPreferences, unitGroupOf } from './preferences.ts';
import { writingFor } from './writing.ts';

test.each([[null], ['not json'], ['3'], ['{"theme":"neon","units":{"power":"furlong"},"keys":"yes"}']])(
  '%s falls back to the first preferences',
  (kept) => {
    expect(readPreferences(kept)).toEqual(FIRST_PREFERENCES);
  },
);

test('what was kept comes back', () => {
  const kept = {
    ...FIRST_PREFERENCES,
    theme: 'sunlight',
    keys: false,
    units: { ...FIRST_PREFERENCES.units, speed: 'imperial' },
  };
  expect(readPreferences(JSON.stringify(kept))).toEqual(kept);
});

test('units switch by group', () => {
  const writing = writingFor({ ...FIRST_PREFERENCES, units: { ...FIRST_PREFERENCES.units, power: 'imperial' } });
  expect(writing.text(745.699872, 'power')).toBe('1.0 hp');
  expect(writing.text(1, 'torque')).toBe('1.0 N·m');
  expect(writing.text(null, 'power')).toBe('–');
  expect(unitGroupOf('force')).toBe('torque and force');
});
