/** Where something was seen: any part that is known. Times in s on the clock of `file`. */
export interface Place {
  readonly file?: string;
  readonly channel?: string;
  readonly line?: number;
  readonly column?: number;
  readonly from?: number;
  readonly to?: number;
}

/**
 * Why a question cannot be answered from this input.
 * `numbers` explain it in SI units: the value seen, the limit, whatever the wording needs.
 * `rule` names the rule or default that fired, and where it comes from.
 */
export interface Refusal {
  readonly kind: string;
  readonly message: string;
  readonly place?: Place;
  readonly numbers?: Readonly<Record<string, number | string>>;
  readonly rule?: string;
}

/** Something that must be known about an answer that was given. It travels with the result. */
export interface Finding {
  readonly kind: string;
  /** note: good to know; doubt: lowers confidence; fault: the channel or window must not be used. */
  readonly weight: 'note' | 'doubt' | 'fault';
  readonly message: string;
  readonly place?: Place;
  readonly numbers?: Readonly<Record<string, number | string>>;
  readonly rule?: string;
}

/** An answer, or the reason why there is none. */
export type Outcome<Value> =
  | { readonly ok: true; readonly value: Value; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly refusal: Refusal };

export function answered<Value>(value: Value, findings: readonly Finding[] = []): Outcome<Value> {
  return { ok: true, value, findings };
}

export function refused<Value>(refusal: Refusal): Outcome<Value> {
  return { ok: false, refusal };
}
