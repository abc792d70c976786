import { angleOf, dot, type Point, polar, scale, subtract } from '../shape/point.ts';
import { isSmooth, NOTHING, type Region, segmentsOf } from '../shape/region.ts';
import { radiusOf, type Segment, segmentBox } from '../shape/segment.ts';
import { crossings } from '../shape/spans.ts';
import type { Slab, Solid } from './solid.ts';

/** The side of the part an onlooker stands at: the lower edge of the drawing, the upper one, or an end. */
export type Side = 'lower edge' | 'upper edge' | 'left end' | 'right end';

/** A line of a side view between two places: `s` across the view, `z` the height in the part, mm. */
export interface SideLine {
  readonly from: { readonly s: number; readonly z: number };
  readonly to: { readonly s: number; readonly z: number };
}

/** A part as it is seen square from one side, its edges seen and those behind metal. */
export interface SideView {
  readonly visible: readonly SideLine[];
  readonly hidden: readonly SideLine[];
  /** What the part covers: for each slab the stretches of the view behind which there is metal. */
  readonly covered: readonly {
    readonly from: number;
    readonly to: number;
    readonly bottom: number;
    readonly top: number;
  }[];
}

/** Places across the view nearer than this are one, mm. */
const SAME = 1e-3;
/** How far beside a line one looks to see what stands there, mm. */
const BESIDE = 1e-5;
/** Faces nearer than this in depth are one face, mm: recovered arcs, and how a round falls away `BESIDE` its side. */
const SAME_FACE = 0.02;

/**
 * Which way `s` runs and which way one looks, in plan. Across an edge `s` is X, so that the view can stand under the
 * plan; across an end it is Y, or runs against it from the left, as the onlooker has it from left to right.
 */
export const axesOf = (side: Side): { readonly across: Point; readonly into: Point } => {
  switch (side) {
    case 'lower edge':
      return { across: { x: 1, y: 0 }, into: { x: 0, y: 1 } };
    case 'upper edge':
      return { across: { x: 1, y: 0 }, into: { x: 0, y: -1 } };
    case 'right end':
      return { across: { x: 0, y: 1 }, into: { x: -1, y: 0 } };
    case 'left end':
      return { across: { x: 0, y: -1 }, into: { x: 1, y: 0 } };
  }
};

/**
 * The part seen from one side. A slab is the same at every height, so that what is seen of it is known for each place
 * across the view from its lines and arcs alone: a stretch of a level edge is seen where the nearest face above it is
 * not the nearest one below, and an upright edge where nothing stands before it.
 */
export const sideViewOf = (solid: Solid, side: Side): SideView => {
  const { across, into } = axesOf(side);
  const stacks = solid.slabs.map((slab) => stackOf(slab, across, into));
  const upright = mergedByPlace(stacks.flatMap(uprightEdges));
  const level = levelEdges(stacks);
  return {
    visible: [...upright.visible, ...level.visible],
    hidden: [...upright.hidden, ...level.hidden],
    covered: stacks.flatMap(({ slab, stops, depthsAt }) =>
      stretches(stops, (s) => depthsAt(s).length > 0).map(([from, to]) => ({
        from,
        to,
        bottom: slab.bottom,
        top: slab.top,
      })),
    ),
  };
};

interface Upright {
  readonly s: number;
  readonly depth: number;
}

/** A slab as the onlooker has it. */
interface Stack {
  readonly slab: Slab;
  /** Upright edges: corners, flat sides seen edge on, and where a round turns away. */
  readonly edges: readonly Upright[];
  /** Places between which what is seen changes only gradually, rising. */
  readonly stops: readonly number[];
  /** Depths at which a sight line goes into metal and out again, nearest first. */
  readonly depthsAt: (s: number) => readonly number[];
}

const stackOf = (slab: Slab, across: Point, into: Point): Stack => {
  const segments = segmentsOf(slab.region);
  const edges = [
    ...cornersOf(slab.region, across, into),
    ...segments.flatMap((segment) => turnings(segment, across)),
  ].map((p) => ({ s: dot(p, across), depth: dot(p, into) }));
  const spans = segments.map((segment) => {
    const { min, max } = segmentBox(segment);
    const ends = [dot(min, across), dot(max, across)];
    return { segment, low: Math.min(...ends) - SAME, high: Math.max(...ends) + SAME };
  });
  const looked = new Map<number, readonly number[]>();
  const all = [...edges.map((e) => e.s), ...segments.map((segment) => dot(segment.from, across))];
  return {
    slab,
    edges,
    stops: steps(all),
    depthsAt: (s) => {
      const known = looked.get(s);
      if (known) return known;
      const depths: number[] = [];
      for (const { segment, low, high } of spans) {
        if (s < low || s > high) continue;
        depths.push(...crossings(segment, scale(across, s), into));
      }
      depths.sort((p, q) => p - q);
      looked.set(s, depths);
      return depths;
    },
  };
};

/** Joints of the contours that are seen as a line: where they do not run on smoothly, or turn into the line of sight. */
const cornersOf = (region: Region, across: Point, into: Point): readonly Point[] =>
  region.contours.flatMap(({ segments }) =>
    segments.flatMap((segment, i) => {
      const next = segments[(i + 1) % segments.length]!;
      const edgeOn = isEdgeOn(segment, across, into) || isEdgeOn(next, across, into);
      return edgeOn || !isSmooth(segment, next) ? [segment.to] : [];
    }),
  );

