import { type ReactNode, useCallback, useEffect, useRef, useState } from 'react';
import { engineReady, type LimitsView, limitsView, nextView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { useLatest } from '../client/use-latest.ts';
import { useWorkAt } from '../client/use-work.ts';
import type { Address } from '../frame/address.ts';
import { CautionsPart } from '../frame/cautions-part.tsx';
import { Findings, InventedBanner, Loading, Refused, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { AdvicePart } from './advice-part.tsx';
import { BasisPart } from './basis-part.tsx';
import { CrankPart } from './crank-part.tsx';
import { Following } from './following.tsx';
import { ForetoldPart } from './foretold-part.tsx';
import { HeatStrips } from './heat-strips.tsx';
import { GoalPart, NextPart } from './next-part.tsx';
import { PicturesPart } from './pictures-part.tsx';
import { RoomPart } from './room-part.tsx';
import { ScaledPart } from './scaled-part.tsx';
import { StepForm } from './step-form.tsx';
import { stepText } from './step-text.ts';
import { type TurnedControls, turnedControls } from './turned.ts';
import { useSettled } from './use-settled.ts';

type MarginsAddress = Extract<Address, { page: 'margins' }>;
type Look = Partial<Record<'at' | 'goal' | 'speed', string>>;

/** Pause after which what is slow follows the hand, and the address too: browsers refuse addresses that change at every frame [ms]. @source our default */
const SETTLED = 150;

/** Every limit ahead of a step that somebody thinks of, once the engine of the day stands. */
export function MarginsPage({ address }: { readonly address: MarginsAddress }) {
  const { work } = useWorkAt(paths.limitsWork(address.day), engineReady);
  if (work.state === 'here') return <Margins address={address} key={address.day} />;
  return (
    <>
      <h1>What comes first</h1>
      {work.state === 'refused' ? (
        <Refused refusal={work.refusal} again={work.again} />
      ) : (
        <Loading
          what={work.progress?.what ?? 'Working out the engine of the day'}
          share={work.progress?.share}
          cancel={work.cancel}
        />
      )}
    </>
  );
}

/** Every limit ahead of a step, and which comes first. */
function Margins({ address }: { readonly address: MarginsAddress }) {
  const { day, goal, speed } = address;
  const { at, put } = useStepText(address);
  const { asked, of } = useLatest(paths.limits(day, at), limitsView);
  const settled = useSettled(at, SETTLED);
  const next = useAnswer(paths.nextLimits(day, { at: settled, goal }), nextView).asked;
  const [turned, setTurned] = useState<TurnedControls>(new Map());
  const answered = of === paths.limits(day, at);
  useEffect(() => {
    // Only what this answer was to: a hand that turned on meanwhile keeps what it has.
    if (answered && turned.size > 0) setTurned((former) => (former === turned ? new Map() : former));
  }, [answered, turned]);
  // The newest address is asked for when something is chosen, so that what does not change is not drawn again.
  const newest = useRef(address);
  newest.current = address;
  const lookAtSpeed = useCallback((wanted: string) => {
    const { speed: _, ...rest } = newest.current;
    turn({ ...rest, ...(wanted !== '' && { speed: wanted }) });
  }, []);
  const look = (parts: Look) => turn({ page: 'margins', day, ...named({ at, goal, speed, ...parts }) });
  if (asked.state === 'refused' && at !== undefined) {
    return (
      <>
        <h1>What comes first</h1>
        <Refused refusal={asked.refusal} title="This step cannot be read" />
        <button type="button" onClick={() => put('')}>
          Back to the step of the day
        </button>
      </>
    );
  }
  const turnControl = (controls: LimitsView['controls'], name: string, value: number | undefined) => {
    const all = new Map(turned).set(name, value);
    setTurned(all);
    put(stepText(turnedControls(controls, all), { name: '', value: undefined }));
  };
  return (
    <Whole asked={asked} what="Working out every limit" title="What comes first">
      {(view) => (
        <>
          <InventedBanner invented={view.invented} />
          <h1>What comes first: {view.dayTitle}</h1>
          <NextPart asked={next} />
          <div className="margins">
            <StepForm
              controls={turnedControls(view.controls, turned)}
              turn={(name, value) => turnControl(view.controls, name, value)}
            />
            <div className="margins-answer">
              <Answer view={view} rests={settled === at}>
                <AdvicePart day={day} at={settled} />
                <Following value={stepOf(of)} rests={settled === at}>
                  {(step) => <CrankPart day={day} at={step} speed={speed} look={lookAtSpeed} />}
                </Following>
                <RoomPart day={day} at={settled} limits={view.limits} own={ownPressure(view)} />
                <PicturesPart day={day} at={settled} />
              </Answer>
            </div>
          </div>
          <GoalPart asked={next} goal={goal} ask={(wanted) => look({ goal: wanted })} />
          <ScaledPart day={day} />
          <BasisPart day={view.day} values={view.values} pulls={view.pulls} unknown={view.unknown} />
          <CautionsPart cautions={view.cautions} />
        </>
      )}
    </Whole>
  );
}

interface AnswerProps {
  readonly view: LimitsView;
  /** Whether the hand rests. */
  readonly rests: boolean;
  readonly children: ReactNode;
}

/** What stands beside the sliders and follows them. */
function Answer({ view, rests, children }: AnswerProps) {
  return (
    <>
      <p className="quiet">
        At {view.step}.{view.cooler && ` ${plainWords(view.cooler.sentence)}.`}
      </p>
      <HeatStrips view={view} />
      <Findings findings={view.findings} />
      <Following value={view} rests={rests}>
        {(shown) => <ForetoldPart view={shown} />}
      </Following>
      {children}
    </>
  );
}

/** The step as written: what a hand turns is in force at once and reaches the address when the hand rests. */
function useStepText(address: MarginsAddress): {
  readonly at: string | undefined;
  readonly put: (text: string) => void;
} {
  const { at } = address;
  const [text, setText] = useState(at ?? '');
  const own = useRef(at ?? '');
  useEffect(() => {
    if ((at ?? '') !== own.current) setText(at ?? '');
    own.current = at ?? '';
  }, [at]);
  const settled = useSettled(text, SETTLED);
  // biome-ignore lint/correctness/useExhaustiveDependencies: only what the hand settled on is written; the address may have moved on by itself
  useEffect(() => {
    if (settled !== text || settled === (at ?? '')) return;
    own.current = settled;
    const { at: _, ...rest } = address;
    turn({ ...rest, ...(settled !== '' && { at: settled }) });
  }, [settled]);
  return { at: text === '' ? undefined : text, put: useCallback((next: string) => setText(next), []) };
}

/** Without the marks of the command line. */
function plainWords(sentence: string): string {
  return sentence.replaceAll(/`([^`]*)`/g, '“$1”');
}

/** Manifold pressure of the step that was answered [Pa]. */
function ownPressure({ controls }: LimitsView): number | null {
  return controls.find(({ name }) => name === 'manifoldPressure')?.value ?? null;
}

/** The step of the answer that stands there: what hangs on it is asked for behind it, never before. */
function stepOf(path = ''): string | undefined {
  return new URLSearchParams(path.split('?')[1]).get('at') ?? undefined;
}

/** Without the parts that say nothing. */
function named(parts: { readonly [Key in keyof Look]: string | undefined }): Look {
  return Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined && value !== ''));
}
