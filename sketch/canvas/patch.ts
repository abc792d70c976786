import { add, cross, dot, length, type Point, scale, subtract } from '../shape/point.ts';

/** An upright box in pixels. */
export interface Patch {
  readonly min: Point;
  readonly max: Point;
}
export type Stroke = readonly [Point, Point];

/** Height that a line of lettering takes, pixels. */
export const LETTER = 16;

export const patchAt = (at: Point, width: number, height: number): Patch => ({
  min: { x: at.x - width / 2 - 3, y: at.y - height / 2 - 1 },
  max: { x: at.x + width / 2 + 3, y: at.y + height / 2 + 1 },
});

/** Lettering that leans is kept clear by a row of small boxes under it. */
export const patchesAlong = (at: Point, width: number, turn: number): readonly Patch[] => {
  if (Math.abs(turn) < 0.01) return [patchAt(at, width, LETTER)];
  const count = Math.max(1, Math.ceil(width / LETTER));
  const u = { x: Math.cos(turn), y: Math.sin(turn) };
  return Array.from({ length: count }, (_, i) =>
    patchAt(add(at, scale(u, ((i + 0.5) / count - 0.5) * width)), LETTER, LETTER),
  );
};

export const meet = (a: Patch, b: Patch): boolean =>
  a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;

const within = (p: Point, b: Patch): boolean =>
  p.x > b.min.x && p.x < b.max.x && p.y > b.min.y && p.y < b.max.y;

export const strikes = (s: Stroke, b: Patch): boolean => {
  const [p, q] = s;
  if (p.x < b.min.x && q.x < b.min.x) return false;
  if (p.x > b.max.x && q.x > b.max.x) return false;
  if (p.y < b.min.y && q.y < b.min.y) return false;
  if (p.y > b.max.y && q.y > b.max.y) return false;
  if (within(p, b) || within(q, b)) return true;
  // Neither end lies in the box and the spans meet: the line strikes it when two of its corners lie on both sides.
  const d = subtract(q, p);
  const side = (x: number, y: number): boolean => cross(d, { x: x - p.x, y: y - p.y }) > 0;
  const first = side(b.min.x, b.min.y);
  return (
    first !== side(b.max.x, b.min.y) || first !== side(b.max.x, b.max.y) || first !== side(b.min.x, b.max.y)
  );
};

export const crosses = (a: Stroke, b: Stroke): boolean => {
  const d = subtract(a[1], a[0]);
  const e = subtract(b[1], b[0]);
  const k = cross(d, e);
  if (Math.abs(k) < 1e-9) return false;
  const f = subtract(b[0], a[0]);
  const t = cross(f, e) / k;
  const s = cross(f, d) / k;
  return t > 0 && t < 1 && s > 0 && s < 1;
};

/** Whether two strokes lie along each other for more than a touch, less than a few pixels apart. */
export const runsAlong = (a: Stroke, b: Stroke): boolean => {
  const d = subtract(a[1], a[0]);
  const long = length(d);
  if (long < 1) return false;
  const aside = (p: Point): number => Math.abs(cross(d, subtract(p, a[0]))) / long;
  if (aside(b[0]) > 6 || aside(b[1]) > 6) return false;
  const share = (p: Point): number => dot(d, subtract(p, a[0])) / long;
  const [from, to] = [share(b[0]), share(b[1])];
  return Math.min(long, Math.max(from, to)) - Math.max(0, Math.min(from, to)) > 4;
};

/** Tells for a closed chain of pixels whether a box lies on what it encloses. */
export const onWhatIsEnclosed = (chain: readonly Point[]): ((b: Patch) => boolean) => {
  if (chain.length === 0) return () => false;
  const whole: Patch = {
    min: { x: Math.min(...chain.map((p) => p.x)), y: Math.min(...chain.map((p) => p.y)) },
    max: { x: Math.max(...chain.map((p) => p.x)), y: Math.max(...chain.map((p) => p.y)) },
  };
  return (b) =>
    meet(b, whole) &&
    (inside({ x: (b.min.x + b.max.x) / 2, y: (b.min.y + b.max.y) / 2 }, chain) ||
      inside(b.min, chain) ||
      inside(b.max, chain) ||
      chain.some((p) => within(p, b)));
};

const inside = (p: Point, chain: readonly Point[]): boolean => {
  let odd = false;
  for (let i = 0, j = chain.length - 1; i < chain.length; j = i++) {
    const a = chain[i]!;
    const b = chain[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
};
