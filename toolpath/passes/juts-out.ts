import type { Region } from '../../sketch/shape/region.ts';
import { segmentsOf } from '../../sketch/shape/region.ts';
import type { PlannedSetup } from './pass.ts';

/** A side this far from the jaw still bears on it once it is done up, mm. */
const BEARS = 0.25;
/** Less than this beyond what is held is nothing to put a block under, mm. */
const LEAST_OUT = 3;

/** A stretch along the drawing's X, mm. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * The longer stretch of the work that lies beyond what the jaws bear on as it is put in, whether or not the jaws run on
 * beside it; null where hardly any does, or nothing is held in a vice.
 */
export const jutsOut = ({
  setup,
  frame,
  standing,
}: Pick<PlannedSetup, 'setup' | 'frame' | 'standing'>): Stretch | null => {
  const { hold } = setup;
  if (hold.kind !== 'vice' || standing.length === 0) return null;
  const { x: zero } = frame.zero;
  const underside = Math.min(...standing.map((slab) => slab.bottom));
  const gripped = standing.filter((slab) => slab.bottom < underside + hold.grip - 1e-6);
  const jaws = { from: hold.jaws.from - zero, to: hold.jaws.to - zero };
  const sides = [1, -1].map((side) =>
    bearsOn(
      gripped.map((slab) => slab.region),
      side,
      jaws,
    ),
  );
  const [one, other] = sides;
  if (!one || !other) return null;
  const held = { from: Math.max(one.from, other.from), to: Math.min(one.to, other.to) };
  const xs = standing.flatMap((slab) => segmentsOf(slab.region)).flatMap((s) => [s.from.x, s.to.x]);
  const [low, high] = [Math.min(...xs), Math.max(...xs)];
  const [left, right] = [held.from - low, high - held.to];
  if (held.to <= held.from || Math.max(left, right) < LEAST_OUT) return null;
  const free = right >= left ? { from: held.to, to: high } : { from: low, to: held.from };
  return { from: round(free.from + zero), to: round(free.to + zero) };
};

/** To a micrometre: frames leave noise behind it. */
const round = (mm: number): number => Number(mm.toFixed(3));

/** Where the outermost straight sides lie against one jaw, program coordinates; null for none. */
const bearsOn = (regions: readonly Region[], side: number, jaws: Stretch): Stretch | null => {
  const lines = regions
    .flatMap(segmentsOf)
    .filter((s) => s.kind === 'line')
    .map(({ from, to }) => ({
      x0: Math.max(jaws.from, Math.min(from.x, to.x)),
      x1: Math.min(jaws.to, Math.max(from.x, to.x)),
      out: Math.min(side * from.y, side * to.y),
    }))
    .filter(({ x0, x1 }) => x1 > x0);
  const most = Math.max(...lines.map((l) => l.out));
  const bearing = lines.filter((l) => l.out > most - BEARS);
  return bearing.length === 0
    ? null
    : { from: Math.min(...bearing.map((l) => l.x0)), to: Math.max(...bearing.map((l) => l.x1)) };
};
