import type { CurveView } from '../../contract/index.ts';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { type ChainLine, chainLines } from './chain.ts';
import { axisKind } from './curve-figure.ts';

/** From force to power at the cursor: every line with its piece of the stack. Without a cursor: at the peak. */
export function ChainTable({
  curve,
  at,
  pointed,
}: {
  readonly curve: CurveView;
  readonly at: number;
  readonly pointed: boolean;
}) {
  const writing = useWriting();
  const kind = axisKind(curve);
  const column = kind === 'engine-speed' ? curve.engineSpeed : curve.rollSpeed;
  return (
    <div className="chain">
      <p className="chain-place">
        <strong>{writing.text(column[at] ?? null, kind)}</strong>
        <span className="quiet">
          {pointed ? 'at the cursor' : 'at the peak'} · {curve.time[at]?.toFixed(2) ?? '–'} s ·{' '}
          {curve.valid[at] === false ? 'not usable here' : 'usable'} · sums ±2u
        </span>
      </p>
      <table>
        <caption className="unseen">The chain from roll to engine at this point</caption>
        <thead className="unseen">
          <tr>
            <th scope="col">line</th>
            <th scope="col">value</th>
          </tr>
        </thead>
        <tbody>
          {chainLines(curve, at).map((line) => (
            <tr key={line.label} className={`chain-${line.role}`}>
              <th scope="row">
                {SIGNS[line.role]} {line.label}
                <Piece line={line} />
              </th>
              <td>
                {line.kind === 'ratio'
                  ? `× ${writing.text(line.value, 'ratio')}`
                  : writing.text(line.value, line.kind, { u: twice(line.standardUncertainty) })}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {curve.missing.length > 0 && (
        <p className="missing">
          <strong>Missing:</strong> {curve.missing.join('; ')}
        </p>
      )}
    </div>
  );
}

const SIGNS = { measured: '+', added: '+', sum: '=', factor: '×' } as const;

function Piece({ line: { from, to, role } }: { readonly line: ChainLine }) {
  if (role === 'factor') return null;
  return (
    <svg className="piece" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
      <rect className={`piece-${role}`} x={from * 100} y={0} width={Math.max(0, to - from) * 100} height={6} />
    </svg>
  );
}
