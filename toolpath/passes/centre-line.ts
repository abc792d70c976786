import { intersection } from '../../sketch/shape/boolean.ts';
import { type Path, regionArea } from '../../sketch/shape/region.ts';
import { thicken } from '../../sketch/shape/thicken.ts';
import type { Cutter } from '../machine/cutter.ts';
import { RAMP_FROM } from '../route/clearances.ts';
import type { MillingTerms } from '../route/route.ts';
import type { Cleared } from './area.ts';
import { type EntryTerms, rampDown } from './entry.ts';
import { passLevels } from './levels.ts';
import type { Pass, PassKind } from './pass.ts';
import { takePen } from './pen.ts';
import { fromClose } from './run-up.ts';
import { feedThrough } from './through.ts';
import { reversePath, startOf } from './track.ts';
import { ceilingUnder, stockBetween, take, type Workpiece } from './workpiece.ts';

/** A slot exactly as wide as its cutter. Program coordinates, mm. */
export interface CentreLineCut {
  /** From the open end inward, or from end to end of a closed slot. */
  readonly path: Path;
  /** Whether the path begins in the open, beyond the edge. */
  readonly open: boolean;
  readonly floor: number;
  readonly cutter: Cutter;
  readonly terms: Pick<MillingTerms, 'stepDown' | 'levels'>;
  readonly entry: EntryTerms;
  readonly clearHeight: number;
  readonly underside: number | null;
  readonly kind: PassKind;
}

/**
 * Passes down a slot on its centre line. An open slot is always cut inward from the open, lifted at the root and
 * begun again outside, so that the tines are pushed together and never pulled; a closed one is ramped forth and back.
 */
export const cutCentreLine = (start: Workpiece, cut: CentreLineCut): Cleared => {
  const radius = cut.cutter.diameter / 2;
  const swept = thicken(cut.path, radius);
  const top = start.stock.reduce(
    (most, slab) =>
      slab.top > Math.max(most, cut.floor) && regionArea(intersection(slab.region, swept)) > 0.005
        ? slab.top
        : most,
    Number.NEGATIVE_INFINITY,
  );
  let work = start;
  let above = top;
  let path = cut.path;
  const passes: Pass[] = [];
  const pen = takePen(cut.clearHeight);
  for (const z of passLevels(top, cut.floor, cut.terms.stepDown, cut.terms.levels)) {
    const before = pen.moves().length;
    const way = cut.open ? fromClose(path, { radius, standing: stockBetween(work, z, 1e6) }) : path;
    if (cut.open || passes.length === 0) {
      const from = startOf(way);
      const ceiling = ceilingUnder(work, from, radius);
      pen.goTo(from, ceiling, z);
      if (ceiling !== null && ceiling > z + 1e-6) {
        pen.feedTo({ ...from, z: ceiling + RAMP_FROM }, cut.entry.feed);
      } else pen.feedTo({ ...from, z }, feedThrough(cut.entry));
    }
    rampDown(pen, way, z, cut.entry);
    pen.follow(way.segments, cut.entry.feed);
    if (cut.open) pen.lift();
    else path = reversePath(path);
    work = take(work, swept, z, above);
    above = z;
    const web = cut.underside === null ? null : Math.max(0, z - cut.underside);
    passes.push({ kind: cut.kind, z, web, moves: pen.moves().slice(before) });
  }
  if (passes.length > 0 && !cut.open) {
    const last = passes[passes.length - 1]!;
    const before = pen.moves().length;
    pen.lift();
    passes[passes.length - 1] = { ...last, moves: [...last.moves, ...pen.moves().slice(before)] };
  }
  return { passes, work };
};
