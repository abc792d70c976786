import type { Point, Point3 } from '../../sketch/shape/point.ts';
import { SAME_POINT } from '../../sketch/shape/tolerance.ts';
import type { Move, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';

/** A drilling at one place: across at `travel`, by rapid to `clear`, by feed to `depth`, back to `back`. mm, s. */
export interface DrillBlock {
  readonly kind: 'drill';
  /** Where the way across begins. */
  readonly from: Point;
  readonly at: Point;
  readonly travel: number;
  readonly clear: number;
  readonly depth: number;
  readonly back: number;
  readonly peck: number;
  readonly dwell: number;
  readonly feed: number;
  /** Whether the tool is fed out again, as a reamer is. */
  readonly feedOut: boolean;
}

/** One thing for the machine to do, with the place it starts from. Rapids go up, across, or down, never two at once. */
export type Block =
  | { readonly kind: 'rapid'; readonly from: Point3; readonly to: Point3 }
  | { readonly kind: 'feed'; readonly from: Point3; readonly to: Point3; readonly feed: number }
  | {
      readonly kind: 'arc';
      readonly from: Point3;
      readonly to: Point3;
      readonly centre: Point;
      /** Signed, radians, positive anticlockwise. */
      readonly sweep: number;
      readonly feed: number;
    }
  | DrillBlock
  | { readonly kind: 'stop'; readonly message: string };

/** Arc ends whose distances from the centre differ by more than this are a slip of the planner, mm. */
const SLIP = 0.01;

interface Walk {
  readonly step: PlannedStep;
  readonly blocks: Block[];
  /** Height of the tip; it is known from the first, as every job step begins by going to the clear height. */
  level: number;
  /** Null until the job step has named a place. */
  place: Point | null;
  /** Where the job step before left the cutter. */
  readonly before: Point | null;
}

/** The moves of each pass of a job step as blocks. The cutter starts at the clear height, its place not assumed. */
export const unfoldStep = (
  setup: PlannedSetup,
  step: PlannedStep,
  before: Point | null = null,
): {
  readonly passes: readonly (readonly Block[])[];
  readonly level: number;
  readonly place: Point | null;
} => {
  let level = setup.clearHeight;
  let place: Point | null = null;
  const passes = step.passes.map((pass) => {
    const walk: Walk = { step, blocks: [], level, place, before };
    for (const move of pass.moves) unfold(walk, move);
    level = walk.level;
    place = walk.place;
    return walk.blocks;
  });
  return { passes, level, place };
};

const unfold = (w: Walk, move: Move): void => {
  switch (move.kind) {
    case 'rapid':
      rapidTo(w, move.to);
      return;
    case 'feed': {
      const from = start(w, move.to);
      if (!same(from, move.to)) w.blocks.push({ kind: 'feed', from, to: move.to, feed: move.feed });
      arrive(w, move.to);
      return;
    }
    case 'arc':
      w.blocks.push(arcFrom(w, move));
      arrive(w, move.to);
      return;
    case 'drill':
      drill(w, move);
      return;
    case 'stop':
      w.blocks.push({ kind: 'stop', message: move.message });
      return;
  }
};

const arrive = (w: Walk, to: Point3): void => {
  w.place = { x: to.x, y: to.y };
  w.level = to.z;
};

const same = (a: Point3, b: Point3): boolean => a.x === b.x && a.y === b.y && a.z === b.z;

/**
 * Where a cut starts. A job step that begins with a cut goes on from where the one before stopped: the cutter is taken
 * there at the clear height first, or over the cut's own end when there was none.
 */
const start = (w: Walk, end: Point): Point3 => {
  if (w.place === null) rapidAcross(w, w.before ?? end);
  return { ...w.place!, z: w.level };
};

const rapidAcross = (w: Walk, to: Point): void => {
  const from = { x: w.place?.x ?? to.x, y: w.place?.y ?? to.y, z: w.level };
  if (w.place !== null && from.x === to.x && from.y === to.y) return;
  const end = { x: to.x, y: to.y, z: w.level };
  w.blocks.push({ kind: 'rapid', from, to: end });
  arrive(w, end);
};

const rapidUpright = (w: Walk, z: number): void => {
  // Over no place at all the way across comes first, at the clear height.
  if (w.level === z || w.place === null) return;
  const from = { ...w.place, z: w.level };
  const last = w.blocks[w.blocks.length - 1];
  if (last?.kind === 'drill' && !last.feedOut && z === last.travel && z > last.back) {
    // A cycle can return to the height it came from by itself; a reamer would do so at its slow feed.
    w.blocks[w.blocks.length - 1] = { ...last, back: z };
  } else w.blocks.push({ kind: 'rapid', from, to: { ...from, z } });
  w.level = z;
};

/** Up before across, and across before down: many machines do not keep to a straight line in a rapid. */
const rapidTo = (w: Walk, to: Point3): void => {
  if (to.z > w.level) rapidUpright(w, to.z);
  rapidAcross(w, to);
  rapidUpright(w, to.z);
};

const arcFrom = (w: Walk, move: Extract<Move, { kind: 'arc' }>): Block => {
  if (w.place === null && w.before === null) {
    throw new RangeError(`${w.step.step.name}: a job step cannot begin with an arc, which has no start`);
  }
  const from = start(w, move.to);
  const { centre, to } = move;
  const radius = Math.hypot(from.x - centre.x, from.y - centre.y);
  const end = Math.hypot(to.x - centre.x, to.y - centre.y);
  if (!(Math.abs(radius - end) <= SLIP) || !(radius > 0)) {
    throw new RangeError(
      `${w.step.step.name}: an arc's centre lies ${radius} mm from its start and ${end} mm from its end`,
    );
  }
  const full = 2 * Math.PI;
  let sweep = full;
  if (Math.hypot(to.x - from.x, to.y - from.y) > SAME_POINT) {
    sweep = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
    if (sweep <= 0) sweep += full;
    if (move.clockwise) sweep = full - sweep;
  }
  return { kind: 'arc', from, to, centre, sweep: move.clockwise ? -sweep : sweep, feed: move.feed };
};

const drill = (w: Walk, move: Extract<Move, { kind: 'drill' }>): void => {
  const { at, clear, depth, peck, dwell, feed } = move;
  if (w.level < clear) rapidUpright(w, clear);
  dropApproach(w, at, clear);
  w.blocks.push({
    kind: 'drill',
    from: w.place ?? at,
    at,
    travel: Math.max(w.level, clear),
    clear,
    depth,
    back: clear,
    peck,
    dwell,
    feed,
    feedOut: w.step.cutter.kind === 'reamer',
  });
  arrive(w, { ...at, z: clear });
};

/** The way across and down to a hole is part of the drilling itself; what the plan wrote of it is taken back. */
const dropApproach = (w: Walk, at: Point, clear: number): void => {
  const down = w.blocks[w.blocks.length - 1];
  if (
    down?.kind === 'rapid' &&
    isUpright(down) &&
    isOver(down.to, at) &&
    down.from.z > clear &&
    w.level === clear
  ) {
    w.blocks.pop();
    w.level = down.from.z;
  }
  const across = w.blocks[w.blocks.length - 1];
  if (across?.kind === 'rapid' && !isUpright(across) && isOver(across.to, at)) {
    w.blocks.pop();
    w.place = { x: across.from.x, y: across.from.y };
  }
};

const isUpright = (b: { readonly from: Point3; readonly to: Point3 }): boolean =>
  b.from.x === b.to.x && b.from.y === b.to.y;
const isOver = (p: Point3, at: Point): boolean => p.x === at.x && p.y === at.y;
