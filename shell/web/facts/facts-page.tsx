import { useCallback, useEffect, useState } from 'react';
import { factsView, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import type { Address } from '../frame/address.ts';
import { InventedBanner, Refused, Whole } from '../frame/states.tsx';
import { usePageKey } from '../frame/use-keys.ts';
import { FactsForm } from './facts-form.tsx';

type FactsAddress = Extract<Address, { page: 'facts' }>;

/** Everything a person knows about the day that is not in the logs. The field that the address names is where writing begins. */
export function FactsPage({ address: { day, field } }: { readonly address: FactsAddress }) {
  const { asked, put } = useAnswer(paths.facts(day), factsView);
  const isHere = asked.state === 'here';
  useEffect(() => {
    if (!isHere || field === undefined) return;
    const input = document.getElementById(`fact-${field}`);
    input?.scrollIntoView({ block: 'center' });
    input?.focus({ preventScroll: true });
  }, [isHere, field]);
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const undo = useCallback(async () => {
    const answer = await tell({ method: 'POST', path: paths.undo(day) }, factsView);
    setRefusal(answer.ok ? undefined : answer.refusal);
    if (answer.ok) put(answer.value);
  }, [day, put]);
  usePageKey('undo', undo);
  return (
    <Whole asked={asked} what="Fetching the facts" title="What is known">
      {(facts) => (
        <>
          <InventedBanner invented={facts.invented} />
          <div className="title-line">
            <h1>What is known: {facts.title}</h1>
            <button type="button" onClick={undo}>
              Undo the last change
            </button>
          </div>
          <p>
            Write a value with its unit, and one standard uncertainty if you know it: <code>450 kg</code>,{' '}
            <code>990 lb</code>, <code>450 ± 5 kg</code>. The decimal sign is a point.
          </p>
          {refusal && <Refused refusal={refusal} title="Not undone" />}
          <FactsForm facts={facts} fields={facts.fields} saved={put} />
        </>
      )}
    </Whole>
  );
}
