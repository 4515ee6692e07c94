/** A curve with its slope. */
export type Curve = (x: number) => { readonly value: number; readonly slope: number };

/**
 * Natural cubic spline through points; beyond the ends the end cubics go on.
 *
 * @param x  rising, at least three
 * @param y  as long as `x`
 * @source  Press et al., Numerical Recipes, section 3.3
 */
export function cubicSpline(x: Float64Array, y: Float64Array): Curve {
  const curvature = curvatures(x, y);
  const last = x.length - 2;
  return (at) => {
    let low = 0;
    let high = last + 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (x[middle] > at) high = middle;
      else low = middle;
    }
    const h = x[low + 1] - x[low];
    const a = (x[low + 1] - at) / h;
    const b = (at - x[low]) / h;
    const [c0, c1] = [curvature[low], curvature[low + 1]];
    return {
      value: a * y[low] + b * y[low + 1] + (((a ** 3 - a) * c0 + (b ** 3 - b) * c1) * h * h) / 6,
      slope: (y[low + 1] - y[low]) / h + (h / 6) * ((1 - 3 * a * a) * c0 + (3 * b * b - 1) * c1),
    };
  };
}

function curvatures(x: Float64Array, y: Float64Array): Float64Array {
  const n = x.length;
  const curvature = new Float64Array(n);
  const part = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const share = (x[i] - x[i - 1]) / (x[i + 1] - x[i - 1]);
    const pivot = share * curvature[i - 1] + 2;
    curvature[i] = (share - 1) / pivot;
    const bend = (y[i + 1] - y[i]) / (x[i + 1] - x[i]) - (y[i] - y[i - 1]) / (x[i] - x[i - 1]);
    part[i] = ((6 * bend) / (x[i + 1] - x[i - 1]) - share * part[i - 1]) / pivot;
  }
  curvature[n - 1] = 0;
  for (let i = n - 2; i >= 0; i--) curvature[i] = curvature[i] * curvature[i + 1] + part[i];
  return curvature;
}
