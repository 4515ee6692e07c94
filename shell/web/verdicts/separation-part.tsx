import type { SeparationView } from '../../contract/index.ts';
import { useWriting } from '../look/use-preferences.ts';

/** The three questions that part faults, in their order, with what each answer rests on. */
export function SeparationPart({ separation }: { readonly separation: readonly SeparationView[] }) {
  const writing = useWriting();
  return (
    <details>
      <summary>The three separating questions</summary>
      <ol className="separation">
        {separation.map(({ question, answer, known, evidence, missing }) => (
          <li key={question}>
            {question} <strong className={known ? undefined : 'unknown-answer'}>{answer}</strong>
            {missing.length > 0 && <span className="missing-line"> It would take {missing.join(' or ')}.</span>}
            {evidence.length > 0 && (
              <small>
                {evidence
                  .map(({ title, value, kind, threshold }) => {
                    const limit = threshold === undefined ? '' : ` (limit ${writing.exact(threshold, kind)})`;
                    return `${title} ${writing.measured(value, kind, threshold)}${limit}`;
                  })
                  .join(' · ')}
              </small>
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}
