import type { HypothesisView } from '../../contract/index.ts';

/** Causes weighed against one another: a bar from never to always for each. Several can be there at once, so they need not add up to one. */
export function Causes({ hypotheses }: { readonly hypotheses: readonly HypothesisView[] }) {
  return (
    <table className="causes">
      <caption className="unseen">Probable causes, the most probable first</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">cause</th>
          <th scope="col">probability</th>
        </tr>
      </thead>
      <tbody>
        {hypotheses.map(({ fault, title, probability, chance }, at) => (
          <tr key={fault} className={at === 0 ? 'leads' : undefined}>
            <th scope="row">{title}</th>
            <td>
              <span className="chance">{chance}</span>
              <svg className="chance-bar" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                <rect className="chance-field" x="0" y="0" width="100" height="12" />
                <rect
                  className="chance-fill"
                  x="0"
                  y="0"
                  width={100 * Math.max(0, Math.min(1, probability))}
                  height="12"
                />
                <path className="chance-half" d="M50 0V12" />
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
