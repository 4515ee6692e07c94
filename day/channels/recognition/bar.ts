/** A proposal below this confidence is a question. @source our default */
export const BAR = 0.75;

/** Two readings closer than this in confidence are a question, however high both are. @source our default */
export const MARGIN = 0.15;

/** Nothing is ever quite sure before a person said so. @source our default */
export const CEILING = 0.97;
