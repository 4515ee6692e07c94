/**
 * SVG path of values over a box, lowest at the bottom; missing values leave a gap; a level line runs through the middle.
 * A lonely value becomes a short dash. Empty when nothing is known.
 */
export function sketchPath(
  values: readonly (number | null)[],
  { width, height }: { width: number; height: number },
): string {
  const known = values.filter((value): value is number => value !== null && Number.isFinite(value));
  if (known.length === 0) return '';
  const low = Math.min(...known);
  const span = Math.max(...known) - low;
  const margin = 2;
  const x = (at: number) => (values.length === 1 ? width / 2 : (at / (values.length - 1)) * width);
  const y = (value: number) =>
    span === 0 ? height / 2 : height - margin - ((value - low) / span) * (height - 2 * margin);
  let path = '';
  values.forEach((value, at) => {
    if (value === null || !Number.isFinite(value)) return;
    const goesOn = at > 0 && values[at - 1] !== null && path !== '';
    path += `${goesOn ? 'L' : 'M'}${x(at).toFixed(1)} ${y(value).toFixed(1)}`;
    const alone = !goesOn && (values[at + 1] ?? null) === null;
    if (alone) path += 'h1.5';
  });
  return path;
}
