import { expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { answerOf } from '../store/testing/outcomes.ts';
import { deskInFolder, folderWith } from './testing/desk-in-folder.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '10'] });
const without = files.filter(({ name }) => name !== 'compressor-map.csv');

it('gives the engine of a day with the map of its compressor, and the pressure of the last pull', async () => {
  const desk = await deskInFolder();
  const opened = await desk.openFolder(folderWith(files));
  expect(opened.ok && opened.findings).toEqual([]);
  const { id } = answerOf(opened);
  const { model, step, from, findings } = answerOf(await desk.engine(id));
  expect(findings).toEqual([]);
  expect(model.map?.lines).toHaveLength(6);
  expect(from).toBe('10');
  expect(step.manifoldPressure / 200e3).toBeCloseTo(1, 1);
  expect(answerOf(await desk.engine(id)).model).toBe(model);
});

it('the map is no log: no entry waits for its columns, and the report knows nothing of it', async () => {
  const desk = await deskInFolder();
  const { id } = answerOf(await desk.openFolder(folderWith(files)));
  const report = answerOf(await desk.report(id));
  expect(report.entries.flatMap(({ questions }) => questions)).toEqual([]);
  expect(report.findings.filter(({ place }) => place?.file === 'compressor-map.csv')).toEqual([]);
});

it('says that a map which the facts name is not there', async () => {
  const desk = await deskInFolder();
  const opened = await desk.openFolder(folderWith(without));
  expect(opened.ok && opened.findings).toMatchObject([{ kind: 'missing-file', place: { file: 'compressor-map.csv' } }]);
  const { model, findings } = answerOf(await desk.engine(answerOf(opened).id));
  expect(model.map).toBeUndefined();
  expect(findings).toMatchObject([{ kind: 'map-not-read', place: { file: 'compressor-map.csv' } }]);
});

it('refuses a day that is not there', async () => {
  const desk = await deskInFolder();
  expect(await desk.engine('none')).toMatchObject({ ok: false, refusal: { kind: 'unknown-day' } });
});
