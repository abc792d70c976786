import { cross, distance, dot, type Point, subtract, unit } from '../shape/point.ts';
import { type Contour, contourArea } from '../shape/region.ts';
import { type Arc, arc, circle, line, pointAlong, radiusOf, type Segment } from '../shape/segment.ts';

/** Neighbouring pieces of one line or circle made one again; nothing moves farther than the tolerance, mm. */
export const tidy = (contour: Contour, tolerance: number): Contour => {
  const whole = asCircle(contour, tolerance);
  if (whole !== null) return { segments: [whole] };
  // Long runs are put together from pieces already joined, so that the time does not grow with their square.
  let segments = contour.segments;
  for (;;) {
    const fewer = joinedRuns(segments, tolerance);
    if (fewer.length === segments.length) return { segments: fewer };
    segments = fewer;
  }
};

/** Neighbours looked at together. */
const LONGEST_RUN = 40;

const joinedRuns = (chain: readonly Segment[], tolerance: number): readonly Segment[] => {
  let segments = chain;
  // Begin at a joint that stays, so that no run lies across the seam.
  const start = segments.findIndex(
    (s, i) => merged([segments[(i + segments.length - 1) % segments.length]!, s], tolerance) === null,
  );
  if (start > 0) segments = [...segments.slice(start), ...segments.slice(0, start)];
  const kept: Segment[] = [];
  let run: Segment[] = [];
  let joined: Segment | null = null;
  for (const s of segments) {
    const longer: Segment | null =
      joined === null || run.length >= LONGEST_RUN ? null : merged([...run, s], tolerance);
    if (longer !== null) {
      run.push(s);
      joined = longer;
    } else {
      if (joined !== null) kept.push(joined);
      run = [s];
      joined = s;
    }
  }
  if (joined !== null) kept.push(joined);
  return kept;
};

const SAMPLES = [0, 0.25, 0.5, 0.75, 1];

/** The one segment that a run of neighbours follows within the tolerance, or null. */
const merged = (run: readonly Segment[], tolerance: number): Segment | null => {
  const [first, last] = [run[0]!, run[run.length - 1]!];
  if (run.every((s) => s.kind === 'line')) {
    if (distance(first.from, last.to) < tolerance) return null;
    const u = unit(subtract(last.to, first.from));
    const straight = run.every(
      (s) =>
        Math.abs(cross(u, subtract(s.to, first.from))) <= tolerance && dot(u, subtract(s.to, s.from)) > 0,
    );
    return straight ? line(first.from, last.to) : null;
  }
  const arcs = run.filter((s) => s.kind === 'arc');
  if (arcs.length < run.length) return null;
  const ahead = arcs[0]!.sweep > 0;
  const sweep = arcs.reduce((sum, a) => sum + a.sweep, 0);
  if (!arcs.every((a) => a.sweep > 0 === ahead) || Math.abs(sweep) > 2 * Math.PI - 0.01) return null;
  if (distance(first.from, last.to) < tolerance) return null;
  // Through both ends, and as near as may be to the centre that the longest piece has.
  const longest = arcs.reduce((a, b) =>
    radiusOf(b) * Math.abs(b.sweep) > radiusOf(a) * Math.abs(a.sweep) ? b : a,
  );
  const through = onCircle(arcs, tolerance, longest);
  return through === null ? null : arc(first.from, last.to, through, ahead);
};

/** A centre, the same way from both ends of the run, whose circle all its arcs follow; null when there is none. */
const onCircle = (arcs: readonly Arc[], tolerance: number, longest: Arc): Point | null => {
  const from = arcs[0]!.from;
  const to = arcs[arcs.length - 1]!.to;
  const places = arcs.flatMap((a) => SAMPLES.map((t) => pointAlong(a, t)));
  const chord = unit(subtract(to, from));
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const fitted = bestCircle(places)?.centre ?? null;
  for (const guess of [longest.centre, fitted]) {
    if (guess === null) continue;
    const off = dot(subtract(guess, middle), chord);
    const centre = { x: guess.x - chord.x * off, y: guess.y - chord.y * off };
    const r = distance(centre, from);
    if (places.every((p) => Math.abs(distance(p, centre) - r) <= tolerance)) return centre;
  }
  return null;
};

/** The whole circle that a contour of arcs is, within the tolerance; null for any other contour. */
const asCircle = (contour: Contour, tolerance: number): Arc | null => {
  const arcs = contour.segments.filter((s) => s.kind === 'arc');
  if (arcs.length === 0 || arcs.length < contour.segments.length) return null;
  const turn = arcs.reduce((sum, a) => sum + a.sweep, 0);
  if (Math.abs(Math.abs(turn) - 2 * Math.PI) > 0.05) return null;
  if (arcs.length === 1) return circle(arcs[0]!.centre, radiusOf(arcs[0]!), turn > 0);
  const places = arcs.flatMap((a) => SAMPLES.map((t) => pointAlong(a, t)));
  const best = bestCircle(places);
  if (best === null) return null;
  const { centre, radius } = best;
  if (places.some((p) => Math.abs(distance(p, centre) - radius) > tolerance)) return null;
  return circle(centre, radius, contourArea(contour) > 0);
};

/** The circle through points by least squares of the squared radius (Kåsa); null when they lie in line. */
const bestCircle = (places: readonly Point[]): { centre: Point; radius: number } | null => {
  const n = places.length;
  const mx = places.reduce((sum, p) => sum + p.x, 0) / n;
  const my = places.reduce((sum, p) => sum + p.y, 0) / n;
  let [uu, uv, vv, uz, vz, zz] = [0, 0, 0, 0, 0, 0];
  for (const p of places) {
    const [u, v] = [p.x - mx, p.y - my];
    const z = u * u + v * v;
    uu += u * u;
    uv += u * v;
    vv += v * v;
    uz += u * z;
    vz += v * z;
    zz += z;
  }
  const d = uu * vv - uv * uv;
  if (d <= 1e-14 * (uu + vv) ** 2) return null;
  const cx = (uz * vv - vz * uv) / (2 * d);
  const cy = (vz * uu - uz * uv) / (2 * d);
  return { centre: { x: cx + mx, y: cy + my }, radius: Math.sqrt(cx * cx + cy * cy + zz / n) };
};
