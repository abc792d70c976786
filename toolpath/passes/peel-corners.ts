import { add, angleOf, type Point, polar, scale, subtract } from '../../sketch/shape/point.ts';
import { arc, line, type Segment } from '../../sketch/shape/segment.ts';
import { engagementAt, type PeelTerms } from './peel.ts';

/**
 * The corners of a square root, peeled: after the last loop of a slot, rounds that touch the end wall and a side wall
 * and get smaller from one to the next, until the cutter all but stands in the corner.
 */
export interface CornerTerms extends PeelTerms {
  /** Radius in the corner, mm: of what the part has there, less what is left for finishing. */
  readonly corner: number;
  /** How much farther than the loops the corners reach into both walls, mm. */
  readonly beyond: number;
}

/** The last round's middle stays this far from the corner's, mm: what it leaves is thinner than a hundredth. */
const LAST_ORBIT = 0.008;
/** Rounds nearer than this share of the one before are no way to cut. */
const LEAST_SHARE = 0.01;
/** A quarter round needs no more than this before and after it to begin and end in the open, radians. */
const MOST_LEAD = (135 * Math.PI) / 180;
const LOOKS = 90;
const DIAGONAL: Point = { x: 1, y: 1 };

/** A round in the frame of one corner: the corner at the far end of the diagonal, walls square to x and y. */
interface Round {
  readonly middle: Point;
  /** Of what it clears. */
  readonly reach: number;
}

/** How far before and after its quarter a round goes, so that it begins and ends inside the one before it. */
const leadOf = (round: Round, before: Round, radius: number): number => {
  const orbit = round.reach - radius;
  const clear = (lead: number): boolean => {
    const at = polar(round.middle, orbit, -lead);
    return Math.hypot(at.x - before.middle.x, at.y - before.middle.y) <= before.reach - radius + 1e-9;
  };
  if (clear(0)) return 0;
  let [low, high] = [0, MOST_LEAD];
  for (let k = 0; k < 40; k++) {
    const middle = (low + high) / 2;
    if (clear(middle)) high = middle;
    else low = middle;
  }
  return high;
};

const mostIn = (round: Round, before: Round, radius: number): number => {
  const lead = leadOf(round, before, radius);
  const orbit = round.reach - radius;
  let most = 0;
  for (let i = 0; i <= LOOKS; i++) {
    const at = polar(round.middle, orbit, -lead + ((Math.PI / 2 + 2 * lead) * i) / LOOKS);
    most = Math.max(most, engagementAt(round.middle, before.middle, at, radius, before.reach));
  }
  return most;
};

/** The rounds of one corner in its own frame, whose origin is where the two walls meet. Null where the limit is too small. */
const roundsOf = (first: Round, terms: CornerTerms): readonly Round[] | null => {
  const { radius, engagement } = terms;
  const last = Math.max(terms.corner, radius + LAST_ORBIT);
  const roundOf = (reach: number): Round => ({ middle: scale(DIAGONAL, -reach), reach });
  const rounds: Round[] = [];
  let before = first;
  while (before.reach > last + 1e-9) {
    let next = roundOf(last);
    if (mostIn(next, before, radius) > engagement) {
      let [near, far] = [before.reach, last];
      for (let k = 0; k < 40; k++) {
        const middle = (near + far) / 2;
        if (mostIn(roundOf(middle), before, radius) <= engagement) near = middle;
        else far = middle;
      }
      if (before.reach - near < LEAST_SHARE * (before.reach - radius)) return null;
      next = roundOf(near);
    }
    rounds.push(next);
    before = next;
  }
  return rounds;
};

/**
 * Both corners, as a chain of arcs and ways between them that begins where the last loop ends. Null where the limit
 * cannot be kept; nothing where the corners are no sharper than the loops.
 */
export const peelCorners = (terms: CornerTerms, at: Point): readonly Segment[] | null => {
  const { width, radius, beyond } = terms;
  const half = width / 2;
  // From the corner, which lies `beyond` farther into both walls than the loops went.
  const first: Round = { middle: scale(DIAGONAL, -half - beyond), reach: half };
  const rounds = roundsOf(first, terms);
  if (rounds === null) return null;
  const ahead = angleOf(subtract(terms.to, terms.from));
  const sense = terms.direction === 'climb' ? 1 : -1;
  const segments: Segment[] = [];
  let pen = at;
  // The corner on the side the loops end at comes first.
  for (const side of [sense, -sense]) {
    let before = first;
    const corner = add(
      add(terms.to, polar({ x: 0, y: 0 }, half + beyond, ahead)),
      polar({ x: 0, y: 0 }, side * (half + beyond), ahead + Math.PI / 2),
    );
    for (const round of rounds) {
      const lead = leadOf(round, before, radius);
      const middle = add(
        add(corner, polar({ x: 0, y: 0 }, -round.reach, ahead)),
        polar({ x: 0, y: 0 }, -side * round.reach, ahead + Math.PI / 2),
      );
      // From the end wall to the side wall on the left, the other way on the right; conventional in a mirror.
      const [low, high] = side > 0 ? [-lead, Math.PI / 2 + lead] : [-Math.PI / 2 - lead, lead];
      const [a, b] = sense > 0 ? [low, high] : [high, low];
      const from = polar(middle, round.reach - radius, ahead + a);
      const to = polar(middle, round.reach - radius, ahead + b);
      segments.push(line(pen, from), arc(from, to, middle, sense > 0));
      pen = to;
      before = round;
    }
  }
  return segments;
};
