import type { HypothesisView } from '../../contract/index.ts';
import { weightInWords } from './words.ts';

/** Causes whose reasons are told: the leading one, its runner-up, and one more. */
const MOST_CAUSES = 3;
/** A weight from here on fills its side of the bar: twenty to one. @source our default */
const FULL = 3;

/** Why, and why not: for each cause what spoke for it and against it, as bars to both sides of a middle line. */
export function Reasons({ hypotheses }: { readonly hypotheses: readonly HypothesisView[] }) {
  const told = hypotheses.slice(0, MOST_CAUSES).filter(({ evidence }) => evidence.length > 0);
  if (told.length === 0) return null;
  return (
    <div className="reasons">
      {told.map(({ fault, title, evidence }, at) => (
        <div key={fault}>
          <h4>{at === 0 && fault === hypotheses[0]?.fault ? `Why ${title}` : `Why not rather ${title}`}</h4>
          <ul>
            {evidence.map(({ what, weight }) => (
              <li key={what} className={weight >= 0 ? 'for' : 'against'}>
                <WeightBar weight={weight} />
                <span>
                  <span className="weight-word">{weightInWords(weight)}</span> {what}
                </span>
              </li>
            ))}
          </ul>
        </div>
      ))}
    </div>
  );
}

function WeightBar({ weight }: { readonly weight: number }) {
  const size = 50 * Math.min(1, Math.abs(weight) / FULL);
  return (
    <svg className="weight-bar" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
      <rect className="weight-field" x="0" y="0" width="100" height="12" />
      <rect className="weight-fill" x={weight >= 0 ? 50 : 50 - size} y="1.5" width={size} height="9" />
      <path className="weight-middle" d="M50 0V12" />
    </svg>
  );
}
