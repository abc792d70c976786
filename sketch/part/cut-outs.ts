import { knownBy } from '../shape/known.ts';
import { add, angleOf, distance, dot, leftOf, type Point, polar, scale, subtract } from '../shape/point.ts';
import { contains, disc, type Region } from '../shape/region.ts';
import { arc, line, type Segment } from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import { outlineBox, plateRegion } from './outline.ts';
import type { Fork, Hole, Land, Part, Slot } from './part.ts';

/** What a fork, slot, hole or counterbore takes out: a region between two heights, mm above the bar's back. */
export interface CutOut {
  readonly feature: string;
  readonly kind: 'fork' | 'slot' | 'hole' | 'counterbore';
  readonly region: Region;
  readonly bottom: number;
  readonly top: number;
}

/** A land's own region; null for the whole outline. */
export const landRegion = (land: Land): Region | null => {
  switch (land.shape.kind) {
    case 'whole':
      return null;
    case 'disc':
      return disc(land.shape.centre, land.shape.radius);
    case 'polygon':
      return plateRegion(land.shape);
  }
};

/** Heights of the part's own two surfaces at a place within the outline: of the last land that covers it, mm. */
export const surfacesAt = (part: Pick<Part, 'bar' | 'lands'>, p: Point): { top: number; bottom: number } => {
  for (const land of [...part.lands].reverse()) {
    const region = landRegion(land);
    if (region === null || contains(region, p)) return { top: land.top, bottom: land.bottom };
  }
  return { top: part.bar.thickness, bottom: 0 };
};

/** A closed slot: two lines and two half turns, anticlockwise; a disc when its two centres are one point. */
export const slotRegion = (slot: Slot): Region => slots.of([slot], '', () => slotFrom(slot));

const slots = knownBy<Slot, Region>();

const slotFrom = (slot: Slot): Region => {
  const r = slot.width / 2;
  if (distance(slot.from, slot.to) <= SAME_POINT) return disc(slot.from, r);
  const along = angleOf(subtract(slot.to, slot.from));
  const right = along - Math.PI / 2;
  const left = along + Math.PI / 2;
  const corners = [
    polar(slot.from, r, right),
    polar(slot.to, r, right),
    polar(slot.to, r, left),
    polar(slot.from, r, left),
  ] as const;
  return {
    contours: [
      {
        segments: [
          line(corners[0], corners[1]),
          arc(corners[1], corners[2], slot.to, true),
          line(corners[2], corners[3]),
          arc(corners[3], corners[0], slot.from, true),
        ],
      },
    ],
  };
};

/** A place given along a fork (inward from the mouth) and to the left of its middle, mm. */
export const alongFork = (fork: Fork, inward: number, left: number): Point => {
  const u = { x: Math.cos(fork.direction), y: Math.sin(fork.direction) };
  return add(fork.mouth, add(scale(u, inward), scale(leftOf(u), left)));
};

/** Radius in the corners of a fork's root, mm: half its width where the root is round. */
export const rootRadius = (fork: Fork): number =>
  fork.root.kind === 'round' ? fork.width / 2 : Math.min(fork.root.cornerRadius, fork.width / 2);

/** How far outward of the mouth a fork's region runs, mm: past everything the outline has on that side. */
const reachOutward = (part: Pick<Part, 'ends' | 'arms' | 'plates'>, fork: Fork): number => {
  const box = outlineBox(part);
  if (box === null) return 2 * fork.width;
  const outward = { x: -Math.cos(fork.direction), y: -Math.sin(fork.direction) };
  const corners = [box.min, box.max, { x: box.min.x, y: box.max.y }, { x: box.max.x, y: box.min.y }];
  const farthest = Math.max(...corners.map((c) => dot(subtract(c, fork.mouth), outward)));
  return Math.max(0, farthest) + 2 * fork.width;
};

/** What a fork takes out, anticlockwise: from well outside the outline, inward through the mouth, to the root. */
export const forkRegion = (part: Pick<Part, 'ends' | 'arms' | 'plates'>, fork: Fork): Region =>
  forkFrom(fork, reachOutward(part, fork));

/** A fork's region from so far outward of its mouth (0 for the mouth itself), mm. */
export const forkFrom = (fork: Fork, outward: number): Region => {
  const half = fork.width / 2;
  const out = -outward;
  const at = (inward: number, left: number): Point => alongFork(fork, inward, left);
  const r = rootRadius(fork);
  const shoulder = fork.depth - r;
  const segments: Segment[] = [
    line(at(out, half), at(out, -half)),
    line(at(out, -half), at(shoulder, -half)),
  ];
  if (half - r <= SAME_POINT) {
    segments.push(arc(at(shoulder, -half), at(shoulder, half), at(shoulder, 0), true));
  } else if (r <= SAME_POINT) {
    segments.push(line(at(shoulder, -half), at(shoulder, half)));
  } else {
    const [a, b] = [at(fork.depth, r - half), at(fork.depth, half - r)];
    segments.push(arc(at(shoulder, -half), a, at(shoulder, r - half), true));
    segments.push(line(a, b));
    segments.push(arc(b, at(shoulder, half), at(shoulder, half - r), true));
  }
  segments.push(line(at(shoulder, half), at(out, half)));
  return { contours: [{ segments }] };
};

/**
 * Heights a cut from one face spans, mm. A blind depth is measured from the part's own surface at `centre`; whatever
 * stands higher there is cut away too.
 */
export const heightsOfCut = (
  part: Pick<Part, 'bar' | 'lands'>,
  centre: Point,
  depth: number | null,
  face: 'front' | 'back',
): { bottom: number; top: number } => {
  if (depth === null) return { bottom: 0, top: part.bar.thickness };
  const surface = surfacesAt(part, centre);
  return face === 'front'
    ? { bottom: Math.max(0, surface.top - depth), top: part.bar.thickness }
    : { bottom: 0, top: Math.min(part.bar.thickness, surface.bottom + depth) };
};

const holeCuts = (part: Part, hole: Hole): CutOut[] => {
  const cuts: CutOut[] = [
    {
      feature: hole.name,
      kind: 'hole',
      region: disc(hole.centre, hole.diameter / 2),
      ...heightsOfCut(part, hole.centre, hole.depth, hole.from),
    },
  ];
  if (hole.purpose === 'counterbored') {
    cuts.push({
      feature: hole.name,
      kind: 'counterbore',
      region: disc(hole.centre, hole.boreDiameter / 2),
      ...heightsOfCut(part, hole.centre, hole.boreDepth, hole.from),
    });
  }
  return cuts;
};

/** Everything that is cut out of the part, in the order of the part: forks, slots, holes with their counterbores. */
export const cutOutsOf = (part: Part): readonly CutOut[] => [
  ...part.forks.map(
    (fork): CutOut => ({
      feature: fork.name,
      kind: 'fork',
      region: forkRegion(part, fork),
      bottom: 0,
      top: part.bar.thickness,
    }),
  ),
  ...part.slots.map(
    (slot): CutOut => ({
      feature: slot.name,
      kind: 'slot',
      region: slotRegion(slot),
      ...heightsOfCut(
        part,
        { x: (slot.from.x + slot.to.x) / 2, y: (slot.from.y + slot.to.y) / 2 },
        slot.depth,
        slot.face,
      ),
    }),
  ),
  ...part.holes.flatMap((hole) => holeCuts(part, hole)),
];
