import { sketchPath } from './sketch-path.ts';

const WIDTH = 120;
const HEIGHT = 32;

/** A small picture of a column's values over the file, gaps left open. */
export function Sketch({ values, label }: { readonly values: readonly (number | null)[]; readonly label: string }) {
  const path = sketchPath(values, { width: WIDTH, height: HEIGHT });
  return (
    <svg className="sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
      {path === '' ? (
        <text x={WIDTH / 2} y={HEIGHT / 2 + 4} textAnchor="middle">
          no values
        </text>
      ) : (
        <path d={path} />
      )}
    </svg>
  );
}
