/** A first-order lag over readings that come in order of time [s]. */
export function lagFilter(seconds: number): (value: number, time: number) => number {
  let state = Number.NaN;
  let before = Number.NaN;
  return (value, time) => {
    const step = time - before;
    before = time;
    if (Number.isNaN(state) || !(step >= 0)) state = value;
    else state += (value - state) * (1 - Math.exp(-step / seconds));
    return state;
  };
}
