import { type GateLine, healthView, type ReadinessView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';

interface ReadinessProps {
  readonly day: string;
  /** The entry that is asked about; without one the newest pull. */
  readonly entry?: string;
}

/** In which thermal state a pull was begun, and how long waiting would have taken. Silent while there is no answer. */
export function ReadinessPart({ day, entry }: ReadinessProps) {
  const { asked } = useAnswer(paths.health(day), healthView);
  if (asked.state !== 'here') return null;
  const all = asked.value.readiness;
  const shown = entry === undefined ? all.slice(-1) : all.filter((one) => one.entry === entry);
  if (shown.length === 0) return null;
  return (
    <section aria-labelledby="readiness">
      <h2 id="readiness">{entry === undefined ? 'How warm the last pull was begun' : 'How warm it was begun'}</h2>
      {shown.map((one) => (
        <Readiness key={one.key} readiness={one} />
      ))}
    </section>
  );
}

function Readiness({
  readiness: { key, entry, ready, gates, sincePull, unknown },
}: {
  readonly readiness: ReadinessView;
}) {
  const out = gates.filter((gate) => gate.out !== undefined);
  return (
    <>
      <p>
        <strong>
          {key === entry ? entry : `pull ${key}`}:{' '}
          {ready ? 'every gate that is known was met' : `${out.length} of ${gates.length} gates not met`}
        </strong>
        {sincePull !== undefined && `, ${(sincePull / 60).toFixed(0)} min after the pull before`}.
        {unknown.length > 0 && ` Not logged: ${unknown.join(', ')}.`}
      </p>
      {gates.length > 0 && (
        <Sideways name={`Temperatures at the start of ${key}`}>
          <table className="wide">
            <thead>
              <tr>
                <th scope="col">At the start</th>
                <th scope="col">value</th>
                <th scope="col">allowed</th>
                <th scope="col">gate</th>
                <th scope="col">rule</th>
              </tr>
            </thead>
            <tbody>
              {gates.map((gate) => (
                <GateRow key={`${gate.channel} ${gate.rule}`} gate={gate} />
              ))}
            </tbody>
          </table>
        </Sideways>
      )}
    </>
  );
}

function GateRow({ gate }: { readonly gate: GateLine }) {
  const writing = useWriting();
  const { channel, value, low, high, out, rule, wait, why } = gate;
  const degrees = (one: number, unit: boolean) => writing.text(one, 'temperature', { decimals: 0, unit });
  const waiting =
    wait &&
    `wait about ${minutes(wait.value)}${wait.standardUncertainty === null ? '' : ` ± ${minutes(2 * wait.standardUncertainty)}`}`;
  return (
    <tr>
      <th scope="row">{channel}</th>
      <td>{writing.text(value?.value, 'temperature')}</td>
      <td className="allowed">
        {low !== undefined && high !== undefined && `${degrees(low, false)} – ${degrees(high, true)}`}
        {low === undefined && high !== undefined && `up to ${degrees(high, true)}`}
        {low !== undefined && high === undefined && `from ${degrees(low, true)}`}
      </td>
      <td className={out === undefined ? 'words' : 'words gate-out'}>
        {out === undefined ? '✓ met' : `✕ ${outInWords(out, waiting || why)}`}
      </td>
      <td className="words">
        <small>{rule}</small>
      </td>
    </tr>
  );
}

/** The reason may say by itself which way the gate was missed. */
function outInWords(out: string, more: string | undefined): string {
  if (more === undefined) return out;
  return more.startsWith(out) ? more : `${out}: ${more}`;
}

function minutes(seconds: number): string {
  return `${(seconds / 60).toFixed(seconds < 600 ? 1 : 0)} min`;
}
