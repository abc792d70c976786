import { largestCornerRadius, turningArea } from '../part/corners.ts';
import { swallows } from '../part/outline.ts';
import type { Arm, End, Part, Plate } from '../part/part.ts';
import { curveMeetings } from '../shape/curve.ts';
import { cross, distance, dot, type Point, subtract } from '../shape/point.ts';
import type { Contour } from '../shape/region.ts';
import { type Arc, directionAlong, type Line, line, radiusOf, type Segment } from '../shape/segment.ts';
import { runsOn } from './shapes.ts';

/** Ends, arms and plates that an outline may be; whether it is, is for the one who asks to see. */
export type Body = Pick<Part, 'ends' | 'arms' | 'plates' | 'insideRadius'>;

/** Guesses at what an outline without forks (anticlockwise) is made of, the plainest first. */
export const bodiesOf = (contour: Contour, tolerance: number): readonly Body[] => {
  const ends = endsIn(contour, tolerance);
  const inside = insideRadiusOf(contour, tolerance);
  const fill = inside === null ? {} : { insideRadius: inside };
  const bodies: Body[] = [];
  if (ends.length > 0) {
    const { arms } = armsIn(contour.segments, ends, tolerance);
    bodies.push({ ends, arms, plates: [], ...fill });
  }
  const plate = filletedPlate(contour, tolerance);
  if (plate !== null) bodies.push({ ends: [], arms: [], plates: [plate] });
  const sharp = unfilleted(contour.segments);
  if (sharp !== null && ends.length > 1) {
    const { arms, sides } = armsIn(sharp, ends, tolerance);
    const plates = platesOf(sharp, sides);
    if (plates.length > 0) bodies.push({ ends, arms, plates, ...fill });
  }
  if (sharp !== null && ends.length > 0) {
    // Round ends on a body with corners: the body runs through the centres of its ends.
    const corners = distinct(sharp.flatMap((s) => (s.kind === 'arc' ? [s.from, s.centre] : [s.from])));
    if (corners.length >= 3 && turningArea(corners) > 0) {
      const body: Plate = { name: 'plate 1', corners, cornerRadius: 0 };
      bodies.push({ ends, arms: [], plates: [body], ...fill });
    }
  }
  return bodies;
};

/** The circles of the outline's convex arcs, each once. */
const endsIn = (contour: Contour, tolerance: number): readonly End[] => {
  const ends: End[] = [];
  const arcs = contour.segments.filter((s): s is Arc => s.kind === 'arc' && s.sweep > 0);
  // A longer arc knows its centre better.
  for (const a of [...arcs].sort((p, q) => q.sweep * radiusOf(q) - p.sweep * radiusOf(p))) {
    const radius = radiusOf(a);
    const known = ends.some(
      (e) => distance(e.centre, a.centre) < 10 * tolerance && Math.abs(e.radius - radius) < 10 * tolerance,
    );
    if (!known) ends.push({ name: '', centre: a.centre, radius });
  }
  return ends
    .sort((a, b) => a.centre.x - b.centre.x || a.centre.y - b.centre.y)
    .map((e, i) => ({ ...e, name: `end ${i + 1}` }));
};

/** For every side the neighbouring ends along it that it is tangent to are joined. */
const armsIn = (
  segments: readonly Segment[],
  ends: readonly End[],
  tolerance: number,
): { readonly arms: readonly Arm[]; readonly sides: ReadonlySet<Segment> } => {
  const pairs = new Map<string, Arm>();
  const sides = new Set<Segment>();
  for (const s of segments) {
    if (s.kind !== 'line') continue;
    const u = directionAlong(s, 0);
    const along = (p: Point): number => dot(u, subtract(p, s.from));
    const touched = ends
      .filter((e) => Math.abs(cross(u, subtract(e.centre, s.from)) - e.radius) <= 10 * tolerance)
      .sort((a, b) => along(a.centre) - along(b.centre));
    const length = along(s.to);
    for (let i = 0; i + 1 < touched.length; i++) {
      const [a, b] = [touched[i]!, touched[i + 1]!];
      // Only where the side runs between the two.
      const reaches = along(a.centre) < length - tolerance && along(b.centre) > tolerance;
      if (!reaches || swallows(a, b)) continue;
      sides.add(s);
      const [from, to] = ends.indexOf(a) < ends.indexOf(b) ? [a, b] : [b, a];
      pairs.set(`${from.name}|${to.name}`, {
        name: `${from.name} – ${to.name}`,
        from: from.name,
        to: to.name,
      });
    }
  }
  return { arms: [...pairs.values()], sides };
};

