import type { End, Hole, Part, Unit } from '../part/part.ts';
import { MM_PER_INCH, plain } from '../part/units.ts';
import { add, angleOf, distance, midpoint, type Point, scale, subtract, unit } from '../shape/point.ts';
import type { Region } from '../shape/region.ts';
import { regionBox, segmentsOf } from '../shape/region.ts';
import { radiusOf } from '../shape/segment.ts';

/** A measure as it is written on a drawing: a dimension line between two places, or a note on a leader. */
export type Dimension =
  | {
      readonly kind: 'linear';
      readonly feature: string;
      readonly from: Point;
      readonly to: Point;
      /** Unit direction that is measured along. */
      readonly along: Point;
      readonly text: string;
      /** Kept outside everything else. */
      readonly overall?: boolean;
    }
  | {
      readonly kind: 'note';
      readonly feature: string;
      readonly at: Point;
      /** The leader stops at this distance from `at`, mm: 0 ends it in a dot. */
      readonly radius: number;
      /** Way the leader would like to go, radians; null where it does not matter. */
      readonly toward: number | null;
      /** Directions in which there is an edge for the arrow to touch, [from, sweep] in radians; null for all round. */
      readonly edges: readonly (readonly [number, number])[] | null;
      readonly text: string;
    };

/** A length as lettered on the drawing, in the part's own unit and without naming it. */
export const figure = (mm: number, u: Unit): string =>
  u === 'mm' ? plain(mm, 2) : plain(mm / MM_PER_INCH, 4);

const SAME = 1e-3;

/** Everything a drawing of the part should say, most needed first. */
export const dimensionsOf = (part: Part, outline: Region): readonly Dimension[] => {
  const say = (mm: number): string => figure(mm, part.unit);
  const list: Dimension[] = [];
  const shown = part.ends.filter((e) => edgesOfEnd(e, outline).length > 0);
  const ends = new Map(shown.map((e) => [e.name, e]));
  for (const arm of part.arms) {
    const a = ends.get(arm.from);
    const b = ends.get(arm.to);
    if (!a || !b) continue;
    const [from, to] = a.centre.x <= b.centre.x ? [a.centre, b.centre] : [b.centre, a.centre];
    list.push(between(arm.name, from, to, say));
  }
  for (const f of part.forks) {
    const inward = { x: Math.cos(f.direction), y: Math.sin(f.direction) };
    const across = { x: -inward.y, y: inward.x };
    const half = scale(across, f.width / 2);
    list.push({
      kind: 'linear',
      feature: f.name,
      from: subtract(f.mouth, half),
      to: add(f.mouth, half),
      along: across,
      text: say(f.width),
    });
    list.push(between(f.name, f.mouth, add(f.mouth, scale(inward, f.depth)), say));
  }
  const box = regionBox(outline);
  if (box) {
    const x = { x: 1, y: 0 };
    const y = { x: 0, y: 1 };
    const corner = { x: box.max.x, y: box.min.y };
    for (const plate of part.plates) {
      const right = Math.max(...plate.corners.map((c) => c.x));
      const left = Math.min(...plate.corners.map((c) => c.x));
      if (right - left > box.max.x - box.min.x - SAME) continue;
      const low = Math.min(...plate.corners.map((c) => c.y));
      const from = { x: left, y: low };
      list.push({
        kind: 'linear',
        feature: plate.name,
        from,
        to: { x: right, y: low },
        along: x,
        text: say(right - left),
      });
    }
    list.push(overall(box.min, corner, x, say(box.max.x - box.min.x)));
    list.push(overall(corner, box.max, y, say(box.max.y - box.min.y)));
  }
  const centres = shown.map((e) => e.centre);
  const placeFromEnd = (feature: string, p: Point): void => {
    const near = nearestOf(centres, p);
    if (near && distance(near, p) > SAME) list.push(between(feature, near, p, say));
  };
  for (const hole of part.holes) placeFromEnd(hole.name, hole.centre);
  for (const slot of part.slots) {
    if (distance(slot.from, slot.to) > SAME) list.push(between(slot.name, slot.from, slot.to, say));
    placeFromEnd(slot.name, nearestOf([slot.from, slot.to], nearestOf(centres, slot.from) ?? slot.from)!);
  }
  return [...list, ...notesOf(part, outline)];
};

