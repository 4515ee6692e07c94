import type { SegmentLine } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';

/** How the record was cut: every stretch with the reason for its name. */
export function SegmentsPart({ segments }: { readonly segments: readonly SegmentLine[] }) {
  const writing = useWriting();
  if (segments.length === 0) return null;
  return (
    <details>
      <summary>How the record was cut ({segments.length})</summary>
      <Sideways name="Stretches of the record">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">Seconds</th>
              <th scope="col">what</th>
              <th scope="col">roll speed</th>
              <th scope="col">gear</th>
              <th scope="col">reason</th>
            </tr>
          </thead>
          <tbody>
            {segments.map((segment) => (
              <tr key={`${segment.fromTime} ${segment.kind}`}>
                <th scope="row">
                  {segment.fromTime.toFixed(2)} – {segment.toTime.toFixed(2)}
                </th>
                <td>{segment.kind}</td>
                <td>
                  {writing.text(segment.lowSpeed, 'speed', { unit: false })} –{' '}
                  {writing.text(segment.highSpeed, 'speed')}
                </td>
                <td>{segment.gear === undefined ? '–' : `group ${segment.gear}`}</td>
                <td>{segment.reason}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}
