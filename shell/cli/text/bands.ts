/** What stands behind every `±` of an answer. */
export const BANDS = 'Bands are two standard uncertainties.';