/** What stands beside the arms: every run of straight sides that belong to none, closed across. */
const platesOf = (segments: readonly Segment[], sides: ReadonlySet<Segment>): readonly Plate[] => {
  const n = segments.length;
  const isLoose = (s: Segment): boolean => s.kind === 'line' && !sides.has(s);
  const start = segments.findIndex((s) => !isLoose(s));
  if (start < 0) return [];
  const plates: Plate[] = [];
  let run: Segment[] = [];
  for (let i = 1; i <= n; i++) {
    const s = segments[(start + i) % n]!;
    if (isLoose(s)) {
      run.push(s);
      continue;
    }
    const corners = run.length > 1 ? distinct([run[0]!.from, ...run.map((r) => r.to)]) : [];
    if (corners.length > 2 && turningArea(corners) > 0) {
      plates.push({ name: `plate ${plates.length + 1}`, corners, cornerRadius: 0 });
    }
    run = [];
  }
  return plates;
};

/** The one radius of all concave arcs that round a corner; null when there is none or they differ. */
const insideRadiusOf = (contour: Contour, tolerance: number): number | null => {
  const radii = contour.segments.flatMap((s) => (s.kind === 'arc' && s.sweep < 0 ? [radiusOf(s)] : []));
  if (radii.length === 0) return null;
  return Math.max(...radii) - Math.min(...radii) <= 10 * tolerance
    ? radii.reduce((sum, r) => sum + r, 0) / radii.length
    : null;
};

/** A polygon, sharp or with one radius in every corner; null for anything else. */
const filletedPlate = (contour: Contour, tolerance: number): Plate | null => {
  const { segments } = contour;
  const n = segments.length;
  const arcs = segments.filter((s): s is Arc => s.kind === 'arc');
  if (arcs.length === 0) {
    return n < 3 ? null : { name: 'plate 1', corners: segments.map((s) => s.from), cornerRadius: 0 };
  }
  const radius = radiusOf(arcs.reduce((a, b) => (Math.abs(b.sweep) > Math.abs(a.sweep) ? b : a)));
  const corners: Point[] = [];
  for (let i = 0; i < n; i++) {
    const s = segments[i]!;
    if (s.kind === 'line') continue;
    const before = segments[(i + n - 1) % n]!;
    const after = segments[(i + 1) % n]!;
    const fits = before.kind === 'line' && after.kind === 'line' && runsOn(before, s) && runsOn(s, after);
    if (!fits || Math.abs(radiusOf(s) - radius) > 10 * tolerance) return null;
    const corner = curveMeetings(before, after)[0];
    if (corner === undefined || Math.abs(s.sweep) > Math.PI - 0.01) return null;
    corners.push(corner);
  }
  // One radius holds for every corner, so there may be no sharp one.
  if (arcs.length * 2 !== n || corners.length < 3) return null;
  return { name: 'plate 1', corners, cornerRadius: Math.min(radius, largestCornerRadius(corners)) };
};

/**
 * The outline with concave fillets taken back to the corners they fill; null where a corner cannot be found. A fillet
 * that has used up one side altogether begins at a corner: the side is put back square to its neighbour.
 */
const unfilleted = (segments: readonly Segment[]): readonly Segment[] | null => {
  const n = segments.length;
  const out = segments.map((s): Segment | null => (s.kind === 'arc' && s.sweep < 0 ? null : s));
  const put: (Segment | undefined)[] = segments.map(() => undefined);
  for (let i = 0; i < n; i++) {
    const s = segments[i]!;
    if (out[i] !== null) continue;
    const [p, q] = [(i + n - 1) % n, (i + 1) % n];
    const [before, after] = [out[p], out[q]];
    if (!before || !after) return null;
    const [leaves, arrives] = [runsOn(before, s), runsOn(s, after)];
    if (!leaves && !arrives) return null;
    const square = (at: Point, u: Point): Segment => line(at, { x: at.x - u.y, y: at.y + u.x });
    const first = leaves ? before : square(s.from, directionAlong(before, 1));
    const second = arrives ? after : square(s.to, directionAlong(after, 0));
    const corner = nearestMeeting(first, second, s.from);
    if (corner === null) return null;
    if (leaves) out[p] = ending(before, corner);
    else put[i] = line(s.from, corner);
    if (arrives) out[q] = beginning(after, corner);
    else put[i] = line(corner, s.to);
  }
  return out.flatMap((s, i) => s ?? put[i] ?? []);
};

const nearestMeeting = (a: Segment, b: Segment, near: Point): Point | null =>
  curveMeetings(a, b).reduce<Point | null>(
    (best, x) => (best === null || distance(x, near) < distance(best, near) ? x : best),
    null,
  );

const ending = (s: Segment, to: Point): Segment => ({ ...s, to }) as Line | Arc;
const beginning = (s: Segment, from: Point): Segment => ({ ...s, from }) as Line | Arc;

const distinct = (points: readonly Point[]): readonly Point[] =>
  points.filter((p, i) => distance(p, points[(i + points.length - 1) % points.length]!) > 1e-6);
