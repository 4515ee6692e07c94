import type { UnseenView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';

/** What was looked for and not seen, with how near it came to its limit. */
export function UnseenPart({ unseen }: { readonly unseen: readonly UnseenView[] }) {
  const writing = useWriting();
  if (unseen.length === 0) return null;
  return (
    <details>
      <summary>Looked for and not seen ({unseen.length})</summary>
      <Sideways name="Faults that were not seen">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">Fault</th>
              <th scope="col">what came nearest, and its limit</th>
            </tr>
          </thead>
          <tbody>
            {unseen.map(({ fault, title, features }) => (
              <tr key={fault}>
                <th scope="row">{title}</th>
                <td className="words">
                  {features
                    .map(({ title: what, value, kind, threshold }) => {
                      const limit = threshold === undefined ? '' : ` of ${writing.exact(threshold, kind)}`;
                      return `${what} ${writing.measured(value, kind, threshold)}${limit}`;
                    })
                    .join(' · ') || '–'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}
