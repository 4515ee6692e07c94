import { useState } from 'react';
import type { FeatureView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { LimitForm } from './limit-form.tsx';

interface FeaturesProps {
  /** What they speak about. */
  readonly of: string;
  readonly day: string;
  readonly entry: string;
  readonly features: readonly FeatureView[];
  readonly reload: () => void;
}

/** The numbers that spoke, each with the limit it was held against; a limit can be set here, and tried before. */
export function FeaturesPart({ of, day, entry, features, reload }: FeaturesProps) {
  const writing = useWriting();
  const [editing, setEditing] = useState<string>();
  if (features.length === 0) return null;
  const edited = features.find(({ name, settable }) => settable && name === editing);
  return (
    <div className="features">
      <Sideways name={`Numbers that spoke about ${of}, with their limits`}>
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">What was measured</th>
              <th scope="col">value</th>
              <th scope="col">limit</th>
              <th scope="col">where the limit comes from</th>
            </tr>
          </thead>
          <tbody>
            {features.map((feature, at) => {
              const { name, title, value, kind, threshold, source, settable } = feature;
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: two banks can share a name
                <tr key={`${name} ${at}`}>
                  <th scope="row">{title}</th>
                  <td>{writing.measured(value, kind, threshold)}</td>
                  <td className="limit-cell">
                    {threshold === undefined ? 'informs only' : writing.exact(threshold, kind)}
                    {settable && (
                      <button
                        type="button"
                        className="small"
                        aria-expanded={editing === name}
                        aria-label={`Change the limit of ${title}`}
                        onClick={() => setEditing(editing === name ? undefined : name)}
                      >
                        change
                      </button>
                    )}
                  </td>
                  <td className="words">{source}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </Sideways>
      {edited && (
        <LimitForm
          key={edited.name}
          {...{ day, entry }}
          limit={{
            name: edited.name,
            title: edited.title,
            text: edited.threshold === undefined ? '' : writing.exact(edited.threshold, edited.kind),
          }}
          saved={() => {
            setEditing(undefined);
            reload();
          }}
        />
      )}
    </div>
  );
}
