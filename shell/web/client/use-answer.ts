import { useCallback, useEffect, useRef, useState } from 'react';
import type { z } from 'zod';
import type { RefusalRecord } from '../../contract/index.ts';
import { ask } from './ask.ts';

/** A question on its way, its answer, or its refusal. `cancel` ends the waiting. */
export type Asked<Value> =
  | { readonly state: 'loading'; readonly cancel: () => void }
  | { readonly state: 'here'; readonly value: Value; readonly stale: boolean }
  | { readonly state: 'refused'; readonly refusal: RefusalRecord; readonly again: () => void };

/**
 * Asks the server for `path` and keeps the answer until the path changes. While a changed path is loading, the former answer stays, marked stale.
 * An undefined path asks nothing.
 */
export function useAnswer<Schema extends z.ZodType>(
  path: string | undefined,
  schema: Schema,
): {
  readonly asked: Asked<z.output<Schema>>;
  readonly reload: () => void;
  readonly put: (value: z.output<Schema>) => void;
} {
  const abort = useRef<AbortController>(undefined);
  const cancel = useCallback(() => abort.current?.abort(), []);
  const [round, setRound] = useState(0);
  const [asked, setAsked] = useState<Asked<z.output<Schema>>>({ state: 'loading', cancel });
  const reload = useCallback(() => setRound((count) => count + 1), []);
  const put = useCallback((value: z.output<Schema>) => setAsked({ state: 'here', value, stale: false }), []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `round` asks again on purpose
  useEffect(() => {
    if (path === undefined) return;
    const mine = new AbortController();
    abort.current = mine;
    setAsked((former) => (former.state === 'here' ? { ...former, stale: true } : { state: 'loading', cancel }));
    ask(path, schema, mine.signal).then((answer) => {
      if (abort.current !== mine) return;
      if (answer.ok) setAsked({ state: 'here', value: answer.value, stale: false });
      else setAsked({ state: 'refused', refusal: answer.refusal, again: reload });
    });
    return () => {
      if (abort.current === mine) abort.current = undefined;
      mine.abort();
    };
  }, [path, round, schema, cancel, reload]);
  return { asked, reload, put };
}
