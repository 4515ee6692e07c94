import type { UntoldView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { counted } from '../frame/wording.ts';
import { openings, otherReasons } from './blind.ts';

/** What could not be looked for, and the channels that would open it: the one worth most first. */
export function BlindPart({ untold }: { readonly untold: readonly UntoldView[] }) {
  if (untold.length === 0) return null;
  const opened = openings(untold);
  const [first] = opened;
  const other = otherReasons(untold);
  return (
    <details className="blind">
      <summary>
        Cannot tell: {counted(untold.length, 'fault')}
        {first !== undefined && first.alone.length > 0 && (
          <>
            ; logging {first.channel} alone would open {first.alone.length}
          </>
        )}
      </summary>
      {opened.length > 0 && (
        <Sideways name="Missing channels and what they would open">
          <table className="wide">
            <thead>
              <tr>
                <th scope="col">Missing channel</th>
                <th scope="col">opens by itself</th>
                <th scope="col">opens together with others</th>
              </tr>
            </thead>
            <tbody>
              {opened.map(({ channel, alone, withMore }) => (
                <tr key={channel}>
                  <th scope="row">{channel}</th>
                  <td className="words">{alone.join(', ') || '–'}</td>
                  <td className="words">{withMore.join(', ') || '–'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Sideways>
      )}
      {other.length > 0 && (
        <>
          <p>For another reason than a missing channel:</p>
          <ul>
            {other.map(({ fault, title, why }) => (
              <li key={fault}>
                {title}: {why}
              </li>
            ))}
          </ul>
        </>
      )}
    </details>
  );
}
