import { describe, expect, it } from 'vitest';
import { answerOf, refusalOf } from '../testing/outcomes.ts';
import { parseDayText } from './parse.ts';
import { proposeDay } from './propose.ts';
import { writeDayText } from './write.ts';

function pairs(...names: string[]): string[][] {
  return answerOf(proposeDay(names)).entries.map(({ files }) => [...files]);
}

describe('a day proposed from file names', () => {
  it.each([
    [['pull-03-roller.csv', 'pull-03-engine.csv'], [['pull-03-engine.csv', 'pull-03-roller.csv']]],
    [
      ['run7_a.csv', 'run7_b.csv', 'run10_a.csv'],
      [['run7_a.csv', 'run7_b.csv'], ['run10_a.csv']],
    ],
    [['Pull3Roller.csv', 'pull_03_ENGINE.txt'], [['pull_03_ENGINE.txt', 'Pull3Roller.csv']]],
    [['17_alpha.csv', '17_beta.csv'], [['17_alpha.csv', '17_beta.csv']]],
    [
      ['baseline_rolle.csv', 'baseline_motor.csv', 'final.csv'],
      [['baseline_motor.csv', 'baseline_rolle.csv'], ['final.csv']],
    ],
    [['log.csv'], [['log.csv']]],
    [['roller/3.csv', 'engine/3.csv'], [['engine/3.csv', 'roller/3.csv']]],
    [
      ['2031-05-14_pull01.csv', '2031-05-14_pull02.csv'],
      [['2031-05-14_pull01.csv'], ['2031-05-14_pull02.csv']],
    ],
    [
      ['a1.csv', 'b1.csv', 'engine1.csv'],
      [['a1.csv'], ['b1.csv'], ['engine1.csv']],
    ],
  ])('pairs %j', (names, expected) => {
    expect(pairs(...names)).toEqual(expected);
  });

  it.each([
    [
      ['pull-03-roller.csv', 'pull-03-engine.csv', 'pull-03-sound.wav'],
      [['pull-03-engine.csv', 'pull-03-roller.csv', 'pull-03-sound.wav']],
    ],
    [['17_alpha.csv', '17_beta.csv', '17_mic.WAV'], [['17_alpha.csv', '17_beta.csv', '17_mic.WAV']]],
    [
      ['run-1.csv', 'run-2.csv', 'exhaust run 2.wav'],
      [['run-1.csv'], ['run-2.csv', 'exhaust run 2.wav']],
    ],
    [['run-1.csv', 'memo.wav'], [['run-1.csv']]],
    [['sound-4.wav'], [['sound-4.wav']]],
  ])('puts sounds beside the logs they are named like: %j', (names, expected) => {
    expect(pairs(...names)).toEqual(expected);
  });

  it('says which sound it left out', () => {
    const { findings } = { findings: [], ...proposeDay(['run-1.csv', 'memo.wav']) };
    expect(findings).toMatchObject([{ kind: 'unclear-sound', place: { file: 'memo.wav' } }]);
  });

  it('tells coast-downs from pulls and gives every entry an id of its own', () => {
    const day = answerOf(proposeDay(['coast-1.csv', 'pull-1.csv', 'CoastDown2_roller.csv', 'x.csv', 'x.tsv', 'x.txt']));
    expect(day.entries.map(({ kind }) => kind)).toEqual(['coast-down', 'coast-down', 'pull', 'pull', 'pull', 'pull']);
    expect(new Set(day.entries.map(({ id }) => id)).size).toBe(6);
    expect(parseDayText(writeDayText(day))).toEqual({ ok: true, value: day, findings: [] });
  });

  it('says what it paired, what it could not pair and what it left out', () => {
    const outcome = proposeDay(['1-roller.csv', '1-engine.csv', 'photo.jpg', '.hidden', 'day.yaml']);
    expect(outcome.ok && outcome.findings.map(({ kind }) => kind)).toEqual(['proposed-pair', 'not-a-log']);
    const unclear = proposeDay(['1-a.csv', '1-b.csv', '1-engine.csv']);
    expect(unclear.ok && unclear.findings.map(({ kind }) => kind)).toEqual(['unclear-pair']);
  });

  it('is refused without a log', () => {
    expect(refusalOf(proposeDay(['photo.jpg'])).kind).toBe('missing-logs');
    expect(refusalOf(proposeDay([])).kind).toBe('missing-logs');
  });
});
