import type { TrialView } from '../../contract/index.ts';

/** What another limit would change in the pulls of this entry; nothing is kept by looking. */
export function TrialPart({ trial }: { readonly trial: TrialView }) {
  return (
    <div className="trial" role="status">
      {trial.pulls.map(({ index, before, after, appears, vanishes, moved }) => {
        const same = appears.length + vanishes.length + moved.length === 0;
        return (
          <div key={index}>
            {trial.pulls.length > 1 && <p className="quiet">pull {index + 1}</p>}
            {same && <p>Nothing would change in this pull.</p>}
            <ul>
              {vanishes.map(({ sentence }) => (
                <li key={sentence}>Gone: {sentence}</li>
              ))}
              {appears.map(({ sentence, stop }) => (
                <li key={sentence}>
                  New: {sentence} ({stop.word})
                </li>
              ))}
              {moved.map((pair) => (
                <li key={pair.before.sentence}>
                  Other: {pair.before.sentence} ({pair.before.stop.word}) would be {pair.after.sentence} (
                  {pair.after.stop.word})
                </li>
              ))}
            </ul>
            {!same && (
              <p>
                The pull: {before.validity}, {before.stop.word} →{' '}
                <strong>
                  {after.validity}, {after.stop.word}
                </strong>
              </p>
            )}
          </div>
        );
      })}
    </div>
  );
}
