import type { Quantity } from '../part/dimensions.ts';
import type { Part } from '../part/part.ts';
import { midpoint, type Point } from '../shape/point.ts';
import { type Region, rectangle, segmentsOf } from '../shape/region.ts';
import type { Segment } from '../shape/segment.ts';
import type { JsonObject } from './json.ts';
import { type Stated, statedAt } from './stated.ts';

/** A place that a stroke may catch on. */
export interface Spot {
  readonly point: Point;
  /** What it is, for the label beside the pencil: "centre of neck". */
  readonly words: string;
  readonly feature: string | null;
  readonly kind: 'end' | 'centre' | 'corner' | 'middle';
  /** As the document states it, so that what catches here follows the same formulas. */
  readonly place: Stated | null;
}

/** A round edge that a circle may touch. */
export interface Rim {
  readonly kind: 'end' | 'hole';
  readonly centre: Point;
  readonly radius: number;
  readonly words: string;
}

/** Everything on the sheet that a stroke may catch on, mm. */
export interface SnapField {
  readonly spots: readonly Spot[];
  readonly edges: readonly Segment[];
  readonly rims: readonly Rim[];
  /** Step of the grid, mm. */
  readonly grid: number;
}

/** Steps of the grid: round numbers of the unit that is read, mm. */
const STEPS = {
  mm: [0.1, 0.2, 0.5, 1, 2, 5, 10],
  inch: [1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1].map((i) => i * 25.4),
} as const;
/** A step of the grid is at least this wide, pixels. */
const LEAST_STEP = 7;

/** The finest grid that can be told apart at a scale of `pixels` to the mm. */
export const gridFor = (pixels: number, unit: Part['unit']): number =>
  STEPS[unit].find((s) => s * pixels >= LEAST_STEP) ?? STEPS[unit].at(-1)!;

/** What there is to catch on, apart from the features named in `except` (those that are being moved). */
export const snapField = (
  document: JsonObject,
  part: Part,
  outline: Region,
  grid: number,
  except: ReadonlySet<string> = new Set(),
): SnapField => {
  const spots: Spot[] = [];
  const spot = (
    kind: Spot['kind'],
    feature: string | null,
    point: Point,
    words: string,
    path?: readonly (string | number)[],
  ): void => {
    if (feature !== null && except.has(feature)) return;
    spots.push({ kind, feature, point, words, place: path ? statedAt(document, path) : null });
  };
  const ends = new Map(part.ends.map((e) => [e.name, e]));
  part.ends.forEach((e, i) => {
    spot('end', e.name, e.centre, `centre of ${e.name}`, ['ends', i, 'centre']);
  });
  part.holes.forEach((h, i) => {
    spot('centre', h.name, h.centre, `centre of ${h.name}`, ['holes', i, 'centre']);
  });
  part.slots.forEach((s, i) => {
    spot('centre', s.name, s.from, `start of ${s.name}`, ['slots', i, 'from']);
    spot('centre', s.name, s.to, `end of ${s.name}`, ['slots', i, 'to']);
    spot('middle', s.name, midpoint(s.from, s.to), `middle of ${s.name}`);
  });
  part.forks.forEach((f, i) => {
    spot('corner', f.name, f.mouth, `mouth of ${f.name}`, ['forks', i, 'mouth']);
  });
  for (const a of part.arms) {
    const [from, to] = [ends.get(a.from), ends.get(a.to)];
    if (from && to) spot('middle', a.name, midpoint(from.centre, to.centre), `middle of ${a.name}`);
  }
  part.plates.forEach((p) => {
    for (const c of p.corners) spot('corner', p.name, c, `corner of ${p.name}`);
  });
  part.lands.forEach((l) => {
    if (l.shape.kind === 'polygon')
      for (const c of l.shape.corners) spot('corner', l.name, c, `corner of ${l.name}`);
  });
  const { corner, length, width } = part.bar;
  const far = { x: corner.x + length, y: corner.y + width };
  for (const c of [corner, { x: far.x, y: corner.y }, far, { x: corner.x, y: far.y }]) {
    spot('corner', null, c, 'corner of the bar');
  }
  const middle = { x: corner.x + length / 2, y: corner.y + width / 2 };
  spot('middle', null, { x: corner.x, y: middle.y }, 'middle of the bar’s left edge');
  spot('middle', null, { x: far.x, y: middle.y }, 'middle of the bar’s right edge');
  spot('middle', null, middle, 'middle of the bar');
  const rims: Rim[] = [
    ...part.ends.map((e) => ({ kind: 'end' as const, name: e.name, centre: e.centre, radius: e.radius })),
    ...part.holes.map((h) => ({
      kind: 'hole' as const,
      name: h.name,
      centre: h.centre,
      radius: h.diameter / 2,
    })),
  ]
    .filter((r) => !except.has(r.name))
    .map(({ kind, name, centre, radius }) => ({ kind, centre, radius, words: name }));
  return { spots, rims, grid, edges: [...segmentsOf(rectangle(corner, far)), ...segmentsOf(outline)] };
};

/** A coordinate as the document of a place states it. */
export const coordinateOf = (place: Stated | null, axis: 'x' | 'y'): Quantity | null =>
  place ? place[axis === 'x' ? 0 : 1] : null;
