import { foresightOf, gearAdvice, plugAdvice, tractionAdvice } from '../../../../day/plans/index.ts';
import type { DayFacts } from '../../../../day/pulls/index.ts';
import type { AdviceView } from '../../../contract/index.ts';
import type { AskedStep } from '../limits.ts';
import { encodeGears } from './rolls.ts';
import { encodePlugs } from './spark.ts';
import { encodeTraction } from './traction.ts';

/** What could be done about a step. kept: share of the tractive limit kept in hand [1]; absent: our default. */
export function encodeAdvice({ engine, step }: AskedStep, facts: DayFacts, kept?: number): AdviceView {
  const foresight = foresightOf(engine.model);
  const { gearRatios } = facts.vehicle;
  return {
    traction: encodeTraction(tractionAdvice(foresight, step, kept), kept),
    gears: encodeGears(gearAdvice(foresight, step, { gearRatios, ...(kept !== undefined && { kept }) })),
    plugs: encodePlugs(plugAdvice(foresight, step)),
  };
}
