import { intersection } from '../../shape/boolean.ts';
import { contains, contourArea, type Region, regionArea } from '../../shape/region.ts';
import { pointAlong } from '../../shape/segment.ts';
import type { Part } from '../part.ts';
import { type Slab, solidOf } from '../solid.ts';
import type { Report } from './report.ts';

/** Two pieces that share less than this in plan do not hang together, mm². */
const LEAST_SHARED = 0.01;

interface Piece {
  readonly slab: Slab;
  readonly region: Region;
}

/** Whether the finished part is one body: forks and lands may have cut it in two. */
export const checkOneBody = (part: Part, report: Report): void => {
  const pieces = solidOf(part).slabs.flatMap((slab) =>
    piecesOf(slab.region).map((region) => ({ slab, region })),
  );
  if (pieces.length === 0) {
    report.error('nothing-left', 'Nothing is left of the part once its lands and cuts are taken out.');
    return;
  }
  const body = pieces.map((_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (body[at] !== at) at = body[at]!;
    return at;
  };
  pieces.forEach((a, i) => {
    pieces.slice(0, i).forEach((b, j) => {
      if (root(i) !== root(j) && touch(a, b)) body[root(i)] = root(j);
    });
  });
  const bodies = new Map<number, Piece>();
  pieces.forEach((piece, i) => {
    if (!bodies.has(root(i))) bodies.set(root(i), piece);
  });
  if (bodies.size <= 1) return;
  const stray = [...bodies.values()][1]!;
  report.error(
    'part-in-pieces',
    `The finished part falls into ${bodies.size} pieces that hang together nowhere: look at the heights of its lands, and at forks and slots that cut right across.`,
    undefined,
    pointAlong(stray.region.contours[0]!.segments[0]!, 0.5),
  );
};

const touch = (a: Piece, b: Piece): boolean =>
  (a.slab.top === b.slab.bottom || b.slab.top === a.slab.bottom) &&
  regionArea(intersection(a.region, b.region)) > LEAST_SHARED;

/** The connected pieces of a region: each outer contour with the holes in it. */
const piecesOf = (region: Region): readonly Region[] => {
  const outer = region.contours.filter((c) => contourArea(c) > 0);
  const inner = region.contours.filter((c) => contourArea(c) <= 0);
  if (outer.length <= 1) return outer.length === 0 ? [] : [region];
  return outer.map((contour) => ({
    contours: [
      contour,
      ...inner.filter((hole) => contains({ contours: [contour] }, pointAlong(hole.segments[0]!, 0.5))),
    ],
  }));
};
