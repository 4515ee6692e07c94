import type { PullView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { sortedBudget } from './budget.ts';

/** Where the uncertainty comes from, largest first: what cancels between pulls of the day, and what does not. */
export function BudgetPart({ pull }: { readonly pull: PullView }) {
  const writing = useWriting();
  const lines = sortedBudget(pull.budget);
  if (lines.length === 0) return null;
  const most = Math.max(...lines.map(({ size }) => size));
  return (
    <section aria-labelledby="budget">
      <h2 id="budget">How sure is it?</h2>
      <Sideways name="Uncertainty budget">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">One standard deviation of</th>
              <th scope="col">engine</th>
              <th scope="col">wheel</th>
              <th scope="col">roll</th>
              <th scope="col">between pulls</th>
              <th scope="col">origin</th>
            </tr>
          </thead>
          <tbody>
            {lines.map(({ line: { name, engine, tyre, roll, sharing, origin }, size }) => (
              <tr key={name}>
                <th scope="row">
                  {name}
                  <svg className="piece" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                    <rect
                      className={`piece-${sharing}`}
                      x={0}
                      y={0}
                      width={most > 0 ? (size / most) * 100 : 0}
                      height={6}
                    />
                  </svg>
                </th>
                <td>{writing.text(engine, 'power', { decimals: 2 })}</td>
                <td>{writing.text(tyre, 'power', { decimals: 2 })}</td>
                <td>{writing.text(roll, 'power', { decimals: 2 })}</td>
                <td>{sharing === 'shared' ? 'shared: cancels in a difference' : 'random: does not cancel'}</td>
                <td>{origin}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </section>
  );
}
