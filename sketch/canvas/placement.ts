import { add, cross, dot, type Point, scale, subtract } from '../shape/point.ts';

/** A label's box in pixels, upright. */
interface Patch {
  readonly min: Point;
  readonly max: Point;
}
export type Stroke = readonly [Point, Point];

/** A dimension as it is to be inked, all in pixels. */
export interface Placed {
  readonly feature: string;
  readonly lines: readonly Stroke[];
  readonly arrows: readonly { readonly tip: Point; readonly direction: number }[];
  readonly dot: Point | null;
  readonly label: { readonly at: Point; readonly text: string; readonly turn: number };
}

/** A dimension with its places already in pixels. */
export type Asked =
  | {
      readonly kind: 'linear';
      readonly feature: string;
      readonly from: Point;
      readonly to: Point;
      readonly along: Point;
      readonly text: string;
      readonly overall?: boolean;
    }
  | {
      readonly kind: 'note';
      readonly feature: string;
      readonly at: Point;
      readonly radius: number;
      readonly toward: number | null;
      readonly edges: readonly (readonly [number, number])[] | null;
      readonly text: string;
    };

export interface Room {
  /** The part's outline as a closed chain of pixels. */
  readonly outline: readonly Point[];
  /** Places already taken on the sheet, as middles of squares of 34 pixels. */
  readonly kept: readonly Point[];
  /** Lines already on the sheet that lettering had better not stand on. */
  readonly lines: readonly Stroke[];
  /** The part of the window where lettering may stand. */
  readonly free: Patch;
  /** Width of a text, pixels. */
  readonly widthOf: (text: string) => number;
}

const LETTER = 16;
const TIER = 24;
const TIERS = 7;
const OVERLAP = 4000;
const OFF_SHEET = 3000;
const ON_PART = 700;
const LINE_OVER_LABEL = 900;
const CROSSING = 160;
const ON_LINE = 120;
const NO_EDGE = 2500;

/**
 * Finds a place for every dimension, one after another, each where it collides least with those already there, with
 * the part, and with the edge of the free sheet. The same input always gives the same drawing.
 */
export const placeDimensions = (asked: readonly Asked[], room: Room): readonly Placed[] => {
  const taken: { patches: Patch[]; strokes: Stroke[]; hairs: Stroke[] } = {
    patches: room.kept.map((at) => patchAt(at, 34, 34)),
    strokes: [],
    hairs: [...room.lines],
  };
  const order = [
    ...asked.filter((a) => a.kind === 'linear' && !a.overall),
    ...asked.filter((a) => a.kind === 'linear' && a.overall),
    ...asked.filter((a) => a.kind === 'note'),
  ];
  return order.map((a) => {
    let best: { cost: number; trial: Trial } | null = null;
    for (const trial of a.kind === 'linear' ? linearTrials(a, room) : noteTrials(a, room)) {
      const cost = trial.cost + costOf(trial, taken, room);
      if (!best || cost < best.cost) best = { cost, trial };
    }
    const { placed, patches, crossable } = best!.trial;
    taken.patches.push(...patches);
    taken.strokes.push(...crossable);
    taken.hairs.push(...placed.lines.filter((l) => !crossable.includes(l)));
    return placed;
  });
};

interface Trial {
  readonly placed: Placed;
  readonly patches: readonly Patch[];
  /** Strokes that others should not cross: dimension lines and leaders, not extension lines. */
  readonly crossable: readonly Stroke[];
  readonly cost: number;
}

