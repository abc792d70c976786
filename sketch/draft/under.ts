import type { Part } from '../part/part.ts';
import { lengthText } from '../part/units.ts';
import { type Box, distance, midpoint, type Point, polar } from '../shape/point.ts';
import { contains, type Region } from '../shape/region.ts';
import { line, nearestOn } from '../shape/segment.ts';

/** A feature as it lies on the sheet. */
export interface Placed {
  readonly name: string;
  readonly kind: 'end' | 'arm' | 'plate' | 'hole' | 'slot' | 'fork' | 'land';
  /** Where it is taken hold of, mm. */
  readonly at: Point;
  /** Spoken: "End neck, radius 5 mm, at 23, 0". */
  readonly words: string;
  /** Distance from a place to the feature, mm; 0 within it. */
  readonly gap: (p: Point) => number;
  /** How much it covers, mm: of several under the pencil the smallest is meant. */
  readonly size: number;
}

const round = (centre: Point, radius: number) => (p: Point) => Math.max(0, distance(p, centre) - radius);

const along =
  (from: Point, to: Point, half: number) =>
  (p: Point): number =>
    Math.max(
      0,
      (distance(from, to) < 1e-9 ? distance(p, from) : nearestOn(line(from, to), p).distance) - half,
    );

const polygon =
  (corners: readonly Point[]) =>
  (p: Point): number => {
    const segments = corners.map((c, i) => line(c, corners[(i + 1) % corners.length]!));
    const region: Region = { contours: [{ segments }] };
    return contains(region, p) ? 0 : Math.min(...segments.map((s) => nearestOn(s, p).distance));
  };

const middleOf = (corners: readonly Point[]): Point => ({
  x: corners.reduce((s, c) => s + c.x, 0) / corners.length,
  y: corners.reduce((s, c) => s + c.y, 0) / corners.length,
});

const spanOf = (corners: readonly Point[]): number =>
  Math.max(...corners.map((c) => distance(c, corners[0]!)));

/** Every feature of a part, in the order of the document. */
export const placedFeatures = (part: Part): readonly Placed[] => {
  const say = (mm: number): string => lengthText(mm, part.unit);
  const at = (p: Point): string => `at ${say(p.x)}, ${say(p.y)}`;
  const ends = new Map(part.ends.map((e) => [e.name, e]));
  return [
    ...part.ends.map(
      (e): Placed => ({
        name: e.name,
        kind: 'end',
        at: e.centre,
        words: `End ${e.name}, radius ${say(e.radius)}, ${at(e.centre)}`,
        gap: round(e.centre, e.radius),
        size: 2 * e.radius,
      }),
    ),
    ...part.arms.flatMap((a): Placed[] => {
      const [from, to] = [ends.get(a.from), ends.get(a.to)];
      if (!from || !to) return [];
      const apart = distance(from.centre, to.centre);
      return [
        {
          name: a.name,
          kind: 'arm',
          at: midpoint(from.centre, to.centre),
          words: `Arm ${a.name}, centres ${say(apart)} apart`,
          gap: along(from.centre, to.centre, Math.min(from.radius, to.radius)),
          size: apart + from.radius + to.radius,
        },
      ];
    }),
    ...part.plates.map(
      (p): Placed => ({
        name: p.name,
        kind: 'plate',
        at: middleOf(p.corners),
        words: `Plate ${p.name}, ${p.corners.length} corners, ${at(middleOf(p.corners))}`,
        gap: polygon(p.corners),
        size: spanOf(p.corners),
      }),
    ),
    ...part.holes.map(
      (h): Placed => ({
        name: h.name,
        kind: 'hole',
        at: h.centre,
        words: `Hole ${h.name}, ${h.purpose === 'tapped' ? h.designation : `${h.purpose}, diameter ${say(h.diameter)}`}, ${at(h.centre)}`,
        gap: round(h.centre, h.diameter / 2),
        size: h.diameter,
      }),
    ),
    ...part.slots.map(
      (s): Placed => ({
        name: s.name,
        kind: 'slot',
        at: midpoint(s.from, s.to),
        words: `Slot ${s.name}, ${say(s.width)} wide, ${say(distance(s.from, s.to))} between centres`,
        gap: along(s.from, s.to, s.width / 2),
        size: distance(s.from, s.to) + s.width,
      }),
    ),
    ...part.forks.map((f): Placed => {
      const root = polar(f.mouth, f.depth, f.direction);
      return {
        name: f.name,
        kind: 'fork',
        at: midpoint(f.mouth, root),
        words: `Fork ${f.name}, ${say(f.width)} wide, ${say(f.depth)} deep, mouth ${at(f.mouth)}`,
        gap: along(f.mouth, root, f.width / 2),
        size: f.depth,
      };
    }),
    ...part.lands.flatMap((l): Placed[] => {
      const { shape } = l;
      if (shape.kind === 'whole') return [];
      const disc = shape.kind === 'disc';
      return [
        {
          name: l.name,
          kind: 'land',
          at: disc ? shape.centre : middleOf(shape.corners),
          words: `Land ${l.name}, from ${say(l.bottom)} up to ${say(l.top)}`,
          gap: disc ? round(shape.centre, shape.radius) : polygon(shape.corners),
          size: disc ? 2 * shape.radius : spanOf(shape.corners),
        },
      ];
    }),
  ];
};

/** Metal that is drawn lies above what it is drawn on: cuts before ends, ends before what lies under all of them. */
const RANK: Readonly<Record<Placed['kind'], number>> = {
  hole: 0,
  slot: 1,
  fork: 1,
  end: 2,
  arm: 3,
  plate: 3,
  land: 4,
};

/** Names of the features under a place, nearest to the eye first; `reach` mm is as far as a finger misses. */
export const featuresAt = (part: Part, p: Point, reach: number): readonly string[] =>
  placedFeatures(part)
    .filter((f) => f.gap(p) <= (RANK[f.kind] < 2 ? reach : 0))
    .sort((a, b) => RANK[a.kind] - RANK[b.kind] || a.size - b.size)
    .map((f) => f.name);

/** Names of the features that are held within a box drawn round them. */
export const featuresIn = (part: Part, box: Box): readonly string[] =>
  placedFeatures(part)
    .filter((f) => f.at.x >= box.min.x && f.at.x <= box.max.x && f.at.y >= box.min.y && f.at.y <= box.max.y)
    .map((f) => f.name);
