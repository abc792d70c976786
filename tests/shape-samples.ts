import fc from 'fast-check';
import { difference } from '../sketch/shape/boolean.ts';
import { isSameCurve } from '../sketch/shape/curve.ts';
import { type Point, polar } from '../sketch/shape/point.ts';
import { type Contour, contourArea, polygon, type Region, worstGap } from '../sketch/shape/region.ts';
import {
  arc,
  circle,
  line,
  pointAlong,
  radiusOf,
  type Segment,
  segmentLength,
} from '../sketch/shape/segment.ts';

/** The kinds of the pieces, in alphabetical order: "arc arc line line". */
export const kindsOf = (segments: readonly Segment[]): string =>
  segments
    .map((s) => s.kind)
    .sort()
    .join(' ');

/** Two discs and the tangents round them: an arc, a line, an arc, a line, anticlockwise. */
export const twoEnded = (a: Point, ra: number, b: Point, rb: number): Region => {
  const along = Math.atan2(b.y - a.y, b.x - a.x);
  const lean = Math.acos((ra - rb) / Math.hypot(b.x - a.x, b.y - a.y));
  const rightA = polar(a, ra, along - lean);
  const rightB = polar(b, rb, along - lean);
  const leftB = polar(b, rb, along + lean);
  const leftA = polar(a, ra, along + lean);
  return {
    contours: [
      {
        segments: [
          line(rightA, rightB),
          arc(rightB, leftB, b, true),
          line(leftB, leftA),
          arc(leftA, rightA, a, true),
        ],
      },
    ],
  };
};

/** A rectangle with rounded corners about a centre, turned by an angle. */
export const roundedRectangle = (
  centre: Point,
  width: number,
  height: number,
  radius: number,
  turn = 0,
): Region => {
  const place = (x: number, y: number): Point => ({
    x: centre.x + x * Math.cos(turn) - y * Math.sin(turn),
    y: centre.y + x * Math.sin(turn) + y * Math.cos(turn),
  });
  const [w, h, r] = [width / 2, height / 2, radius];
  if (r <= 0) return { contours: [polygon([place(-w, -h), place(w, -h), place(w, h), place(-w, h)])] };
  return {
    contours: [
      {
        segments: [
          line(place(r - w, -h), place(w - r, -h)),
          arc(place(w - r, -h), place(w, r - h), place(w - r, r - h), true),
          line(place(w, r - h), place(w, h - r)),
          arc(place(w, h - r), place(w - r, h), place(w - r, h - r), true),
          line(place(w - r, h), place(r - w, h)),
          arc(place(r - w, h), place(-w, h - r), place(r - w, h - r), true),
          line(place(-w, h - r), place(-w, r - h)),
          arc(place(-w, r - h), place(r - w, -h), place(r - w, r - h), true),
        ],
      },
    ],
  };
};

/** Everything that is unsound about a region's contours, in words; empty for a sound one. */
export const faultsOf = (region: Region): readonly string[] =>
  region.contours.flatMap((contour, i) => faultsOfContour(contour).map((fault) => `contour ${i}: ${fault}`));

const faultsOfContour = (contour: Contour): readonly string[] => {
  const faults: string[] = [];
  if (contour.segments.length === 0) faults.push('no segments');
  if (worstGap(contour) > 1e-9) faults.push(`a gap of ${worstGap(contour)}`);
  if (!(Math.abs(contourArea(contour)) > 0)) faults.push(`an area of ${contourArea(contour)}`);
  contour.segments.forEach((s, i) => {
    const numbers = [s.from.x, s.from.y, s.to.x, s.to.y];
    if (s.kind === 'arc') numbers.push(s.centre.x, s.centre.y, s.sweep);
    if (!numbers.every(Number.isFinite)) faults.push(`segment ${i} has a number that is none`);
    if (!(segmentLength(s) > 1e-7)) faults.push(`segment ${i} is ${segmentLength(s)} long`);
    if (s.kind === 'arc') faults.push(...faultsOfArc(s, i));
  });
  return faults;
};

const faultsOfArc = (s: Extract<Segment, { kind: 'arc' }>, i: number): readonly string[] => {
  const faults: string[] = [];
  const end = Math.hypot(s.to.x - s.centre.x, s.to.y - s.centre.y);
  if (Math.abs(end - radiusOf(s)) > 0.002) faults.push(`arc ${i} has radii ${radiusOf(s)} and ${end}`);
  if (Math.abs(s.sweep) > 2 * Math.PI + 1e-9) faults.push(`arc ${i} sweeps ${s.sweep}`);
  const reached = polar(s.centre, end, Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep);
  const astray = Math.hypot(reached.x - s.to.x, reached.y - s.to.y);
  if (astray > 0.003) faults.push(`arc ${i}'s sweep ends ${astray} from its end`);
  return faults;
};

/**
 * Everything that a recovered region should not hold, in words: what is unsound, and neighbours on one line or circle
 * that ought to be one segment or to have cancelled.
 */
