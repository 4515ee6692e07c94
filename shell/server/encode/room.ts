import { pressureRoom, type SetBy, type SpeedRoom } from '../../../day/plans/index.ts';
import type { RoomView } from '../../contract/index.ts';
import type { RoomAsked } from '../forms/read-room.ts';
import { limitTitle } from './limit-words.ts';
import type { AskedStep } from './limits.ts';
import { plainFinding, plainNumber } from './plain.ts';

/** How far manifold pressure may be taken by engine speed. */
export function encodeRoom({ engine, step, findings }: AskedStep, asked: RoomAsked): RoomView {
  const { rows, unknown } = pressureRoom(engine.model, step, asked);
  return {
    rows: rows.map(encodeRow),
    ...(asked.margin === undefined ? {} : { keep: asked.margin }),
    unknown: unknown.map(limitTitle),
    findings: findings.map(plainFinding),
  };
}

function encodeRow({ speed, even, safe, within, passed, judged }: SpeedRoom): RoomView['rows'][number] {
  return {
    ...{ speed, judged, within: plainNumber(within), passed: passed.map(limitTitle) },
    ...(even && { even: encodeSet(even, even.standardUncertainty) }),
    ...(safe && { safe: encodeSet(safe, Number.NaN) }),
  };
}

function encodeSet({ manifoldPressure, name }: SetBy, spread: number) {
  return { manifoldPressure, standardUncertainty: plainNumber(spread), limit: limitTitle(name) };
}
