import { parentPort } from 'node:worker_threads';
import type { BodySeen } from '../../day/channels/index.ts';
import { lineCount, readSegment, type Segment, type SegmentTask } from './segment.ts';

/** A question to a worker; the answer bears the same number. */
export type SegmentQuestion =
  | { readonly id: number; readonly kind: 'count'; readonly segment: Segment }
  | { readonly id: number; readonly kind: 'read'; readonly task: SegmentTask };

export type SegmentAnswer =
  | { readonly id: number; readonly kind: 'count'; readonly lines: number }
  | { readonly id: number; readonly kind: 'read'; readonly seen: BodySeen | undefined }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };

parentPort?.on('message', (question: SegmentQuestion) => {
  parentPort?.postMessage(answer(question));
});

function answer(question: SegmentQuestion): SegmentAnswer {
  const { id } = question;
  try {
    return question.kind === 'count'
      ? { id, kind: 'count', lines: lineCount(question.segment) }
      : { id, kind: 'read', seen: readSegment(question.task) };
  } catch (error) {
    return { id, kind: 'failed', message: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
