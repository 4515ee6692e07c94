import { useEffect, useState } from 'react';
import { seenEvent } from '../../contract/index.ts';
import { paths } from './paths.ts';

export type Watch = 'off' | 'connecting' | 'watching' | 'lost';

/** Watches the day's folder; calls back for every log that appeared. Off when `on` is false. */
export function useWatch(day: string, on: boolean, seen: (entry: string) => void): Watch {
  const [watch, setWatch] = useState<Watch>('off');
  useEffect(() => {
    if (!on) {
      setWatch('off');
      return;
    }
    setWatch('connecting');
    const stream = new EventSource(paths.watch(day));
    stream.addEventListener('watching', () => setWatch('watching'));
    stream.addEventListener('seen', ({ data }) => seen(seenEvent.parse(JSON.parse(data)).entry));
    stream.addEventListener('error', () => setWatch('lost'));
    return () => stream.close();
  }, [day, on, seen]);
  return watch;
}
