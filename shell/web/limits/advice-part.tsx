import { type FormEvent, memo, type ReactNode, useState } from 'react';
import {
  type AdviceView,
  adviceView,
  type GearRow,
  type GearsView,
  type PlugsView,
  type TractionView,
  type UnknownFact,
} from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useLatest } from '../client/use-latest.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { marginText } from './heat.ts';
import { UnknownList } from './unknown-list.tsx';

interface AdviceProps {
  readonly day: string;
  readonly at: string | undefined;
}

/** What could be done about the step: straps or ballast, which gear, what is usual for the plugs. A sentence each, numbers behind it. */
export const AdvicePart = memo(({ day, at }: AdviceProps) => {
  const [keep, setKeep] = useState<string>();
  const { asked } = useLatest(paths.advice(day, { at, keep }), adviceView);
  return (
    <section className="advice" aria-labelledby="advice">
      <h2 id="advice">What could be done</h2>
      <KeepForm keep={keep} ask={setKeep} />
      <Whole asked={asked} what="Looking what could be done">
        {(view) => <Advice view={view} day={day} />}
      </Whole>
    </section>
  );
});

function KeepForm({ keep, ask }: { readonly keep: string | undefined; readonly ask: (text?: string) => void }) {
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const text = String(new FormData(event.currentTarget).get('keep') ?? '').trim();
    ask(text === '' ? undefined : text);
  };
  return (
    <form className="tools" onSubmit={submit} aria-label="Share of the tyres’ limit kept in hand">
      <label className="field in-line">
        Of the tyres’ limit keep in hand{' '}
        <input type="text" name="keep" autoComplete="off" defaultValue={keep ?? ''} placeholder="10 %" size={6} />
      </label>
      <button type="submit">Ask</button>
    </form>
  );
}

function Advice({ view, day }: { readonly view: AdviceView; readonly day: string }) {
  const { traction, gears, plugs } = view;
  const block = (unknown: readonly UnknownFact[]) => (
    <UnknownList day={day} lead="Would tell more:" unknown={unknown} values={[]} />
  );
  return (
    <>
      <Block title="Straps or ballast" sentence={traction.sentence}>
        <LoadTable traction={traction} />
        <Lines lines={[...traction.notes, ...traction.cautions]} />
        {block(traction.unknown)}
      </Block>
      <Block title="Gear" sentence={gears.sentence}>
        <GearTable gears={gears} />
        <Lines lines={gears.notes} />
        {block(gears.unknown)}
      </Block>
      <Block title="Plugs" sentence={plugs.sentence}>
        <PlugLines plugs={plugs} />
        {block(plugs.unknown)}
      </Block>
    </>
  );
}

interface BlockProps {
  readonly title: string;
  readonly sentence: string;
  readonly children: ReactNode;
}

function Block({ title, sentence, children }: BlockProps) {
  return (
    <div className="advice-block">
      <p role="status">
        <strong>{title}.</strong> {sentence}
      </p>
      <details>
        <summary>
          Numbers and cautions<span className="unseen">: {title}</span>
        </summary>
        {children}
      </details>
    </div>
  );
}

function Lines({ lines }: { readonly lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <ul>
      {lines.map((words) => (
        <li key={words}>{words}</li>
      ))}
    </ul>
  );
}

function LoadTable({ traction: { rows } }: { readonly traction: TractionView }) {
  const writing = useWriting();
  if (rows.length === 0) return null;
  const rounded = (kind: string) => ({ decimals: kind === 'ratio' ? 2 : 0 });
  return (
    <Sideways name="Straps and ballast">
      <table className="wide">
        <thead>
          <tr>
            <th scope="col">at the driven axle</th>
            <th scope="col">even odds</th>
            <th scope="col">{'19\u00a0in\u00a020'}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ title, kind, value, standardUncertainty, safe }) => (
            <tr key={title}>
              <th scope="row" className="words">
                {title}
              </th>
              <td>{writing.text(value ?? Number.NaN, kind, { u: twice(standardUncertainty), ...rounded(kind) })}</td>
              <td>{safe === null ? '' : writing.text(safe, kind, rounded(kind))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Sideways>
  );
}

function GearTable({ gears: { gears } }: { readonly gears: GearsView }) {
  const writing = useWriting();
  if (gears.length === 0) return null;
  const names = [...new Set(gears.flatMap(({ margins }) => margins.map(({ name }) => name)))];
  return (
    <Sideways name="What each gear asks">
      <table className="wide">
        <thead>
          <tr>
            <th scope="col">gear</th>
            <th scope="col">overall</th>
            <th scope="col">force</th>
            <th scope="col">speed</th>
            <th scope="col">power</th>
            {names.map((name) => (
              <th scope="col" key={name}>
                {name}
              </th>
            ))}
            <th scope="col">
              <span className="unseen">remarks</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {gears.map((gear) => (
            <tr key={gear.number}>
              <th scope="row">{gear.number}</th>
              <td>{writing.text(gear.overallRatio, 'ratio', { decimals: 2 })}</td>
              <td>{writing.text(gear.force?.value ?? Number.NaN, 'force', { decimals: 0 })}</td>
              <td>{writing.text(gear.speed?.value ?? Number.NaN, 'speed', { decimals: 0 })}</td>
              <td>{writing.text(gear.power?.value ?? Number.NaN, 'power', { decimals: 0 })}</td>
              {names.map((name) => (
                <td key={name}>{marginOf(gear, name)}</td>
              ))}
              <td className="words">{remarks(gear)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Sideways>
  );
}

function marginOf({ margins }: GearRow, name: string): string {
  const found = margins.find((one) => one.name === name);
  return found ? `${marginText(found.margin)} %` : '–';
}

function remarks({ best, now, direct }: GearRow): string {
  return [...(best ? ['take this'] : []), ...(now ? ['now'] : []), ...(direct ? ['nearest 1:1'] : [])].join(', ');
}

function PlugLines({ plugs }: { readonly plugs: PlugsView }) {
  return <Lines lines={[...plugs.lines, ...plugs.cautions]} />;
}