export const untidyIn = (region: Region): readonly string[] => [
  ...faultsOf(region),
  ...region.contours.flatMap(({ segments }, c) =>
    segments.length < 2
      ? []
      : segments.flatMap((s, i) =>
          isSameCurve(s, segments[(i + 1) % segments.length]!)
            ? [`contour ${c}: segments ${i} and ${(i + 1) % segments.length} lie on one curve`]
            : [],
        ),
  ),
];

/** Places spread along every boundary, about `step` apart, with neither end of a segment left out. */
export const boundaryPoints = (region: Region, step: number): readonly Point[] =>
  region.contours.flatMap((c) =>
    c.segments.flatMap((s) => {
      const count = Math.max(2, Math.ceil(segmentLength(s) / step));
      return Array.from({ length: count }, (_, k) => pointAlong(s, k / count));
    }),
  );

/** The chorded image of a region for another library: closed polygons in thousandths of a micrometre. */
export const chorded = (region: Region, unit: number, tolerance: number): { x: number; y: number }[][] =>
  region.contours.map((c) =>
    c.segments.flatMap((s) => {
      const count =
        s.kind === 'line'
          ? 1
          : Math.max(
              3,
              Math.ceil(Math.abs(s.sweep) / (2 * Math.acos(1 - Math.min(1, tolerance / radiusOf(s))))),
            );
      return Array.from({ length: count }, (_, k) => {
        const p = pointAlong(s, k / count);
        return { x: Math.round(p.x * unit), y: Math.round(p.y * unit) };
      });
    }),
  );

const coordinate = fc.double({ min: -20, max: 20, noNaN: true });
export const places: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate });
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });

/** One disc. */
export const discs: fc.Arbitrary<Region> = fc
  .record({ centre: places, radius: between(0.3, 12) })
  .map(({ centre, radius }) => ({
    contours: [
      {
        segments: [
          arc({ x: centre.x + radius, y: centre.y }, { x: centre.x - radius, y: centre.y }, centre, true),
          arc({ x: centre.x - radius, y: centre.y }, { x: centre.x + radius, y: centre.y }, centre, true),
        ],
      },
    ],
  }));

/** One rectangle, some with round corners, turned by any angle or lying square. */
export const rectangles: fc.Arbitrary<Region> = fc
  .record({
    centre: places,
    width: between(1, 24),
    height: between(1, 24),
    share: fc.oneof(fc.constant(0), between(0.05, 0.95)),
    turn: fc.oneof(fc.constant(0), between(-3, 3)),
  })
  .map(({ centre, width, height, share, turn }) =>
    roundedRectangle(centre, width, height, (share * Math.min(width, height)) / 2, turn),
  );

/** One two-ended lever. */
export const levers: fc.Arbitrary<Region> = fc
  .record({
    a: places,
    ra: between(1, 8),
    rb: between(1, 8),
    reach: between(0.2, 30),
    turn: between(-3.1, 3.1),
  })
  .map(({ a, ra, rb, reach, turn }) => {
    const d = Math.abs(ra - rb) + reach;
    return twoEnded(a, ra, { x: a.x + d * Math.cos(turn), y: a.y + d * Math.sin(turn) }, rb);
  });

/** One simple shape. */
export const simpleShapes: fc.Arbitrary<Region> = fc.oneof(discs, rectangles, levers);

/** A lever with a slot sawn into its first end, and a hole in its other. */
export const forks: fc.Arbitrary<Region> = fc
  .record({
    ra: between(3, 8),
    rb: between(2, 6),
    reach: between(4, 30),
    share: between(0.2, 0.7),
    depth: between(0.3, 1.4),
    turn: between(-3.1, 3.1),
  })
  .map(({ ra, rb, reach, share, depth, turn }) =>
    forked(ra, rb, ra + rb + reach, share * ra, depth * ra, turn),
  );

/** The same, stated: a fork of half-width `half` and depth `depth` with a round root, a hole half the other end's size. */
export const forked = (
  ra: number,
  rb: number,
  reach: number,
  half: number,
  depth: number,
  turn = 0,
): Region => {
  const at = (along: number, left: number): Point => ({
    x: along * Math.cos(turn) - left * Math.sin(turn),
    y: along * Math.sin(turn) + left * Math.cos(turn),
  });
  const root = depth - ra - half;
  const slot: Region = {
    contours: [
      {
        segments: [
          line(at(-2 * ra, -half), at(root, -half)),
          arc(at(root, -half), at(root, half), at(root, 0), true),
          line(at(root, half), at(-2 * ra, half)),
          line(at(-2 * ra, half), at(-2 * ra, -half)),
        ],
      },
    ],
  };
  const hole = { contours: [{ segments: [circle(at(reach, 0), rb / 2)] }] };
  return difference(difference(twoEnded(at(0, 0), ra, at(reach, 0), rb), slot), hole);
};