function* linearTrials(a: Extract<Asked, { kind: 'linear' }>, room: Room): Generator<Trial> {
  const u = a.along;
  const width = room.widthOf(a.text);
  const start = dot(a.from, u);
  const end = dot(a.to, u);
  const [low, high] = start <= end ? [start, end] : [end, start];
  const fits = high - low > width + 30;
  for (const side of [1, -1] as const) {
    const n = { x: -u.y * side, y: u.x * side };
    let clear = Math.max(dot(a.from, n), dot(a.to, n));
    for (const p of room.outline) {
      const along = dot(p, u);
      if (a.overall || (along > low - 8 && along < high + 8)) clear = Math.max(clear, dot(p, n));
    }
    // A drawing is read from below and from the right: those sides are dearer only for the overall sizes.
    const wanted = a.overall ? (n.y > 0.7 || n.x > 0.7 ? 0 : 60) : 0;
    for (let tier = 0; tier < TIERS; tier++) {
      const level = clear + 22 + tier * TIER;
      const foot = (t: number): Point => add(scale(u, t), scale(n, level));
      const extension = (p: Point): Stroke => {
        const gap = level - dot(p, n) > 8 ? 3 : 0;
        return [add(p, scale(n, gap)), add(p, scale(n, level - dot(p, n) + 5))];
      };
      const turn = readable(Math.atan2(u.y, u.x));
      const away = Math.atan2(u.y, u.x);
      for (const spot of fits ? ['inside'] : ['after', 'before']) {
        const t =
          spot === 'inside'
            ? (low + high) / 2
            : spot === 'after'
              ? high + 18 + width / 2
              : low - 18 - width / 2;
        const at = foot(t);
        const line: Stroke =
          spot === 'inside'
            ? [foot(low), foot(high)]
            : spot === 'after'
              ? [foot(low - 14), foot(high + 14)]
              : [foot(low - 14), foot(high + 14)];
        const inward = fits ? 0 : Math.PI;
        const extensions = [extension(a.from), extension(a.to)];
        yield {
          placed: {
            feature: a.feature,
            lines: [line, ...extensions],
            arrows: [
              { tip: foot(low), direction: away + Math.PI + inward },
              { tip: foot(high), direction: away + inward },
            ],
            dot: null,
            label: { at, text: a.text, turn: (turn * 180) / Math.PI },
          },
          patches: patchesAlong(at, width, turn),
          crossable: [line],
          cost: tier * 14 + wanted + (spot === 'before' ? 4 : 0) + reachOf(a, n, level) * 0.15,
        };
      }
    }
  }
}

/** How far the extension lines must run, pixels: a measure stands near what it measures. */
const reachOf = (a: { from: Point; to: Point; overall?: boolean }, n: Point, level: number): number =>
  a.overall ? 0 : level - Math.max(dot(a.from, n), dot(a.to, n));

function* noteTrials(a: Extract<Asked, { kind: 'note' }>, room: Room): Generator<Trial> {
  const width = room.widthOf(a.text);
  for (let step = 0; step < 24; step++) {
    const angle = (step * Math.PI) / 12 + Math.PI / 24;
    const d = { x: Math.cos(angle), y: Math.sin(angle) };
    const right = d.x >= 0;
    const tip = add(a.at, scale(d, a.radius));
    const onEdge = a.edges === null || a.edges.some(([from, sweep]) => reaches(from, sweep, angle));
    const wish =
      (onEdge ? 0 : NO_EDGE) + (a.toward === null ? 0 : Math.abs(turnBetween(angle, a.toward)) * 26);
    // Leaders that lean are told from the part's level lines at a glance.
    const lean = Math.abs(d.y) < 0.35 || Math.abs(d.x) < 0.2 ? 24 : 0;
    for (let reach = 24; reach <= 280; reach += 20) {
      const knee = add(tip, scale(d, reach));
      const shoulder = { x: knee.x + (right ? 10 : -10), y: knee.y };
      const at = { x: shoulder.x + (right ? 4 + width / 2 : -4 - width / 2), y: knee.y };
      yield {
        placed: {
          feature: a.feature,
          lines: [
            [tip, knee],
            [knee, shoulder],
          ],
          arrows: a.radius > 0 ? [{ tip, direction: angle + Math.PI }] : [],
          dot: a.radius > 0 ? null : tip,
          label: { at, text: a.text, turn: 0 },
        },
        patches: [patchAt(at, width, LETTER)],
        crossable: [[tip, knee]],
        cost: reach * 0.45 + wish + lean,
      };
    }
  }
}

