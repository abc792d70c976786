import { add, angleOf, distance, type Point, polar, scale, subtract } from '../../sketch/shape/point.ts';
import { arc, line, type Segment } from '../../sketch/shape/segment.ts';

/**
 * Peeling: a slot wider than the cutter is opened by loops, each a half circle through the material and a straight way
 * back over what is cleared, so that the cutter is never buried deeper than a stated angle. Program coordinates, mm.
 */
export interface PeelTerms {
  /** Middle of the first loop: beyond the edge of an open slot, or the middle of a closed slot's first end. */
  readonly from: Point;
  /** Middle of the last loop. */
  readonly to: Point;
  /** From wall to wall, what the loops clear. */
  readonly width: number;
  /** The cutter's radius. */
  readonly radius: number;
  /** Largest angle of the cutter's rim that may be in the material, radians. */
  readonly engagement: number;
  readonly direction: 'climb' | 'conventional';
}

/** Loops closer together than this, mm, are no way to cut; an angle that asks for them is too small. */
const LEAST_STEP = 0.02;
/** Loops are no farther apart than this share of their own orbit's width. */
const MOST_SHARE = 0.9;
/** What loops leave between them on the walls is no higher than this, mm: the lap along them comes down there by rapid. */
const CUSP = 0.012;
/** Loops of less than this share of the cutter's radius are no loops. */
const LEAST_ORBIT = 0.1;

/** Radius on which the cutter's middle goes round. */
export const orbitOf = (terms: Pick<PeelTerms, 'width' | 'radius'>): number => terms.width / 2 - terms.radius;

/** Whether a slot is wide enough beside its cutter to be peeled. */
export const canPeel = (terms: Pick<PeelTerms, 'width' | 'radius'>): boolean =>
  orbitOf(terms) >= LEAST_ORBIT * terms.radius;

/**
 * Angle of the cutter's rim in the material at one place of a loop, radians: its middle at `at` on an orbit about
 * `middle` that goes anticlockwise, everything within `reach` (as far as the loop's own where left out) of `before`
 * being gone. The rim is in the material from where it points away from its own orbit to where it meets the older
 * round, on the side it goes to.
 */
export const engagementAt = (
  middle: Point,
  before: Point,
  at: Point,
  radius: number,
  reach: number = distance(middle, at) + radius,
): number => {
  const away = subtract(at, before);
  const d = Math.hypot(away.x, away.y);
  if (d + radius <= reach + 1e-12) return 0;
  const cos = (reach * reach - d * d - radius * radius) / (2 * d * radius);
  const half = Math.acos(Math.max(-1, Math.min(1, cos)));
  const turn = angleOf(away) - angleOf(subtract(at, middle));
  return Math.max(0, half + Math.atan2(Math.sin(turn), Math.cos(turn)));
};

/** How far before and after its half circle a loop goes, radians, so that it begins and ends inside the one before it. */
export const leadOf = (orbit: number, step: number): number => Math.asin(Math.min(1, step / (2 * orbit)));

/** The largest engagement in a whole loop that lies `step` mm beyond the one before, radians. */
export const loopEngagement = (orbit: number, radius: number, step: number): number => {
  const middle = { x: 0, y: 0 };
  const before = { x: -step, y: 0 };
  const lead = leadOf(orbit, step);
  let most = 0;
  const LOOKS = 180;
  for (let i = 0; i <= LOOKS; i++) {
    const at = polar(middle, orbit, -Math.PI / 2 - lead + ((Math.PI + 2 * lead) * i) / LOOKS);
    most = Math.max(most, engagementAt(middle, before, at, radius));
  }
  return most;
};

/**
 * The largest engagement of a ring that grows by `step` mm to an orbit, radians: as deep as the step, and turned
 * outward by as much as its second half, about a place beside the middle, leans.
 */
const ringEngagement = (orbit: number, radius: number, step: number): number => {
  const reach = orbit - step + radius;
  const cos = (reach * reach - orbit * orbit - radius * radius) / (2 * orbit * radius);
  const lean = Math.asin(Math.min(1, step / 2 / (orbit - step / 2)));
  return Math.acos(Math.max(-1, Math.min(1, cos))) + lean;
};

/** The largest step that keeps a growing figure within the limit, mm; by halving. */
const largestStep = (limit: number, most: number, engagement: (step: number) => number): number => {
  let [low, high] = [0, most];
  if (engagement(high) <= limit) return high;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (engagement(middle) <= limit) low = middle;
    else high = middle;
  }
  return low;
};

