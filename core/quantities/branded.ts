declare const kind: unique symbol;

/** A plain number that the compiler keeps apart from numbers of another kind. Costs nothing at run time. */
export type Branded<Kind extends string> = number & { readonly [kind]: Kind };
