import type { Outcome } from '../../../core/quantities/index.ts';
import type { EngineModel, Step } from '../model/engine-model.ts';
import type { Observation } from '../model/observations.ts';
import type { Foresight } from './foresight.ts';
import { foretold } from './foretold.ts';
import { type Goal, type GoalAnswer, goalOf } from './goal.ts';
import { type LargestPressure, largestPressureOf, type PressureQuestion } from './largest-pressure.ts';
import type { Limit, NextLimit } from './limit.ts';
import { limitsOf } from './limits-of.ts';
import { type NextQuestion, nextLimitsOf } from './next-limits.ts';
import { type CompressorPicture, compressorPictureOf } from './pictures/compressor-picture.ts';
import { type CompressorPoints, compressorPointsOf } from './pictures/compressor-points.ts';
import { type CrankPicture, crankPictureOf } from './pictures/crank-picture.ts';
import { type MapAxes, type SparkMarginMap, sparkMarginMapOf } from './pictures/spark-margin-map.ts';
import { type PressureRoom, pressureRoomOf } from './pressure-room.ts';

/** A model with the predictor of this package. */
export function foresightOf(model: EngineModel): Foresight {
  return { model, predict: (step, speeds) => foretold(model, step, speeds) };
}

/** Every limit for one step over engine speeds [rad/s]. */
export function limitsAt(model: EngineModel, step: Step, speeds: Float64Array): readonly Limit[] {
  return limitsOf(foresightOf(model), step, speeds);
}

/** As {@link nextLimitsOf}. */
export function nextLimits(model: EngineModel, step: Step, question?: NextQuestion): readonly NextLimit[] {
  return nextLimitsOf(foresightOf(model), step, question);
}

/** As {@link largestPressureOf}. */
export function largestPressure(model: EngineModel, step: Step, question: PressureQuestion): LargestPressure {
  return largestPressureOf(foresightOf(model), step, question);
}

/** As {@link pressureRoomOf}. */
export function pressureRoom(
  model: EngineModel,
  step: Step,
  question?: Parameters<typeof pressureRoomOf>[2],
): PressureRoom {
  return pressureRoomOf(foresightOf(model), step, question);
}

/** As {@link goalOf}. */
export function goal(model: EngineModel, wanted: Goal, step: Step): GoalAnswer {
  return goalOf(foresightOf(model), wanted, step);
}

/** As {@link sparkMarginMapOf}. */
export function sparkMarginMap(model: EngineModel, step: Step, axes: MapAxes): SparkMarginMap {
  return sparkMarginMapOf(foresightOf(model), step, axes);
}

/** As {@link compressorPictureOf}. */
export function compressorPicture(model: EngineModel, step: Step, speeds: Float64Array): Outcome<CompressorPicture> {
  return compressorPictureOf(foresightOf(model), step, speeds);
}

/** As {@link compressorPointsOf}. */
export function compressorPoints(
  model: EngineModel,
  observations: readonly Observation[],
): Outcome<readonly CompressorPoints[]> {
  return compressorPointsOf(foresightOf(model), observations);
}

/** As {@link crankPictureOf}. */
export function crankPicture(model: EngineModel, step: Step, speed: number): Outcome<CrankPicture> {
  return crankPictureOf(foresightOf(model), step, speed);
}
