/** Faults at and above this strength count for the F1 of a fault: below, the trade itself would not speak of a fault. */
export const FULL = 1;
/** A fault that was put in at a strength reaches it to this share: what is short of that is below. */
export const REACHED = 0.995;
