import type { Detection } from '../detector.ts';
import type { Fault, Subject } from '../fault.ts';

/** A fault that could lie behind an episode. */
export interface Candidate {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly answer: Detection['answer'];
  /** 0 … 1, of its own detection. */
  readonly strength: number;
  /** Channels that its detector lacked. None, where it cannot tell for another reason: a car without a clutch has no clutch that slips unseen. */
  readonly missing?: readonly string[] | undefined;
}
