/** One group of equal ratios: middle of the logarithm and how many samples belong to it. */
export interface RatioCluster {
  readonly middle: number;
  readonly count: number;
}

export interface ClusterOptions {
  /** Half width of a cluster in the logarithm; default 0.06: creep, growth and converter slip lie inside, gears are further apart. */
  readonly halfWidth?: number;
  /** Smallest share of the samples that makes a cluster; default 0.04. */
  readonly share?: number;
  readonly most?: number;
}

/**
 * Groups of equal logarithms of a ratio, most populated first: the densest spot is taken out with everything within
 * `halfWidth`, again and again. NaN samples are skipped.
 *
 * @valid   gears at least 12 % apart (twice the half width)
 * @source  mode seeking on a histogram with bins of 0.5 %; widths: our default
 */
export function ratioClusters(logarithms: Float64Array, options: ClusterOptions = {}): RatioCluster[] {
  const { halfWidth = 0.06, share = 0.04, most = 10 } = options;
  let left = logarithms.filter((x) => Number.isFinite(x)).sort();
  const least = Math.max(6, share * left.length);
  const clusters: RatioCluster[] = [];
  while (clusters.length < most && left.length >= least) {
    const mode = densest(left, halfWidth / 4);
    const members = left.filter((x) => Math.abs(x - mode) <= halfWidth);
    if (members.length < least) break;
    // what is left beside a cluster is its flank, not a cluster of its own
    if (clusters.every(({ middle }) => Math.abs(middle - mode) > 1.8 * halfWidth)) {
      clusters.push({ middle: members[members.length >> 1], count: members.length });
    }
    left = left.filter((x) => Math.abs(x - mode) > halfWidth);
  }
  return clusters;
}

/** Middle value of the window of ±reach that holds most of the sorted values. */
export function densest(sorted: Float64Array, reach: number): number {
  let best = 0;
  let middle = sorted[0];
  let to = 0;
  for (let from = 0; from < sorted.length; from++) {
    while (to < sorted.length && sorted[to] <= sorted[from] + 2 * reach) to++;
    if (to - from > best) {
      best = to - from;
      middle = sorted[(from + to - 1) >> 1];
    }
  }
  return middle;
}
