import { useCallback, useEffect, useState } from 'react';
import type { z } from 'zod';
import {
  type DayView,
  dayView,
  type ProgressEvent,
  progressEvent,
  type RefusalRecord,
  refusedEvent,
} from '../../contract/index.ts';
import { paths } from './paths.ts';

/** Something being worked out: how far it is, its answer, or its refusal. */
export type Working<Value = DayView> =
  | { readonly state: 'working'; readonly progress: ProgressEvent | undefined; readonly cancel: () => void }
  | { readonly state: 'here'; readonly value: Value }
  | { readonly state: 'refused'; readonly refusal: RefusalRecord; readonly again: () => void };

const GONE: RefusalRecord = { kind: 'server-gone', message: 'missing answer: the server ended the work early' };
const CANCELLED: RefusalRecord = { kind: 'cancelled', message: 'cancelled' };

/** Works out a day with progress. */
export function useWork(day: string): { readonly work: Working; readonly reload: () => void } {
  return useWorkAt(paths.work(day), dayView);
}

/** Works something out with progress. Leaving or cancelling closes the stream, and that ends the work on the server. */
export function useWorkAt<Schema extends z.ZodType>(
  path: string,
  schema: Schema,
): { readonly work: Working<z.output<Schema>>; readonly reload: () => void } {
  const [round, setRound] = useState(0);
  const reload = useCallback(() => setRound((count) => count + 1), []);
  const [work, setWork] = useState<Working<z.output<Schema>>>({
    state: 'working',
    progress: undefined,
    cancel: () => undefined,
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: `round` asks again on purpose
  useEffect(() => {
    const stream = new EventSource(path);
    const refuse = (refusal: RefusalRecord) => {
      stream.close();
      setWork({ state: 'refused', refusal, again: reload });
    };
    const cancel = () => refuse(CANCELLED);
    setWork((former) => (former.state === 'here' ? former : { state: 'working', progress: undefined, cancel }));
    stream.addEventListener('progress', ({ data }) => {
      const progress = progressEvent.parse(JSON.parse(data));
      setWork((former) => (former.state === 'here' ? former : { state: 'working', progress, cancel }));
    });
    stream.addEventListener('answer', ({ data }) => {
      stream.close();
      setWork({ state: 'here', value: schema.parse(JSON.parse(data)) });
    });
    stream.addEventListener('refused', ({ data }) => refuse(refusedEvent.parse(JSON.parse(data)).refusal));
    stream.addEventListener('error', () => refuse(GONE));
    return () => stream.close();
  }, [path, schema, round, reload]);
  return { work, reload };
}
