import type { RestsOn, UnknownFact } from '../../contract/index.ts';
import { hashOf } from '../frame/address.ts';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';

interface UnknownProps {
  readonly day: string;
  readonly lead: string;
  readonly unknown: readonly UnknownFact[];
  /** What was taken in their place, by name. */
  readonly values: readonly RestsOn[];
}

/** What nobody stated: the usual value in its place with its spread and source, and one click to the field where it is stated. */
export function UnknownList({ day, lead, unknown, values }: UnknownProps) {
  const writing = useWriting();
  if (unknown.length === 0) return null;
  return (
    <ul className="unknown-facts">
      {unknown.map(({ name, title, fact }) => {
        const taken = values.find((one) => one.name === name);
        return (
          <li key={name}>
            {lead}{' '}
            {fact === undefined ? (
              <strong>{title}</strong>
            ) : (
              <a href={hashOf({ page: 'facts', day, field: fact })}>{title}</a>
            )}
            {taken && taken.value !== null && (
              <>
                : in its place {writing.text(taken.value, taken.kind, { u: twice(taken.standardUncertainty) })} (
                {taken.source})
              </>
            )}
            {fact === undefined && ' (there is no field for it)'}
          </li>
        );
      })}
    </ul>
  );
}
