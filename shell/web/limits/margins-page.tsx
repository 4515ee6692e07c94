import { limitsView, nextView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import type { Address } from '../frame/address.ts';
import { Findings, InventedBanner, Refused, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { BasisPart } from './basis-part.tsx';
import { ForetoldPart } from './foretold-part.tsx';
import { HeatStrips } from './heat-strips.tsx';
import { GoalPart, NextPart } from './next-part.tsx';
import { PicturesPart } from './pictures-part.tsx';
import { StepForm } from './step-form.tsx';
import { stepText } from './step-text.ts';
import { useSettled } from './use-settled.ts';

type MarginsAddress = Extract<Address, { page: 'margins' }>;

/** Pause after which the maps are drawn anew [ms]. @source our default */
const SETTLED = 350;

/** Every limit ahead of a step that somebody thinks of, and which comes first. */
export function MarginsPage({ address }: { readonly address: MarginsAddress }) {
  const { day, at, goal } = address;
  const { asked } = useAnswer(paths.limits(day, at), limitsView);
  const settled = useSettled(at, SETTLED);
  const next = useAnswer(paths.nextLimits(day, { at, goal }), nextView).asked;
  const look = (parts: { readonly at?: string; readonly goal?: string }) =>
    turn({ page: 'margins', day, ...named({ at, goal, ...parts }) });
  if (asked.state === 'refused' && at !== undefined) {
    return (
      <>
        <h1>What comes first</h1>
        <Refused refusal={asked.refusal} title="This step cannot be read" />
        <button type="button" onClick={() => look({ at: '' })}>
          Back to the step of the day
        </button>
      </>
    );
  }
  return (
    <Whole asked={asked} what="Working out every limit" title="What comes first">
      {(view) => (
        <>
          <InventedBanner invented={view.invented} />
          <h1>What comes first: {view.dayTitle}</h1>
          <NextPart asked={next} />
          <div className="margins">
            <StepForm
              controls={view.controls}
              turn={(name, value) => look({ at: stepText(view.controls, { name, value }) })}
            />
            <div className="margins-answer">
              <p className="quiet">At {view.step}.</p>
              <HeatStrips view={view} />
            </div>
          </div>
          <Findings findings={view.findings} />
          <ForetoldPart view={view} />
          <PicturesPart day={day} at={settled} />
          <GoalPart asked={next} goal={goal} ask={(wanted) => look({ goal: wanted })} />
          <BasisPart view={view} />
          <section aria-labelledby="cautions">
            <h2 id="cautions">Cautions</h2>
            <ul>
              {view.cautions.map((caution) => (
                <li key={caution}>{caution}</li>
              ))}
            </ul>
          </section>
        </>
      )}
    </Whole>
  );
}

/** Without the parts that say nothing. */
function named(parts: { readonly at?: string | undefined; readonly goal?: string | undefined }) {
  return {
    ...(parts.at !== undefined && parts.at !== '' && { at: parts.at }),
    ...(parts.goal !== undefined && parts.goal !== '' && { goal: parts.goal }),
  };
}
