import { useCallback, useEffect, useState } from 'react';
import {
  type DayView,
  dayView,
  type ProgressEvent,
  progressEvent,
  type RefusalRecord,
  refusedEvent,
} from '../../contract/index.ts';
import { paths } from './paths.ts';

/** A day being worked out: how far it is, its answer, or its refusal. */
export type Working =
  | { readonly state: 'working'; readonly progress: ProgressEvent | undefined; readonly cancel: () => void }
  | { readonly state: 'here'; readonly value: DayView }
  | { readonly state: 'refused'; readonly refusal: RefusalRecord; readonly again: () => void };

const GONE: RefusalRecord = { kind: 'server-gone', message: 'missing answer: the server ended the work early' };
const CANCELLED: RefusalRecord = { kind: 'cancelled', message: 'cancelled' };

/** Works out a day with progress. Leaving or cancelling closes the stream, and that ends the work on the server. */
export function useWork(day: string): { readonly work: Working; readonly reload: () => void } {
  const [round, setRound] = useState(0);
  const reload = useCallback(() => setRound((count) => count + 1), []);
  const [work, setWork] = useState<Working>({ state: 'working', progress: undefined, cancel: () => undefined });
  // biome-ignore lint/correctness/useExhaustiveDependencies: `round` asks again on purpose
  useEffect(() => {
    const stream = new EventSource(paths.work(day));
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
      setWork({ state: 'here', value: dayView.parse(JSON.parse(data)) });
    });
    stream.addEventListener('refused', ({ data }) => refuse(refusedEvent.parse(JSON.parse(data)).refusal));
    stream.addEventListener('error', () => refuse(GONE));
    return () => stream.close();
  }, [day, round, reload]);
  return { work, reload };
}
