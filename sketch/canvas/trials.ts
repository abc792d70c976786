import { add, dot, type Point, polar, scale } from '../shape/point.ts';
import { LETTER, type Patch, patchAt, patchesAlong, type Stroke } from './patch.ts';
import type { Asked, Placed, Room } from './placement.ts';

/** One way to draw a measure, and what it would cost if nothing else were on the sheet. */
export interface Trial {
  readonly placed: Placed;
  readonly patches: readonly Patch[];
  /** Strokes that others should not cross: dimension lines and leaders, not extension lines. */
  readonly crossable: readonly Stroke[];
  readonly cost: number;
}

const TIER = 24;
const TIERS = 7;
const NO_EDGE = 2500;

/** Every way a measure might be drawn, about the cheapest first. */
export const trialsOf = (a: Asked, room: Room): Iterable<Trial> => {
  switch (a.kind) {
    case 'linear':
      return linearTrials(a, room);
    case 'angle':
      return angleTrials(a, room);
    case 'note':
      return noteTrials(a, room);
  }
};

function* linearTrials(a: Extract<Asked, { kind: 'linear' }>, room: Room): Generator<Trial> {
  const u = a.along;
  const width = room.widthOf(a.text);
  const start = dot(a.from, u);
  const end = dot(a.to, u);
  const [low, high] = start <= end ? [start, end] : [end, start];
  const fits = high - low > width + 30;
  const away = Math.atan2(u.y, u.x);
  const turn = readable(away);
  const inward = fits ? 0 : Math.PI;
  const clearOf = (n: Point): number => {
    let clear = Math.max(dot(a.from, n), dot(a.to, n));
    for (const p of room.outline) {
      const along = dot(p, u);
      if (a.overall || (along > low - 8 && along < high + 8)) clear = Math.max(clear, dot(p, n));
    }
    return clear;
  };
  const sides = ([1, -1] as const).map((side) => {
    const n = { x: -u.y * side, y: u.x * side };
    return { n, clear: clearOf(n) };
  });
  for (let tier = 0; tier < TIERS; tier++) {
    for (const { n, clear } of sides) {
      // A drawing is read from below and from the right: those sides are dearer only for the overall sizes.
      const wanted = a.overall ? (n.y > 0.7 || n.x > 0.7 ? 0 : 60) : 0;
      const level = clear + 22 + tier * TIER;
      const foot = (t: number): Point => add(scale(u, t), scale(n, level));
      const extension = (p: Point): Stroke => {
        const gap = level - dot(p, n) > 8 ? 3 : 0;
        return [add(p, scale(n, gap)), add(p, scale(n, level - dot(p, n) + 5))];
      };
      for (const spot of fits ? (['inside'] as const) : (['after', 'before'] as const)) {
        const t = { inside: (low + high) / 2, after: high + 18 + width / 2, before: low - 18 - width / 2 }[
          spot
        ];
        const at = foot(t);
        const past = spot === 'inside' ? 0 : 14;
        const line: Stroke = [foot(low - past), foot(high + past)];
        yield {
          placed: {
            feature: a.feature,
            lines: [line, extension(a.from), extension(a.to)],
            arcs: [],
            arrows: [
              { tip: foot(low), direction: away + Math.PI + inward },
              { tip: foot(high), direction: away + inward },
            ],
            dot: null,
            label: { at, text: a.text, turn: (turn * 180) / Math.PI, width },
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

/** ISO 129-1: an arc about the vertex with a head at each leg, its figure level; heads from outside where it is short. */
function* angleTrials(a: Extract<Asked, { kind: 'angle' }>, room: Room): Generator<Trial> {
  const width = room.widthOf(a.text);
  const sense = Math.sign(a.sweep) || 1;
  for (let radius = 34; radius <= 274; radius += 20) {
    const long = Math.abs(a.sweep) * radius;
    const fits = long > width + 34;
    const out = 16 / radius;
    const arc = fits
      ? { centre: a.vertex, radius, from: a.from, sweep: a.sweep }
      : { centre: a.vertex, radius, from: a.from - sense * out, sweep: a.sweep + 2 * sense * out };
    const extensions = [a.from, a.from + a.sweep].flatMap((way, i): Stroke[] => {
      const drawn = a.legs[i]!;
      return drawn >= radius + 5 ? [] : [[polar(a.vertex, drawn, way), polar(a.vertex, radius + 5, way)]];
    });
    const quarter = Math.PI / 2;
    const heads = fits ? sense : -sense;
    const spots = fits
      ? [a.from + a.sweep / 2, a.from + a.sweep * 0.3, a.from + a.sweep * 0.7]
      : [
          a.from - sense * (out + (width / 2 + 8) / radius),
          a.from + a.sweep + sense * (out + (width / 2 + 8) / radius),
        ];
    for (const [i, way] of spots.entries()) {
      const at = polar(a.vertex, radius, way);
      const chords = chordsOf(arc);
      yield {
        placed: {
          feature: a.feature,
          lines: extensions,
          arcs: [arc],
          arrows: [
            { tip: polar(a.vertex, radius, a.from), direction: a.from - heads * quarter },
            {
              tip: polar(a.vertex, radius, a.from + a.sweep),
              direction: a.from + a.sweep + heads * quarter,
            },
          ],
          dot: null,
          label: { at, text: a.text, turn: 0, width },
        },
        patches: [patchAt(at, width, LETTER)],
        crossable: chords,
        cost: (radius - 34) * 0.5 + i * 8,
      };
    }
  }
}

const chordsOf = (arc: Placed['arcs'][number]): readonly Stroke[] => {
  const count = Math.max(1, Math.ceil(Math.abs(arc.sweep) / 0.3));
  const at = (i: number): Point => polar(arc.centre, arc.radius, arc.from + (arc.sweep * i) / count);
  return Array.from({ length: count }, (_, i) => [at(i), at(i + 1)] as const);
};

function* noteTrials(a: Extract<Asked, { kind: 'note' }>, room: Room): Generator<Trial> {
  const width = room.widthOf(a.text);
  const round = Array.from({ length: 24 }, (_, step) => (step * Math.PI) / 12 + Math.PI / 24);
  // A short edge may lie between all of these: its middle is tried too.
  const middles = (a.edges ?? []).map(([from, sweep]) => from + sweep / 2 + (a.hollow ? Math.PI : 0));
  const ways = [...round, ...middles]
    .map((angle) => {
      const d = { x: Math.cos(angle), y: Math.sin(angle) };
      // A hollow edge is met from its centre's side: the arrow's place lies behind the leader.
      const meets = a.hollow ? angle + Math.PI : angle;
      const onEdge = a.edges === null || a.edges.some(([from, sweep]) => reaches(from, sweep, meets));
      const wish =
        (onEdge ? 0 : NO_EDGE) + (a.toward === null ? 0 : Math.abs(turnBetween(angle, a.toward)) * 26);
      // Leaders that lean are told from the part's level lines at a glance.
      const lean = Math.abs(d.y) < 0.35 || Math.abs(d.x) < 0.2 ? 24 : 0;
      return { angle, d, tip: add(a.at, scale(d, a.hollow ? -a.radius : a.radius)), cost: wish + lean };
    })
    .sort((p, q) => p.cost - q.cost);
  for (const { angle, d, tip, cost } of ways) {
    const right = d.x >= 0;
    for (let reach = 24; reach <= 280; reach += 20) {
      const knee = add(tip, scale(d, reach + (a.hollow ? Math.min(a.radius, 60) : 0)));
      const shoulder = { x: knee.x + (right ? 10 : -10), y: knee.y };
      const at = { x: shoulder.x + (right ? 4 + width / 2 : -4 - width / 2), y: knee.y };
      const leader: Stroke = [tip, knee];
      yield {
        placed: {
          feature: a.feature,
          lines: [leader, [knee, shoulder]],
          arcs: [],
          arrows: a.radius > 0 ? [{ tip, direction: angle + Math.PI }] : [],
          dot: a.radius > 0 ? null : tip,
          label: { at, text: a.text, turn: 0, width },
        },
        patches: [patchAt(at, width, LETTER)],
        crossable: [leader],
        cost: reach * 0.45 + cost,
      };
    }
  }
}

/** The same direction or its opposite, whichever letters can be read along. */
const readable = (angle: number): number => {
  let a = angle;
  while (a > Math.PI / 2 - 1e-6) a -= Math.PI;
  while (a <= -Math.PI / 2 - 1e-6) a += Math.PI;
  return a;
};

/** Whether a direction lies on an arc, with a little to spare at both ends. */
const reaches = (from: number, sweep: number, angle: number): boolean =>
  Math.abs(turnBetween(angle, from + sweep / 2)) <
  Math.max(Math.abs(sweep) * 0.1, Math.abs(sweep) / 2 - 0.03);

const turnBetween = (a: number, b: number): number => {
  let d = a - b;
  while (d > Math.PI) d -= 2 * Math.PI;
  while (d < -Math.PI) d += 2 * Math.PI;
  return d;
};