const costOf = (
  t: Trial,
  taken: { patches: readonly Patch[]; strokes: readonly Stroke[]; hairs: readonly Stroke[] },
  room: Room,
): number => {
  let cost = 0;
  for (const p of t.patches) {
    if (
      p.min.x < room.free.min.x ||
      p.max.x > room.free.max.x ||
      p.min.y < room.free.min.y ||
      p.max.y > room.free.max.y
    ) {
      cost += OFF_SHEET;
    }
    for (const q of taken.patches) if (meet(p, q)) cost += OVERLAP;
    for (const s of taken.strokes) if (strikes(s, p)) cost += LINE_OVER_LABEL;
    if (overPart(p, room.outline)) cost += ON_PART;
    for (const s of taken.hairs) if (strikes(s, p)) cost += ON_LINE;
  }
  for (const s of t.crossable) {
    for (const q of taken.patches) if (strikes(s, q)) cost += LINE_OVER_LABEL;
    for (const r of taken.strokes) if (crosses(s, r)) cost += CROSSING;
  }
  return cost;
};

/** Lettering that leans is kept clear by a row of small boxes under it. */
const patchesAlong = (at: Point, width: number, turn: number): Patch[] => {
  if (Math.abs(turn) < 0.01) return [patchAt(at, width, LETTER)];
  const count = Math.max(1, Math.ceil(width / LETTER));
  const u = { x: Math.cos(turn), y: Math.sin(turn) };
  return Array.from({ length: count }, (_, i) =>
    patchAt(add(at, scale(u, ((i + 0.5) / count - 0.5) * width)), LETTER, LETTER),
  );
};

const patchAt = (at: Point, width: number, height: number): Patch => ({
  min: { x: at.x - width / 2 - 3, y: at.y - height / 2 - 1 },
  max: { x: at.x + width / 2 + 3, y: at.y + height / 2 + 1 },
});

const meet = (a: Patch, b: Patch): boolean =>
  a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;

const within = (p: Point, b: Patch): boolean =>
  p.x > b.min.x && p.x < b.max.x && p.y > b.min.y && p.y < b.max.y;

const strikes = (s: Stroke, b: Patch): boolean => {
  if (within(s[0], b) || within(s[1], b)) return true;
  const c = [b.min, { x: b.max.x, y: b.min.y }, b.max, { x: b.min.x, y: b.max.y }];
  return c.some((p, i) => crosses(s, [p, c[(i + 1) % 4]!]));
};

const crosses = (a: Stroke, b: Stroke): boolean => {
  const d = subtract(a[1], a[0]);
  const e = subtract(b[1], b[0]);
  const k = cross(d, e);
  if (Math.abs(k) < 1e-9) return false;
  const f = subtract(b[0], a[0]);
  const t = cross(f, e) / k;
  const s = cross(f, d) / k;
  return t > 0 && t < 1 && s > 0 && s < 1;
};

const overPart = (b: Patch, outline: readonly Point[]): boolean =>
  outline.some((p) => within(p, b)) ||
  inside({ x: (b.min.x + b.max.x) / 2, y: (b.min.y + b.max.y) / 2 }, outline) ||
  inside(b.min, outline) ||
  inside(b.max, outline);

const inside = (p: Point, chain: readonly Point[]): boolean => {
  let odd = false;
  for (let i = 0, j = chain.length - 1; i < chain.length; j = i++) {
    const a = chain[i]!;
    const b = chain[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
};

/** The same direction or its opposite, whichever letters can be read along. */
const readable = (angle: number): number => {
  let a = angle;
  while (a > Math.PI / 2 - 1e-6) a -= Math.PI;
  while (a <= -Math.PI / 2 - 1e-6) a += Math.PI;
  return a;
};

/** Whether a direction lies on an arc, with a little to spare at both ends. */
const reaches = (from: number, sweep: number, angle: number): boolean => {
  const middle = from + sweep / 2;
  return Math.abs(turnBetween(angle, middle)) < Math.abs(sweep) / 2 - 0.03;
};

const turnBetween = (a: number, b: number): number => {
  let d = a - b;
  while (d > Math.PI) d -= 2 * Math.PI;
  while (d < -Math.PI) d += 2 * Math.PI;
  return d;
};
