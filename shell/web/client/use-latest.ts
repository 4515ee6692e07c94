import { useCallback, useEffect, useRef, useState } from 'react';
import type { z } from 'zod';
import { ask } from './ask.ts';
import type { Asked } from './use-answer.ts';

/** An answer counts as old when a newer one has not come for so long [ms]. @source our default: what the eye takes for at once */
const OLD = 250;

/** of: the path that was answered last. */
export interface Latest<Value> {
  readonly asked: Asked<Value>;
  readonly of: string | undefined;
}

/**
 * Asks for a path that changes while a hand turns something: one question at a time, and when its answer is there the newest one. No answer is thrown
 * away, so the page follows the hand at the pace of the answers.
 */
export function useLatest<Schema extends z.ZodType>(path: string, schema: Schema): Latest<z.output<Schema>> {
  type Value = z.output<Schema>;
  const running = useRef<AbortController>(undefined);
  const wanted = useRef(path);
  const alive = useRef(true);
  const cancel = useCallback(() => running.current?.abort(), []);
  const [latest, setLatest] = useState<Latest<Value>>({ asked: { state: 'loading', cancel }, of: undefined });
  const run = useCallback(async () => {
    if (running.current) return;
    for (let of: string | undefined; alive.current && of !== wanted.current; ) {
      of = wanted.current;
      running.current = new AbortController();
      const answer = await ask(of, schema, running.current.signal);
      running.current = undefined;
      if (!alive.current) return;
      const again = () => {
        setLatest({ asked: { state: 'loading', cancel }, of: undefined });
        run();
      };
      const asked: Asked<Value> = answer.ok
        ? { state: 'here', value: answer.value, stale: false }
        : { state: 'refused', refusal: answer.refusal, again };
      setLatest({ asked, of });
    }
  }, [schema, cancel]);
  useEffect(() => {
    alive.current = true;
    wanted.current = path;
    run();
    const timer = setTimeout(() => setLatest((former) => aged(former, path)), OLD);
    return () => clearTimeout(timer);
  }, [path, run]);
  useEffect(
    () => () => {
      alive.current = false;
      running.current?.abort();
      running.current = undefined;
    },
    [],
  );
  return latest;
}

function aged<Value>(former: Latest<Value>, path: string): Latest<Value> {
  const { asked, of } = former;
  return asked.state === 'here' && of !== path && !asked.stale ? { asked: { ...asked, stale: true }, of } : former;
}
