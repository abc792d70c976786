/** A coordinate where the material has a face, and how much of it lies there (mm² or mm). */
export interface Face {
  readonly at: number;
  readonly weight: number;
  /** It bounds something thin: it gets a plane even where a weightier one is near. */
  readonly thin?: boolean;
}

/** A face nearer than this share of a cell to a weightier one gets no plane of its own, */
const NEAREST = 0.3;
/** unless it bounds something thin and is no nearer than this, mm. */
const NEAREST_THIN = 0.05;
/** A cell may outgrow the wanted size by this share before another is put in. */
const SLACK = 0.2;

/**
 * Adds up faces that lie together: every sample within `within` mm of the weightiest counts to it, at their mean.
 * The heaviest come first; those under `least` are dropped.
 */
export const gatherFaces = (samples: readonly Face[], within: number, least: number): Face[] => {
  const bins = new Map<number, { weight: number; moment: number }>();
  for (const { at, weight } of samples) {
    const key = Math.round(at / within);
    const bin = bins.get(key) ?? { weight: 0, moment: 0 };
    bin.weight += weight;
    bin.moment += weight * at;
    bins.set(key, bin);
  }
  const faces: Face[] = [];
  const order = [...bins.entries()].sort((a, b) => b[1].weight - a[1].weight);
  const taken = new Set<number>();
  for (const [key] of order) {
    if (taken.has(key)) continue;
    let weight = 0;
    let moment = 0;
    for (const near of [key - 1, key, key + 1]) {
      const bin = bins.get(near);
      if (bin === undefined || taken.has(near)) continue;
      taken.add(near);
      weight += bin.weight;
      moment += bin.moment;
    }
    if (weight >= least) faces.push({ at: moment / weight, weight });
  }
  return faces.sort((a, b) => b.weight - a.weight);
};

/**
 * Planes from `from` to `to`, through as many of the faces as lie apart (thin ones first, then as given), and evenly between them with
 * gaps of about `cell` and never more than a fifth above it.
 */
export const planesThrough = (
  faces: readonly Face[],
  from: number,
  to: number,
  cell: number,
): Float64Array<ArrayBuffer> => {
  const kept = [from, to];
  for (const { at, thin } of [...faces].sort((a, b) => Number(b.thin === true) - Number(a.thin === true))) {
    if (at <= from || at >= to) continue;
    const apart = thin === true ? NEAREST_THIN : NEAREST * cell;
    if (kept.every((other) => Math.abs(other - at) >= apart)) kept.push(at);
  }
  kept.sort((a, b) => a - b);
  const planes = [from];
  for (let i = 1; i < kept.length; i++) {
    const start = kept[i - 1]!;
    const gap = kept[i]! - start;
    const cells = Math.max(1, Math.ceil(gap / cell - SLACK));
    for (let k = 1; k < cells; k++) planes.push(start + (gap * k) / cells);
    planes.push(kept[i]!);
  }
  return Float64Array.from(planes);
};

/** The cell whose planes hold a coordinate between them, the outermost for one outside. */
export const cellHolding = (planes: Float64Array, at: number): number => {
  let low = 0;
  let high = planes.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (planes[middle]! <= at) low = middle;
    else high = middle - 1;
  }
  return low;
};