/**
 * The most that may be left on a wall so that a finishing lap inside a round keeps the limit, mm: the lap's middle goes
 * on `orbit` (0 for a sharp corner, Infinity along a straight wall).
 */
export const finishingAllowance = (engagement: number, radius: number, orbit: number): number =>
  Number.isFinite(orbit)
    ? orbit + radius - Math.sqrt(orbit ** 2 + radius ** 2 + 2 * orbit * radius * Math.cos(engagement))
    : radius * (1 - Math.cos(engagement));

/** The largest step between loops whatever the angle, mm: that they begin inside each other, and leave next to no cusps. */
export const mostStep = (terms: Pick<PeelTerms, 'width' | 'radius'>): number => {
  const orbit = orbitOf(terms);
  const reach = orbit + terms.radius;
  return Math.min(2 * terms.radius, MOST_SHARE * 2 * orbit, 2 * Math.sqrt(reach ** 2 - (reach - CUSP) ** 2));
};

/** How far each loop lies beyond the one before, mm, or null when the limit asks for loops too close to be cut. */
export const peelStep = (terms: PeelTerms): number | null => {
  const orbit = orbitOf(terms);
  const step = largestStep(terms.engagement, mostStep(terms), (s) => loopEngagement(orbit, terms.radius, s));
  return step < LEAST_STEP ? null : step;
};

/**
 * The loops of an open slot, or of a closed one whose first round is cleared already: half circles and a little more,
 * and ways back, as one chain that begins beside `from`. Null where the limit cannot be kept.
 */
export const peelLoops = (terms: PeelTerms): readonly Segment[] | null => {
  const step = peelStep(terms);
  if (step === null || !canPeel(terms)) return null;
  const orbit = orbitOf(terms);
  const length = distance(terms.from, terms.to);
  if (length < 1e-9) return [];
  const count = Math.max(1, Math.ceil(length / step - 1e-9));
  const way = scale(subtract(terms.to, terms.from), 1 / length);
  const ahead = angleOf(way);
  // A right-hand cutter climbs with the material on its right: outside a round that goes anticlockwise.
  const sense = terms.direction === 'climb' ? 1 : -1;
  const segments: Segment[] = [];
  let at: Point | null = null;
  for (let k = 0; k <= count; k++) {
    const middle = add(terms.from, scale(way, (length * k) / count));
    // The first has none before it, and begins beside it.
    const lead = k === 0 ? 0 : leadOf(orbit, length / count);
    const first = polar(middle, orbit, ahead - sense * (Math.PI / 2 + lead));
    const last = polar(middle, orbit, ahead + sense * (Math.PI / 2 + lead));
    if (at) segments.push(line(at, first));
    segments.push(arc(first, last, middle, sense > 0));
    at = last;
  }
  return segments;
};

/**
 * From a hole of `hole` mm radius of the cutter's middle about `from` out to the full round, by rings that grow as the
 * limit allows, each joined to the next by a half circle; begins and ends on the side the loops begin. Null where the
 * limit cannot be kept.
 */
export const peelOpening = (terms: PeelTerms, hole: number): readonly Segment[] | null => {
  const orbit = orbitOf(terms);
  const sense = terms.direction === 'climb' ? 1 : -1;
  const ahead = distance(terms.from, terms.to) < 1e-9 ? 0 : angleOf(subtract(terms.to, terms.from));
  const start = ahead - (sense * Math.PI) / 2;
  const segments: Segment[] = [];
  const { from, radius } = terms;
  let now = hole;
  while (now < orbit - 1e-9) {
    const grow = largestStep(terms.engagement, orbit - now, (s) => ringEngagement(now + s, radius, s));
    if (grow < Math.min(LEAST_STEP, orbit - now)) return null;
    const next = Math.min(orbit, now + grow);
    // Half round about the middle, half round about a place beside it: so the ring grows without a corner.
    const opposite = polar(from, now, start + Math.PI);
    const outer = polar(from, next, start);
    segments.push(
      arc(polar(from, now, start), opposite, from, sense > 0),
      arc(opposite, outer, polar(from, (next - now) / 2, start), sense > 0),
    );
    now = next;
  }
  const side = polar(from, orbit, start);
  const other = polar(from, orbit, start + Math.PI);
  segments.push(arc(side, other, from, sense > 0), arc(other, side, from, sense > 0));
  return segments;
};
