import { useState } from 'react';
import { displayUnit, fromSi, toSi } from '../../../core/quantities/index.ts';
import type { StepControl } from '../../contract/index.ts';
import { unitGroupOf } from '../look/preferences.ts';
import { usePreferences } from '../look/use-preferences.ts';

interface FormProps {
  readonly controls: readonly StepControl[];
  readonly turn: (name: string, value: number | undefined) => void;
}

/** Everything that can be turned: a slider and a number each, both by keyboard; what was turned can be taken back. */
export function StepForm({ controls, turn }: FormProps) {
  return (
    <section className="step-form" aria-labelledby="step-title">
      <h2 id="step-title">The step</h2>
      {controls.map((control) => (
        <ControlLine key={control.name} control={control} turn={turn} />
      ))}
    </section>
  );
}

function ControlLine({ control, turn }: { readonly control: StepControl; readonly turn: FormProps['turn'] }) {
  const { units } = usePreferences();
  const { name, title, kind, value, low, high, increment, named } = control;
  const unit = displayUnit(kind, units[unitGroupOf(kind)]);
  const shown = (si: number) => Number(fromSi(si, unit).toPrecision(6));
  const step = Math.abs(shown(low + increment) - shown(low));
  const [text, setText] = useState<string>();
  const now = value === null ? undefined : shown(value);
  const put = (number: number) => turn(name, toSi(number, unit));
  const settle = () => {
    const number = Number(text);
    if (text !== undefined && text.trim() !== '' && Number.isFinite(number)) put(number);
    setText(undefined);
  };
  return (
    <div className={`step-line${named ? ' turned' : ''}`}>
      <label htmlFor={`step-${name}`}>
        {title}
        {named && <small> turned</small>}
      </label>
      <input
        id={`step-${name}`}
        type="range"
        {...{ min: shown(low), max: shown(high), step: Number(step.toPrecision(3)) }}
        value={now ?? shown(low)}
        aria-valuetext={now === undefined ? 'not known' : `${now} ${unit.symbol}`}
        onChange={({ currentTarget }) => put(currentTarget.valueAsNumber)}
      />
      <span className="step-number">
        <input
          type="text"
          inputMode="decimal"
          aria-label={`${title}, number`}
          value={text ?? (now === undefined ? '' : String(Number(now.toFixed(decimalsOf(step)))))}
          placeholder="not known"
          onChange={({ currentTarget }) => setText(currentTarget.value)}
          onBlur={settle}
          onKeyDown={({ key }) => key === 'Enter' && settle()}
        />
        <span>{unit.symbol === '1' ? '' : unit.symbol.replace('Δ', '')}</span>
      </span>
      <button
        type="button"
        className="small"
        disabled={!named}
        aria-label={`${title} as on the day`}
        onClick={() => turn(name, undefined)}
      >
        ↺
      </button>
    </div>
  );
}

/** As many as a slider can make, one at least: what the day had is seldom a whole step. */
function decimalsOf(step: number): number {
  return step >= 1 ? 1 : Math.min(6, Math.ceil(-Math.log10(step) - 1e-9));
}
