import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { readDay } from '../../scenarios/testing/read-day.ts';

// Argonne National Laboratory, D3: full-load accelerations among driving cycles; Karlsruhe, DOI 10.35097/1130: a log renewed once a second; a test
// bench without units. Their sources stand beside them.
const SHARED = fileURLToPath(new URL('../../../shared/data/', import.meta.url));
const absent = existsSync(SHARED) ? '' : ' (skipped: ../shared/data is absent)';

/** What is believed of the channels and called a stop in a log as the only entry of a day, with the channel at fault. */
function believed(path: string): readonly string[] {
  const name = `log.${path.split('.').at(-1)}`;
  const text = `knurl: 1\ntitle: Measured\nentries:\n  - id: "1"\n    kind: pull\n    files: [${name}]\n`;
  const { report } = readDay({
    files: [
      { name: 'day.yaml', bytes: new TextEncoder().encode(text) },
      { name, bytes: readFileSync(`${SHARED}${path}`) },
    ],
  });
  const verdicts = report.entries.flatMap((entry) => entry.verdicts);
  return verdicts.flatMap(({ detections, stopClass }) => [
    ...detections
      .filter(({ subject, answer, strength }) => subject === 'sensors' && answer === 'seen' && strength >= 0.5)
      .map(({ fault, channel }) => `${fault} ${channel ?? ''}`),
    ...(stopClass >= 2 ? [`stop ${stopClass}`] : []),
  ]);
}

describe.skipIf(absent !== '')(`sensors of measured logs${absent}`, () => {
  test('a fuel flow that was never connected is the only channel at fault in the first roller log', () => {
    expect(believed('chassis-dyno-turbodiesel/61410007.tsv')).toEqual(['stuck-channel Fuel_Flow_Bench_Modal']);
  });

  test.each([
    'chassis-dyno-turbodiesel/61410012.tsv',
    'chassis-dyno-turbodiesel/61410016.tsv',
    'obd-turbo-road/free-road-accelerations.csv',
    'gasoline-engine-bench-standardised/gengine1-run10.csv',
  ])('%s has no sensor at fault and no reason to stop', (path) => {
    expect(believed(path)).toEqual([]);
  });
});
