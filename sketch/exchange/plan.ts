import { type CutOut, cutOutsOf, landRegion } from '../part/cut-outs.ts';
import { outlineOf } from '../part/outline.ts';
import type { Part } from '../part/part.ts';
import { difference, intersection, union } from '../shape/boolean.ts';
import { type Region, segmentsOf, signedDistance } from '../shape/region.ts';
import { pointAlong, type Segment } from '../shape/segment.ts';

/** Our layers, by what lies on them. `LANDS` and `COUNTERBORES` are no edges of the plan; they lie within it. */
export const LAYERS = {
  outline: 'OUTLINE',
  hole: 'HOLES',
  fork: 'FORKS',
  slot: 'SLOTS',
  counterbore: 'COUNTERBORES',
  land: 'LANDS',
} as const;

/** Layers of ours that carry no edge of the plan. */
export const WITHIN_PLAN: readonly string[] = [LAYERS.counterbore, LAYERS.land];

/** An edge lies on a cut-out when it is this near, mm. */
const ON = 2e-3;

/**
 * The part in plan: its outline with forks, slots and holes taken out as if all went right through. Counterbores and
 * lands are left aside.
 */
export const planRegion = (part: Part): Region => {
  const cuts = throughCuts(part);
  const outline = outlineOf(part);
  return cuts.length === 0 ? outline : difference(outline, union(cuts.map((c) => c.region)));
};

const throughCuts = (part: Part): readonly CutOut[] =>
  cutOutsOf(part).filter((c) => c.kind !== 'counterbore');

export interface Layered {
  readonly layer: string;
  readonly segment: Segment;
}

/** The edges of the plan, each on the layer of what it belongs to, and after them counterbores and lands. */
export const layeredPlan = (part: Part): readonly Layered[] => {
  const cuts = throughCuts(part);
  const layerOf = (segment: Segment): string => {
    const cut = cuts.find((c) =>
      [0.25, 0.5, 0.75].every((t) => Math.abs(signedDistance(c.region, pointAlong(segment, t))) < ON),
    );
    return cut === undefined ? LAYERS.outline : LAYERS[cut.kind];
  };
  const outline = outlineOf(part);
  const bores = cutOutsOf(part).filter((c) => c.kind === 'counterbore');
  const lands = part.lands.flatMap((land) => landRegion(land) ?? []);
  return [
    ...segmentsOf(planRegion(part)).map((segment) => ({ layer: layerOf(segment), segment })),
    ...bores.flatMap((c) => segmentsOf(c.region).map((segment) => ({ layer: LAYERS.counterbore, segment }))),
    ...lands.flatMap((land) =>
      segmentsOf(intersection(outline, land)).map((segment) => ({ layer: LAYERS.land, segment })),
    ),
  ];
};
