import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { BodySeen } from '../../day/channels/index.ts';
import type { Segment, SegmentTask } from './segment.ts';
import type { SegmentAnswer, SegmentQuestion } from './segment-worker.ts';

/** Threads that read segments. They stay for the next file and do not keep the process alive. */
class SegmentPool {
  private readonly workers: Worker[] = [];
  private readonly waiting = new Map<
    number,
    { resolve: (answer: SegmentAnswer) => void; reject: (error: Error) => void }
  >();
  private next = 0;

  async count(worker: number, segment: Segment): Promise<number> {
    const answer = await this.ask(worker, { id: this.next++, kind: 'count', segment });
    if (answer.kind !== 'count') throw new Error(`worker answered ${answer.kind}`);
    return answer.lines;
  }

  async read(worker: number, task: SegmentTask): Promise<BodySeen | undefined> {
    const answer = await this.ask(worker, { id: this.next++, kind: 'read', task });
    if (answer.kind !== 'read') throw new Error(`worker answered ${answer.kind}`);
    return answer.seen;
  }

  private ask(worker: number, question: SegmentQuestion): Promise<SegmentAnswer> {
    return new Promise((resolve, reject) => {
      const thread = this.thread(worker);
      this.waiting.set(question.id, { resolve, reject });
      thread.ref();
      thread.postMessage(question);
    });
  }

  private thread(index: number): Worker {
    const known = this.workers[index];
    if (known) return known;
    const extension = import.meta.url.endsWith('.ts') ? 'ts' : 'js';
    const thread = new Worker(new URL(`./segment-worker.${extension}`, import.meta.url));
    thread.on('message', (answer: SegmentAnswer) => this.settle(thread, answer));
    thread.on('error', (error) => this.fail(error));
    this.workers[index] = thread;
    return thread;
  }

  private settle(thread: Worker, answer: SegmentAnswer): void {
    const asked = this.waiting.get(answer.id);
    this.waiting.delete(answer.id);
    if (this.waiting.size === 0) for (const worker of this.workers) worker.unref();
    else thread.ref();
    if (answer.kind === 'failed') asked?.reject(new Error(answer.message));
    else asked?.resolve(answer);
  }

  private fail(error: unknown): void {
    const all = [...this.waiting.values()];
    this.waiting.clear();
    this.workers.length = 0;
    for (const { reject } of all) reject(error instanceof Error ? error : new Error(String(error)));
  }
}

/** The one pool of this process. */
export const segmentPool = new SegmentPool();

/** Threads worth having: one per processor, at most eight. @source our default */
export function threadCount(): number {
  return Math.min(8, availableParallelism());
}
