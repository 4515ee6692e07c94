import {
  adviceQuery,
  adviceView,
  crankQuery,
  crankView,
  limitPictures,
  limitsQuery,
  limitsView,
  mapPoints,
  nextQuery,
  nextView,
  roomQuery,
  roomView,
  scaledQuery,
  scaledView,
} from '../../contract/index.ts';
import type { Desk } from '../../desk/index.ts';
import { answerOf } from '../answers.ts';
import { encodeAdvice } from '../encode/advice/advice.ts';
import { encodeCrank, readSpeed } from '../encode/crank.ts';
import { encodePictures } from '../encode/limit-pictures.ts';
import { encodeLimits } from '../encode/limits.ts';
import { encodeMapPoints } from '../encode/map-points.ts';
import { encodeNext } from '../encode/next-limits.ts';
import { encodeRoom } from '../encode/room.ts';
import { encodeScaled } from '../encode/scaled.ts';
import { readGoal } from '../forms/read-goal.ts';
import { readKeep, readRoom } from '../forms/read-room.ts';
import { readScaled } from '../forms/read-scaled.ts';
import { readStep } from '../forms/read-step.ts';
import { type App, answers, ofDay } from './app.ts';

/** Every limit ahead of a step, and which comes first. */
export function limitRoutes(app: App, desk: Desk): void {
  const schema = { params: ofDay, querystring: limitsQuery, response: answers(limitsView) };
  app.get('/days/:day/limits', { schema }, async ({ params: { day }, query }) => {
    const facts = answerOf(desk.facts(day));
    return encodeLimits({ id: day, facts }, await askedStep(desk, day, query.at));
  });

  const picturesSchema = { params: ofDay, querystring: limitsQuery, response: answers(limitPictures) };
  app.get('/days/:day/limits/pictures', { schema: picturesSchema }, async ({ params: { day }, query }) =>
    encodePictures(await askedStep(desk, day, query.at)),
  );

  const crankSchema = { params: ofDay, querystring: crankQuery, response: answers(crankView) };
  app.get('/days/:day/limits/crank', { schema: crankSchema }, async ({ params: { day }, query }) => {
    const speed = answerOf(readSpeed(query.speed));
    return encodeCrank(await askedStep(desk, day, query.at), speed);
  });

  const pointsSchema = { params: ofDay, response: answers(mapPoints) };
  app.get('/days/:day/limits/points', { schema: pointsSchema }, async ({ params: { day } }) =>
    encodeMapPoints(answerOf(await desk.engine(day)), answerOf(desk.facts(day))),
  );

  const scaledSchema = { params: ofDay, querystring: scaledQuery, response: answers(scaledView) };
  app.get('/days/:day/limits/scaled', { schema: scaledSchema }, async ({ params: { day }, query }) => {
    const asked = answerOf(readScaled(query));
    const { model } = answerOf(await desk.engine(day));
    return answerOf(encodeScaled({ report: answerOf(await desk.report(day)), model }, asked));
  });

  const adviceSchema = { params: ofDay, querystring: adviceQuery, response: answers(adviceView) };
  app.get('/days/:day/limits/advice', { schema: adviceSchema }, async ({ params: { day }, query }) => {
    const kept = answerOf(readKeep(query.keep));
    const facts = answerOf(desk.facts(day));
    return encodeAdvice(await askedStep(desk, day, query.at), facts, kept);
  });

  const roomSchema = { params: ofDay, querystring: roomQuery, response: answers(roomView) };
  app.get('/days/:day/limits/room', { schema: roomSchema }, async ({ params: { day }, query }) => {
    const asked = answerOf(readRoom(query.limit, query.keep));
    return encodeRoom(await askedStep(desk, day, query.at), asked);
  });

  const nextSchema = { params: ofDay, querystring: nextQuery, response: answers(nextView) };
  app.get('/days/:day/limits/next', { schema: nextSchema }, async ({ params: { day }, query }) => {
    const goal = query.goal === undefined ? undefined : answerOf(readGoal(query.goal));
    return encodeNext(await askedStep(desk, day, query.at), goal);
  });
}

async function askedStep(desk: Desk, day: string, at: string | undefined) {
  return answerOf(readStep(answerOf(await desk.engine(day)), at));
}
