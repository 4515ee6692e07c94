import { useEffect, useState } from 'react';
import { type RefusalRecord, refusedEvent, seenEvent } from '../../contract/index.ts';
import { paths } from './paths.ts';

export type Watch = 'off' | 'connecting' | 'watching' | 'lost';

interface Watched {
  readonly watch: Watch;
  /** The last log that could not be taken in, until one could. */
  readonly trouble: RefusalRecord | undefined;
}

/** Watches the day's folder; calls back for every log that appeared. Off when `on` is false. */
export function useWatch(day: string, on: boolean, seen: (entry: string) => void): Watched {
  const [watch, setWatch] = useState<Watch>('off');
  const [trouble, setTrouble] = useState<RefusalRecord>();
  useEffect(() => {
    if (!on) {
      setWatch('off');
      return;
    }
    setWatch('connecting');
    const stream = new EventSource(paths.watch(day));
    stream.addEventListener('watching', () => setWatch('watching'));
    stream.addEventListener('seen', ({ data }) => {
      setTrouble(undefined);
      seen(seenEvent.parse(JSON.parse(data)).entry);
    });
    stream.addEventListener('refused', ({ data }) => setTrouble(refusedEvent.parse(JSON.parse(data)).refusal));
    stream.addEventListener('error', () => setWatch('lost'));
    return () => stream.close();
  }, [day, on, seen]);
  return { watch, trouble };
}
