import type { Hole, Part } from '../../sketch/part/part.ts';
import { add, cross, dot, type Point, polar, scale, subtract, unit } from '../../sketch/shape/point.ts';
import { type Line, line, type Segment } from '../../sketch/shape/segment.ts';

/** Centre lines stand out this far beyond what they centre, mm. */
const PAST = 3;
/** Lines nearer than this are one line, mm. */
const SAME_LINE = 0.01;

/**
 * Centre lines of round edges, holes, slots, arms and forks. Those that lie along one another become one, so that
 * their chains do not run into each other. `edges` tells which round ends can still be seen in the outline.
 */
export const centreLinesOf = (part: Part, edges: readonly Segment[]): readonly Line[] => {
  const round = (c: Point): boolean =>
    edges.some((s) => s.kind === 'arc' && Math.hypot(s.centre.x - c.x, s.centre.y - c.y) < SAME_LINE);
  const crosses = [
    ...part.ends.filter((end) => round(end.centre)).flatMap((end) => crossAt(end.centre, end.radius)),
    ...part.holes.flatMap((hole) => crossAt(hole.centre, holeReach(hole))),
    ...part.slots.flatMap((slot) =>
      [slot.from, slot.to].flatMap((centre) => crossAt(centre, slot.width / 2)),
    ),
  ];
  const centres = new Map(part.ends.map((end) => [end.name, end.centre]));
  const along = [
    ...part.arms.flatMap((arm) => {
      const from = centres.get(arm.from);
      const to = centres.get(arm.to);
      return from && to ? [line(from, to)] : [];
    }),
    ...part.forks.map(({ mouth, direction, depth }) =>
      line(polar(mouth, -PAST, direction), polar(mouth, depth + PAST, direction)),
    ),
  ];
  return joined([...along, ...crosses]);
};

const crossAt = (c: Point, radius: number): readonly Line[] => {
  const r = radius + PAST;
  return [
    line({ x: c.x - r, y: c.y }, { x: c.x + r, y: c.y }),
    line({ x: c.x, y: c.y - r }, { x: c.x, y: c.y + r }),
  ];
};

/** How far the outermost edge of a hole lies from its centre, mm. */
export const holeReach = (hole: Hole): number => {
  switch (hole.purpose) {
    case 'tapped':
      return hole.major / 2;
    case 'counterbored':
      return hole.boreDiameter / 2;
    default:
      return hole.diameter / 2;
  }
};

const joined = (lines: readonly Line[]): readonly Line[] => {
  const done: Line[] = [];
  for (const next of lines) {
    let grown = next;
    for (let i = done.length - 1; i >= 0; i--) {
      const both = together(done[i]!, grown);
      if (both === null) continue;
      done.splice(i, 1);
      grown = both;
    }
    done.push(grown);
  }
  return done;
};

/** One line over both when they lie along each other and all but touch; null when they do not. */
const together = (a: Line, b: Line): Line | null => {
  const d = unit(subtract(a.to, a.from));
  const aside = (p: Point): number => Math.abs(cross(d, subtract(p, a.from)));
  if (aside(b.from) > SAME_LINE || aside(b.to) > SAME_LINE) return null;
  const share = (p: Point): number => dot(d, subtract(p, a.from));
  const [low, high] = [0, share(a.to)];
  const [from, to] = [Math.min(share(b.from), share(b.to)), Math.max(share(b.from), share(b.to))];
  if (from > high + PAST || to < low - PAST) return null;
  return line(add(a.from, scale(d, Math.min(low, from))), add(a.from, scale(d, Math.max(high, to))));
};
