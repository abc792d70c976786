import type { IntPoint } from 'clipper-lib';
import { clip, clippedImage, type Operation, recovered, type Winding } from './clipping.ts';
import { type Cluster, clustersOf, type Windings } from './clusters.ts';
import { imageOf, toImage } from './image.ts';
import { knownBy } from './known.ts';
import type { Box, Point } from './point.ts';
import { type Contour, contourBox, NOTHING, type Region } from './region.ts';
import { type Arc, circle, radiusOf } from './segment.ts';

/**
 * The same as `clip`, done apart for contours that come near one another: what the image makes of these does not hang
 * on the others but for how often they are wound round by them. So what an edit leaves alone is known from before, and
 * a circle that stands free is known without an image.
 */
export const clipApart = (
  subject: readonly Contour[],
  clipping: readonly Contour[],
  operation: Operation,
  winding: Winding = 'nonzero',
): Region => {
  const clusters = clustersOf(subject, clipping);
  const clippedFrom = (c: Cluster): readonly Contour[] => clippedCluster(c, operation, winding);
  if (clusters.length === 0) return NOTHING;
  if (clusters.length === 1) return { contours: clippedFrom(clusters[0]!) };
  return { contours: inOrderOfSweep(clusters.map(clippedFrom)) };
};

/**
 * The contours of some clusters in the order in which the image would have put them out: it sweeps the plane from great
 * Y to small, and of what begins at one height comes to the last first.
 */
export const inOrderOfSweep = (clusters: readonly (readonly Contour[])[]): readonly Contour[] =>
  [...clusters]
    .reverse()
    .flatMap((contours) => contours.map((contour) => ({ contour, top: toImage(contourBox(contour).max).Y })))
    .sort((a, b) => b.top - a.top)
    .map(({ contour }) => contour);

const clippedCluster = (cluster: Cluster, operation: Operation, winding: Winding): readonly Contour[] => {
  const { subject, clipping, about } = cluster;
  const also = `${operation} ${winding} ${subject.length} ${about.subject} ${about.clipping}`;
  return clusters.of([...subject, ...clipping], also, () => {
    const made = freeCircle(cluster, operation, winding) ?? throughImage(cluster, operation, winding);
    return made.map((contour) => [...subject, ...clipping].find((c) => isSame(c, contour)) ?? contour);
  });
};

const clusters = knownBy<Contour, readonly Contour[]>();

/** Whether a place that is wound round so often is in the result. */
const isIn = ({ subject, clipping }: Windings, operation: Operation, winding: Winding): boolean => {
  const [a, b] = [subject, clipping].map((w) => (winding === 'nonzero' ? w !== 0 : w > 0));
  switch (operation) {
    case 'union':
      return a! || b!;
    case 'difference':
      return a! && !b!;
    case 'intersection':
      return a! && b!;
  }
};

/** Smaller circles are left to the image, in which they may be nothing, mm. */
const LEAST_RADIUS = 0.05;

/** A circle near nothing but itself, however often it is there, stays or goes and may turn round; null for anything else. */
const freeCircle = (cluster: Cluster, operation: Operation, winding: Winding): readonly Contour[] | null => {
  const { subject, clipping, about } = cluster;
  const first = wholeCircle(subject[0] ?? clipping[0]!);
  if (first === null) return null;
  const { centre } = first;
  const radius = radiusOf(first);
  const within = { ...about };
  for (const role of ['subject', 'clipping'] as const) {
    for (const contour of cluster[role]) {
      const own = wholeCircle(contour);
      if (own === null || !isSamePoint(own.centre, centre) || radiusOf(own) !== radius) return null;
      within[role] += Math.sign(own.sweep);
    }
  }
  const inside = isIn(within, operation, winding);
  return inside === isIn(about, operation, winding) ? [] : [{ segments: [circle(centre, radius, inside)] }];
};

const wholeCircle = ({ segments }: Contour): Arc | null => {
  const only = segments[0]!;
  const isWhole = segments.length === 1 && only.kind === 'arc' && Math.abs(only.sweep) === 2 * Math.PI;
  return isWhole && radiusOf(only) >= LEAST_RADIUS ? only : null;
};

/** Room between a cluster and the frame put round it, mm. */
const ROOM = 1;

/** What others wind round a cluster is a frame about it, which is left out of what comes back. */
export const throughImage = (
  { subject, clipping, about }: Cluster,
  operation: Operation,
  winding: Winding,
): readonly Contour[] => {
  if (about.subject === 0 && about.clipping === 0)
    return clip(subject, clipping, operation, winding).contours;
  const frame = frameRound([...subject, ...clipping]);
  const [a, b] = [imageOf(subject), imageOf(clipping)];
  const polygons = clippedImage(
    [...a.paths, ...timesRound(frame, about.subject)],
    [...b.paths, ...timesRound(frame, about.clipping)],
    operation,
    winding,
  );
  const corner = frame[0]!;
  const isFrame = (polygon: IntPoint[]): boolean => polygon.some((p) => p.X === corner.X && p.Y === corner.Y);
  return recovered(
    polygons.filter((polygon) => !isFrame(polygon)),
    a,
    b,
  );
};

const frameRound = (contours: readonly Contour[]): IntPoint[] => {
  const all: readonly Box[] = contours.map(contourBox);
  const min = {
    x: Math.min(...all.map((b) => b.min.x)) - ROOM,
    y: Math.min(...all.map((b) => b.min.y)) - ROOM,
  };
  const max = {
    x: Math.max(...all.map((b) => b.max.x)) + ROOM,
    y: Math.max(...all.map((b) => b.max.y)) + ROOM,
  };
  return [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }].map(toImage);
};

const timesRound = (frame: IntPoint[], times: number): IntPoint[][] =>
  Array.from({ length: Math.abs(times) }, () => (times > 0 ? frame : [...frame].reverse()));

/** Whether two contours are the same to the last bit, and begin at the same place. */
const isSame = (a: Contour, b: Contour): boolean =>
  a.segments.length === b.segments.length &&
  a.segments.every((s, i) => {
    const t = b.segments[i]!;
    if (!isSamePoint(s.from, t.from) || !isSamePoint(s.to, t.to)) return false;
    if (s.kind === 'line' || t.kind === 'line') return s.kind === t.kind;
    return isSamePoint(s.centre, t.centre) && s.sweep === t.sweep;
  });

const isSamePoint = (a: Point, b: Point): boolean => Object.is(a.x, b.x) && Object.is(a.y, b.y);
