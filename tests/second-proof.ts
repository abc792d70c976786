import type { PlannedPart, ProgramFile } from '../gcode/chain.ts';
import { readProgram } from '../gcode/reading/read.ts';
import { solidOf } from '../sketch/part/solid.ts';
import type { Point, Point3 } from '../sketch/shape/point.ts';
import { type Region, segmentsOf, signedDistance } from '../sketch/shape/region.ts';
import { pointAlong, radiusOf, type Segment, segmentLength } from '../sketch/shape/segment.ts';
import { pointHeight } from '../toolpath/machine/cutter.ts';
import { strokeInPart } from '../toolpath/removal/stroke.ts';
import { toPart } from '../toolpath/route/frame.ts';

/**
 * A second proof that shares nothing with the first but the reader: no height map, only how far the cutter's middle
 * stays from the part's lines and arcs, and whether places just outside the part are swept. Slow and plain.
 */
export interface SecondProof {
  /** Deepest cut into the part, mm. */
  readonly gouge: number;
  /** Places that stand just outside the part's walls and are not cut away. */
  readonly standing: readonly (Point & { readonly z: number })[];
}

/** A little of the cutter's way, in the part's coordinates: where its middle is, and the heights it cuts there. */
interface Cut {
  readonly at: Point;
  readonly to: Point;
  readonly radius: number;
  /** Heights that its full diameter takes: from the tip, or from the end of its cone, away from the work. */
  readonly low: number;
  readonly high: number;
}

/** Steps along a way, mm: a wall of radius 2 is missed by a tenth of a micrometre. */
const STEP = 0.05;
const SAME = 1e-6;

const cutsOf = (made: PlannedPart, programs: readonly ProgramFile[]): readonly Cut[] =>
  made.plan.setups.flatMap((setup) => {
    const text = programs.find((p) => p.setup === setup.setup.number)!.text;
    const tools = new Map(made.profile.cutters.map((c) => [c.number, c]));
    return readProgram(text).motions.flatMap((motion): Cut[] => {
      const cutter = tools.get(motion.tool);
      if (!cutter || motion.assumed) return [];
      const m = strokeInPart(motion, setup.frame);
      const up = setup.frame.face === 'front';
      const cone = pointHeight(cutter);
      const along = (t: number): Point3 => {
        const z = m.from.z + (m.to.z - m.from.z) * t;
        if (m.kind !== 'arc' || !m.centre || m.sweep === undefined) {
          return { x: m.from.x + (m.to.x - m.from.x) * t, y: m.from.y + (m.to.y - m.from.y) * t, z };
        }
        const a = Math.atan2(m.from.y - m.centre.y, m.from.x - m.centre.x) + m.sweep * t;
        const r = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
        return { x: m.centre.x + r * Math.cos(a), y: m.centre.y + r * Math.sin(a), z };
      };
      const flat =
        m.kind === 'arc' && m.centre
          ? Math.abs(m.sweep ?? 0) * Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y)
          : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
      const count = Math.max(1, Math.ceil(flat / STEP));
      return Array.from({ length: count }, (_, i) => {
        const [a, b] = [along(i / count), along((i + 1) / count)];
        const tip = up ? Math.min(a.z, b.z) : Math.max(a.z, b.z);
        const [low, high] = up
          ? [tip + cone, Number.POSITIVE_INFINITY]
          : [Number.NEGATIVE_INFINITY, tip - cone];
        return { at: a, to: b, radius: cutter.diameter / 2, low, high };
      });
    });
  });

/** How near a stretch of the way comes to a place, mm. */
const gapTo = (c: Cut, p: Point): number => {
  const [dx, dy] = [c.to.x - c.at.x, c.to.y - c.at.y];
  const l = dx * dx + dy * dy;
  const t = l === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - c.at.x) * dx + (p.y - c.at.y) * dy) / l));
  return Math.hypot(c.at.x + dx * t - p.x, c.at.y + dy * t - p.y);
};

export const secondProof = (
  made: PlannedPart,
  programs: readonly ProgramFile[],
  excess: number,
): SecondProof => {
  const cuts = cutsOf(made, programs);
  const { slabs } = solidOf(made.part);
  let gouge = 0;
  for (const slab of slabs) {
    // Levels that only touch a slab's face do not cut into it.
    const within = cuts.filter((c) => c.low < slab.top - SAME && c.high > slab.bottom + SAME);
    for (const c of within) {
      const into = c.radius - signedDistance(slab.region, c.at);
      if (into <= gouge) continue;
      // Cut from above or below by less than it is cut from the side counts as what it is.
      const deep = Math.min(
        slab.top - Math.max(c.low, slab.bottom),
        Math.min(c.high, slab.top) - slab.bottom,
      );
      gouge = Math.max(gouge, Math.min(into, deep));
    }
  }
  return { gouge, standing: slabs.flatMap((slab) => standingBeside(slab, slabs, cuts, excess, made)) };
};

interface Slab {
  readonly bottom: number;
  readonly top: number;
  readonly region: Region;
}

/** Places beside a slab's walls, so far outside, that no cutter passes over at the slab's height. */
const standingBeside = (
  slab: Slab,
  slabs: readonly Slab[],
  cuts: readonly Cut[],
  excess: number,
  { part, plan }: PlannedPart,
): SecondProof['standing'] => {
  const { corner, length, width } = part.bar;
  const z = (slab.bottom + slab.top) / 2;
  const swept = cuts.filter((c) => c.low <= z && c.high >= z);
  const bridges = plan.setups.flatMap((s) =>
    s.steps.flatMap((step) =>
      step.bridges.map((b) => ({ ...toPart(s.frame, { ...b.at, z: 0 }), reach: 2 * b.width + 3 })),
    ),
  );
  const places = segmentsOf(slab.region).flatMap((s) => besidePlaces(s, excess));
  return places
    .filter((p) => p.x > corner.x && p.x < corner.x + length && p.y > corner.y && p.y < corner.y + width)
    .filter((p) => signedDistance(slab.region, p) > excess * 0.9)
    .filter((p) => !slabs.some((s) => s.bottom < z && s.top > z && signedDistance(s.region, p) < 0))
    .filter((p) => !bridges.some((b) => Math.hypot(b.x - p.x, b.y - p.y) < b.reach))
    .filter((p) => !swept.some((c) => gapTo(c, p) <= c.radius + SAME))
    .map((p) => ({ ...p, z }));
};

const besidePlaces = (s: Segment, out: number): Point[] => {
  const count = Math.max(1, Math.ceil(segmentLength(s) / 0.4));
  return Array.from({ length: count }, (_, i) => {
    const p = pointAlong(s, (i + 0.5) / count);
    if (s.kind === 'line') {
      const l = segmentLength(s);
      // Metal lies to the left of its boundary.
      return { x: p.x + ((s.to.y - s.from.y) / l) * out, y: p.y - ((s.to.x - s.from.x) / l) * out };
    }
    const r = radiusOf(s);
    const sense = s.sweep > 0 ? 1 : -1;
    return {
      x: p.x + ((p.x - s.centre.x) / r) * out * sense,
      y: p.y + ((p.y - s.centre.y) / r) * out * sense,
    };
  });
};
