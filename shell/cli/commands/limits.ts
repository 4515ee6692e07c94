import { answered, type Outcome } from '../../../core/quantities/index.ts';
import { type EngineModel, type ScaleRead, scaleOf } from '../../../day/plans/index.ts';
import type { ScaledView } from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import {
  encodeAdvice,
  encodeLimits,
  encodeNext,
  encodeRoom,
  encodeScaled,
  encodeSeries,
  readGoal,
  readKeep,
  readRoom,
  readSeries,
  readStep,
} from '../../server/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { jsonText } from '../plain-json.ts';
import { work } from '../progress.ts';
import { refuse, refuseOrWrong, wrong } from '../refuse.ts';
import { limitsText } from '../text/limits-text.ts';
import { unitSystem } from '../units-option.ts';
import { withDesk } from '../with-desk.ts';

export const limitsCommand: Command = {
  name: 'limits',
  summary: 'every limit ahead of a step, its margin, and which comes first',
  usage: [
    'knurl limits FOLDER [--at STEP] [--goal TORQUE|POWER] [--room LIMIT|every] [--advice] [--keep SHARE]',
    '                    [--pulls N] [--scale ENGINE] [--all]',
  ].join('\n'),
  details: [
    'FOLDER holds day.yaml and its logs. What day.yaml says under parts counts; what it does not say is a usual',
    'value of the trade with a wide spread, and every answer that rests on one says so.',
    '',
    '  --at STEP          what is thought of: MAP, timing, phase, lambda, gap, dwell, coil voltage, ratio, straps,',
    '                     altitude, ambient, ambient pressure, humidity, soak, water, ice, inlet loss,',
    '                     octane, ethanol, ballast, tread, each with its unit, and fuel with its name;',
    '                     what is not named stays as in the last pull',
    '  --goal WANTED      torque or power at the crankshaft, with `at SPEED` behind it or without: can these parts?',
    '  --room LIMIT       highest manifold pressure by engine speed that this limit allows; every: that all known ones allow',
    '  --advice           with what could be done: straps or ballast, which gear, and what is usual for the plugs',
    '  --keep SHARE       with --room: share of the limit kept in hand, such as 3 %; with --advice: of the tyres’ limit',
    '  --scale ENGINE     a result of the day carried to another displacement, number of cylinders, ambient, ambient',
    '                     pressure or altitude, each with its unit; `pull ID` names the pull, else the one that made most',
    '  --pulls N          the charge cooler over so many equal pulls, and how long until it is ready again',
    '  --pause TIME       with --pulls: from the end of one pull to the next, such as 8 min',
    '  --all              with the values that the answer rests on',
  ].join('\n'),
  examples: [
    'knurl limits plateau',
    'knurl limits plateau --at "MAP 215 kPa, phase 3°, altitude 3200 m"',
    'knurl limits plateau --goal "500 N·m at 4000 rpm"',
    'knurl limits plateau --at "altitude 3200 m, ambient 12 °C" --room "compressor speed" --keep "3 %"',
    'knurl limits plateau --at "MAP 230 kPa" --advice --keep "10 %"',
    'knurl limits plateau --at "soak 0 K" --pulls 6 --pause "8 min"',
    'knurl limits plateau --at "gap 0.55 mm" --scale "displacement 2.0 L, 4 cylinders, ambient 35 °C" --json',
  ],
  options: {
    pulls: { type: 'string' },
    pause: { type: 'string' },
    room: { type: 'string' },
    keep: { type: 'string' },
    at: { type: 'string' },
    goal: { type: 'string' },
    advice: { type: 'boolean' },
    scale: { type: 'string' },
    all: { type: 'boolean' },
  },
  run: readLimits,
};

async function readLimits(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  const [folder] = asked.words;
  if (folder === undefined || asked.words.length > 1)
    return wrong('missing folder: name the folder of one day', surroundings);
  const wanted = asked.text('goal');
  const goal = wanted === undefined ? answered(undefined) : readGoal(wanted);
  if (!goal.ok) return wrong(goal.refusal.message, surroundings);
  const room = readRoom(asked.text('room'), asked.text('keep'));
  if (!room.ok) return wrong(room.refusal.message, surroundings);
  const pulls = asked.text('pulls');
  if (pulls === undefined && asked.text('pause') !== undefined)
    return wrong('missing --pulls: --pause belongs to it', surroundings);
  const series = pulls === undefined ? answered(undefined) : readSeries(pulls, asked.text('pause'));
  if (!series.ok) return wrong(series.refusal.message, surroundings);
  const roomed = asked.text('room') !== undefined;
  const kept = readKeep(asked.text('keep'));
  if (!kept.ok) return wrong(kept.refusal.message, surroundings);
  if (!roomed && !asked.flag('advice') && asked.text('keep') !== undefined)
    return wrong('missing --room or --advice: --keep belongs to them', surroundings);
  const scale = asked.text('scale');
  const to = scale === undefined ? answered(undefined) : scaleOf(scale);
  if (!to.ok) return wrong(to.refusal.message, surroundings);
  return withDesk(asked, surroundings, async (desk) => {
    const opened = await desk.openFolder(folder);
    if (!opened.ok) return refuse(opened.refusal, surroundings);
    const { id } = opened.value;
    const facts = desk.facts(id);
    if (!facts.ok) return refuse(facts.refusal, surroundings);
    const { done, ...progress } = work(surroundings);
    const engine = await desk.engine(id, progress);
    done();
    if (!engine.ok) return refuse(engine.refusal, surroundings);
    const step = readStep(engine.value, asked.text('at'));
    if (!step.ok) return wrong(step.refusal.message, surroundings);
    const limits = encodeLimits({ id, facts: facts.value }, step.value);
    const next = encodeNext(step.value, goal.value);
    const far = roomed ? encodeRoom(step.value, room.value) : undefined;
    const advice = encodeAdvice(step.value, facts.value, asked.flag('advice') ? kept.value : undefined);
    const carried = await carriedOver(desk, { id, model: engine.value.model, to: to.value });
    if (!carried.ok)
      return refuseOrWrong(carried.refusal, surroundings, carried.refusal.kind === 'unknown-pull' ? 2 : undefined);
    const scaled = carried.value;
    const heat = series.value && encodeSeries(engine.value.model, step.value.step, series.value);
    const style = { width: surroundings.width, system: unitSystem(asked) };
    const words = { all: asked.flag('all'), advice: asked.flag('advice'), at: asked.text('at') };
    surroundings.out(
      asked.flag('json')
        ? jsonText({
            ...{ ...limits, ...next, advice },
            ...(far && { room: far }),
            ...(heat && { cooling: heat }),
            ...(scaled && { scaled }),
          })
        : limitsText({ limits, next, room: far, series: heat, advice, scaled }, style, words),
    );
    return 0;
  });
}

interface Wanted {
  readonly id: string;
  readonly model: EngineModel;
  readonly to: ScaleRead | undefined;
}

/** A result of the day carried over; undefined where nobody asked. */
async function carriedOver(desk: Desk, { id, model, to }: Wanted): Promise<Outcome<ScaledView | undefined>> {
  if (to === undefined) return answered(undefined);
  const report = await desk.report(id);
  return report.ok ? encodeScaled({ report: report.value, model }, to) : report;
}