/** A straight side along the line of sight. */
const isEdgeOn = (s: Segment, across: Point, into: Point): boolean =>
  s.kind === 'line' &&
  Math.abs(dot(subtract(s.to, s.from), across)) < SAME &&
  Math.abs(dot(subtract(s.to, s.from), into)) > SAME;

/** Where an arc turns away from the onlooker: its outermost places across the view. */
const turnings = (s: Segment, across: Point): readonly Point[] => {
  if (s.kind === 'line') return [];
  const r = radiusOf(s);
  const start = angleOf(subtract(s.from, s.centre));
  const out = angleOf(across);
  const slack = SAME / r;
  return [out, out + Math.PI].flatMap((angle) => {
    const turn = 2 * Math.PI;
    const way = s.sweep > 0 ? angle - start : start - angle;
    const on = way - turn * Math.floor((way + slack) / turn);
    return on <= Math.abs(s.sweep) + slack ? [polar(s.centre, r, angle)] : [];
  });
};

const steps = (values: readonly number[]): readonly number[] =>
  [...values].sort((a, b) => a - b).filter((v, i, all) => i === 0 || v - all[i - 1]! > SAME);

interface Judged extends SideLine {
  readonly isSeen: boolean;
}

/** A slab's upright edges, each seen unless metal stands before it on both sides. */
const uprightEdges = ({ slab, edges, depthsAt }: Stack): readonly Judged[] =>
  edges.map(({ s, depth }) => {
    const clear = (at: number): boolean => {
      const nearest = depthsAt(at)[0];
      return nearest === undefined || nearest > depth - SAME_FACE;
    };
    return {
      from: { s, z: slab.bottom },
      to: { s, z: slab.top },
      isSeen: clear(s - BESIDE) || clear(s + BESIDE),
    };
  });

/** Level edges between each slab and what lies on it. */
const levelEdges = (stacks: readonly Stack[]): Sorted => {
  const heights = steps(stacks.flatMap(({ slab }) => [slab.bottom, slab.top]));
  const empty = stackOf({ bottom: 0, top: 0, region: NOTHING }, { x: 1, y: 0 }, { x: 0, y: 1 });
  const visible: SideLine[] = [];
  const hidden: SideLine[] = [];
  for (const z of heights) {
    const below = stacks.find(({ slab }) => Math.abs(slab.top - z) < SAME) ?? empty;
    const above = stacks.find(({ slab }) => Math.abs(slab.bottom - z) < SAME) ?? empty;
    const stops = steps([...below.stops, ...above.stops]);
    const nearestDiffers = (s: number): boolean =>
      differ(below.depthsAt(s).slice(0, 1), above.depthsAt(s).slice(0, 1));
    const anyDiffers = (s: number): boolean => differ(below.depthsAt(s), above.depthsAt(s));
    const line = ([from, to]: readonly [number, number]): SideLine => ({
      from: { s: from, z },
      to: { s: to, z },
    });
    visible.push(...stretches(stops, nearestDiffers).map(line));
    hidden.push(...stretches(stops, (s) => !nearestDiffers(s) && anyDiffers(s)).map(line));
  }
  return { visible, hidden };
};

const differ = (a: readonly number[], b: readonly number[]): boolean =>
  a.length !== b.length || a.some((depth, i) => Math.abs(depth - b[i]!) > SAME_FACE / 4);

/** Stretches between stops where something holds, neighbours put together. Two faces may meet in one place: two looks. */
const stretches = (
  stops: readonly number[],
  holds: (s: number) => boolean,
): readonly (readonly [number, number])[] => {
  const found: [number, number][] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [from, to] = [stops[i]!, stops[i + 1]!];
    if (!holds(from + (to - from) * 0.37) && !holds(from + (to - from) * 0.71)) continue;
    const last = found.at(-1);
    if (last && from - last[1] < SAME) last[1] = to;
    else found.push([from, to]);
  }
  return found;
};

interface Sorted {
  readonly visible: readonly SideLine[];
  readonly hidden: readonly SideLine[];
}

/** Upright edges at one place drawn once: through every slab they run through, heavy where any of them is seen. */
const mergedByPlace = (edges: readonly Judged[]): Sorted => {
  const visible: SideLine[] = [];
  const hidden: SideLine[] = [];
  for (const own of inColumns(edges)) {
    const { s } = own[0]!.from;
    const heights = steps(own.flatMap((e) => [e.from.z, e.to.z]));
    const judge = (seen: boolean) => (z: number) => {
      const here = own.filter((e) => e.from.z < z && z < e.to.z);
      return here.length > 0 && here.some((e) => e.isSeen) === seen;
    };
    const line = ([from, to]: readonly [number, number]): SideLine => ({
      from: { s, z: from },
      to: { s, z: to },
    });
    visible.push(...stretches(heights, judge(true)).map(line));
    hidden.push(...stretches(heights, judge(false)).map(line));
  }
  return { visible, hidden };
};

/** Edges put together by their place across the view. */
const inColumns = (edges: readonly Judged[]): readonly (readonly Judged[])[] => {
  const groups: Judged[][] = [];
  for (const edge of [...edges].sort((a, b) => a.from.s - b.from.s)) {
    const last = groups.at(-1);
    if (last && edge.from.s - last.at(-1)!.from.s <= SAME) last.push(edge);
    else groups.push([edge]);
  }
  return groups;
};