const notesOf = (part: Part, outline: Region): readonly Dimension[] => {
  const say = (mm: number): string => figure(mm, part.unit);
  const middle = middleOf(part);
  const away = (p: Point): number | null =>
    distance(p, middle) > SAME ? angleOf(subtract(p, middle)) : null;
  const notes: Dimension[] = part.ends.flatMap((e): Dimension[] => {
    const edges = edgesOfEnd(e, outline);
    if (edges.length === 0) return [];
    const toward = away(e.centre);
    return [
      {
        kind: 'note',
        feature: e.name,
        at: e.centre,
        radius: e.radius,
        toward,
        edges,
        text: `R${say(e.radius)}`,
      },
    ];
  });
  for (const group of grouped(part.holes, (h) => holeNote(h, say))) {
    const [first] = group.items;
    notes.push({
      kind: 'note',
      feature: first!.name,
      at: first!.centre,
      radius: (first!.purpose === 'counterbored' ? first!.boreDiameter : first!.diameter) / 2,
      toward: null,
      edges: null,
      text: group.items.length > 1 ? `${group.items.length} × ${group.text}` : group.text,
    });
  }
  for (const s of part.slots) {
    notes.push({
      kind: 'note',
      feature: s.name,
      at: midpoint(s.from, s.to),
      radius: s.width / 2,
      toward: null,
      edges: null,
      text: `slot ${say(s.width)} wide${depthWords(s.depth, s.face, say)}`,
    });
  }
  for (const p of part.plates) {
    if (p.cornerRadius < SAME) continue;
    notes.push({
      kind: 'note',
      feature: p.name,
      at: p.corners[0]!,
      radius: 0,
      toward: away(p.corners[0]!),
      edges: null,
      text: `R${say(p.cornerRadius)}`,
    });
  }
  return notes;
};

/** The directions in which an end's own round is part of the outline. */
export const edgesOfEnd = (e: End, outline: Region): readonly (readonly [number, number])[] =>
  segmentsOf(outline).flatMap((s) =>
    s.kind === 'arc' && distance(s.centre, e.centre) < 0.01 && Math.abs(radiusOf(s) - e.radius) < 0.01
      ? [[angleOf(subtract(s.from, s.centre)), s.sweep] as const]
      : [],
  );

/** A hole as it is noted on a drawing. */
export const holeNote = (h: Hole, say: (mm: number) => string): string => {
  const deep = depthWords(h.depth, h.from, say);
  switch (h.purpose) {
    case 'clearance':
      return `⌀${say(h.diameter)}${deep}`;
    case 'reamed':
      return `⌀${say(h.diameter)} reamed${deep}`;
    case 'tapped':
      return `${h.designation}${deep}`;
    case 'counterbored':
      return `⌀${say(h.diameter)}${deep}, ⌀${say(h.boreDiameter)} × ${say(h.boreDepth)} deep`;
  }
};

const depthWords = (depth: number | null, from: 'front' | 'back', say: (mm: number) => string): string => {
  if (depth === null) return ' through';
  return ` × ${say(depth)} deep${from === 'back' ? ' from the back' : ''}`;
};

const between = (feature: string, from: Point, to: Point, say: (mm: number) => string): Dimension => ({
  kind: 'linear',
  feature,
  from,
  to,
  along: unit(subtract(to, from)),
  text: say(distance(from, to)),
});

const overall = (from: Point, to: Point, along: Point, text: string): Dimension => ({
  kind: 'linear',
  feature: '',
  from,
  to,
  along,
  text,
  overall: true,
});

const nearestOf = (points: readonly Point[], p: Point): Point | null =>
  points.reduce<Point | null>((best, q) => (best && distance(best, p) <= distance(q, p) ? best : q), null);

const middleOf = (part: Part): Point => {
  const b = part.bar;
  return { x: b.corner.x + b.length / 2, y: b.corner.y + b.width / 2 };
};

const grouped = <T>(items: readonly T[], say: (item: T) => string): { text: string; items: T[] }[] => {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const text = say(item);
    groups.set(text, [...(groups.get(text) ?? []), item]);
  }
  return [...groups].map(([text, list]) => ({ text, items: list }));
};
