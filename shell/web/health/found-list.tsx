import type { HealthFindingView } from '../../contract/index.ts';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { counted } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { OverruleForm } from '../verdicts/overrule-form.tsx';
import { StopTag } from '../verdicts/stop-plate.tsx';

interface ListProps {
  readonly day: string;
  readonly findings: readonly HealthFindingView[];
  readonly reload: () => void;
}

/** What was found about health: what it asks for, where, why, and whether a person accepts it. */
export function FoundList({ day, findings, reload }: ListProps) {
  return (
    <ul className="health-findings">
      {findings.map((finding) => (
        <Found key={`${finding.title} ${finding.entry} ${finding.why}`} {...{ day, finding, reload }} />
      ))}
    </ul>
  );
}

export function EntryName({ day, entry }: { readonly day: string; readonly entry: string }) {
  return <a href={hashOf({ page: 'entry', day, entry, look: PLAIN_LOOK })}>{entry}</a>;
}

interface FoundProps extends Omit<ListProps, 'findings'> {
  readonly finding: HealthFindingView;
}

function Found({ day, finding, reload }: FoundProps) {
  const writing = useWriting();
  const { name, title, entry, stop, why, values, overruled } = finding;
  const numbers = values.map(({ name: what, value, kind, limit }) => {
    const held = limit === undefined ? '' : `, limit ${writing.exact(limit, kind)}`;
    return `${what}: ${writing.measured(value?.value, kind, limit)}${held}`;
  });
  return (
    <li className={overruled === undefined ? `found-${stop.class}` : 'overruled'}>
      <span className="found-asks">
        {overruled === undefined && <StopTag stop={stop} />}
        {overruled !== undefined && 'overruled'}
      </span>
      <div>
        <p>
          <strong className="found-title">{title}</strong> in <EntryName day={day} entry={entry} />: {why}
        </p>
        {overruled !== undefined && <p className="overruled-why">Overruled, because: {overruled}</p>}
        {numbers.length > 0 && <small>{numbers.join(' · ')}</small>}
        <div className="found-more">
          <Changed finding={finding} />
          {stop.class > 0 && (
            <OverruleForm
              view={{ day, id: entry }}
              fault={name}
              title={`${title} in ${entry}`}
              {...{ stop, overruled, reload }}
              changed={reload}
            />
          )}
        </div>
      </div>
    </li>
  );
}

/** What differs between the entries that were compared and may be the cause. */
function Changed({ finding: { changed } }: Pick<FoundProps, 'finding'>) {
  if (changed.length === 0) return null;
  return (
    <details className="found-changed">
      <summary>{counted(changed.length, 'thing')} changed meanwhile</summary>
      <ul>
        {changed.map((what) => (
          <li key={what}>{what}</li>
        ))}
      </ul>
    </details>
  );
}
