import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { distance, dot, leftOf, type Point, polar, scale, subtract, unit } from '../../sketch/shape/point.ts';

/** A round edge to be cut: mm, radians. The metal lies inside the circle (`outside` edge) or outside it (`inside`). */
export interface RoundEdge {
  readonly centre: Point;
  readonly radius: number;
  readonly side: 'outside' | 'inside';
  /** Direction of its start from the centre, and the signed turn to its end, positive anticlockwise. */
  readonly from: number;
  readonly sweep: number;
}

/** A straight edge, mm; `clear` is the side of the way from start to end on which the metal goes. */
export interface StraightEdge {
  readonly from: Point;
  readonly to: Point;
  readonly clear: 'left' | 'right';
}

/** What is wanted: cusps no higher than this (mm), or so many stops. */
export type NibbleChoice =
  | { readonly kind: 'cusp'; readonly height: number }
  | { readonly kind: 'stops'; readonly count: number };

/** How to come from the stop before: which handwheel first, so that the cutter never crosses the edge; or backed off. */
export type NibbleWay = 'start' | 'x first' | 'y first' | 'back off';

export interface NibbleStop {
  /** From 1. */
  readonly number: number;
  /** The cutter's centre, mm. */
  readonly at: Point;
  readonly way: NibbleWay;
}

export interface NibbleTable {
  readonly stops: readonly NibbleStop[];
  /** Height of the cusps between stops over the edge, mm: what the file takes off. */
  readonly cusp: number;
  /** From stop to stop: the turn about the edge's centre in radians, or the way along a straight edge in mm. */
  readonly step: number;
}

export type Nibbling =
  | { readonly ok: true; readonly table: NibbleTable; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

/** More stops than this nobody sets by hand. */
export const MOST_STOPS = 400;
const FULL = 2 * Math.PI;

/** Where the cutter's centre runs, and how it is shared out: the same work for round and for straight edges. */
interface Track {
  /** Whole length in units of the step: radians or mm. */
  readonly length: number;
  /** Whether the last stop would be the first again. */
  readonly closed: boolean;
  /** The cusp for a step, mm; NaN where neighbours leave metal standing between them. */
  readonly cusp: (step: number) => number;
  /** The greatest step whose cusps are no higher, the other way about. */
  readonly step: (cusp: number) => number;
  readonly at: (along: number) => Point;
  readonly way: (from: Point, to: Point) => NibbleWay;
}

/**
 * Height of the cusp between neighbouring stops, mm: a cutter of radius `cutter` stepping round an edge by the turn
 * `step` (radians). On the bisector of two stops the cutter's circles meet at
 * a cos(θ/2) ∓ √(c² − (a sin(θ/2))²) from the centre, with a = R ± c: an intersection of two circles, elementary geometry.
 * NaN where the circles do not meet.
 */
export const roundCusp = (edge: Pick<RoundEdge, 'radius' | 'side'>, cutter: number, step: number): number => {
  const out = edge.side === 'outside';
  const a = out ? edge.radius + cutter : edge.radius - cutter;
  const s = Math.sin(step / 2);
  const under = cutter * cutter - a * a * s * s;
  // Turned by more than a quarter, a centre that lies outside its own cutter has the crest behind it.
  if (under < -1e-9 || (a > cutter && step > Math.PI)) return Number.NaN;
  const half = Math.sqrt(Math.max(0, under));
  const crest = a * Math.cos(step / 2) + (out ? -half : half);
  return Math.max(0, out ? crest - edge.radius : edge.radius - crest);
};

/** The greatest turn from stop to stop (radians) whose cusps are no higher than `cusp` (mm): the same triangle by its sides. */
export const roundStep = (edge: Pick<RoundEdge, 'radius' | 'side'>, cutter: number, cusp: number): number => {
  const out = edge.side === 'outside';
  const r = edge.radius;
  const a = out ? r + cutter : r - cutter;
  if (a < 1e-9) return FULL;
  const crest = out ? r + cusp : r - cusp;
  // Circles of neighbouring stops only touch at this turn; wider apart they leave a web between them.
  const touching = a > cutter ? 2 * Math.asin(cutter / a) : FULL;
  const highest = a > cutter ? Math.sqrt(a * a - cutter * cutter) : -a + cutter;
  if (out ? crest >= highest : crest <= highest) return touching;
  // By the quarter angle, which stays exact for low cusps where a cosine would be all but one.
  return 4 * Math.asin(Math.sqrt((cusp * (2 * cutter - cusp)) / (4 * a * crest)));
};

/** Height of the cusp between stops `step` apart along a straight edge, mm: c − √(c² − (s/2)²), the chord's height. */
export const straightCusp = (cutter: number, step: number): number =>
  cutter - Math.sqrt(cutter * cutter - (step / 2) ** 2);

/** The greatest step along a straight edge (mm) whose cusps are no higher: 2 √(2 c h − h²). */
export const straightStep = (cutter: number, cusp: number): number => {
  const h = Math.min(cusp, cutter);
  return 2 * Math.sqrt(2 * cutter * h - h * h);
};

/** Cutter-centre stops round an edge for a cutter of this diameter, mm; both ends of the edge are stops. */
export const nibbleRound = (
  edge: RoundEdge,
  diameter: number,
  choice: NibbleChoice,
  unit: Unit = 'mm',
): Nibbling => {
  const cutter = diameter / 2;
  const fault = roundFault(edge, diameter, unit);
  if (fault !== null) return { ok: false, findings: [fault] };
  const out = edge.side === 'outside';
  const r = out ? edge.radius + cutter : edge.radius - cutter;
  const turn = Math.sign(edge.sweep);
  return shareOut(
    {
      length: Math.abs(edge.sweep),
      closed: Math.abs(edge.sweep) > FULL - 1e-9,
      cusp: (step) => roundCusp(edge, cutter, step),
      step: (cusp) => roundStep(edge, cutter, cusp),
      at: (along) => polar(edge.centre, r, edge.from + turn * along),
      way: (from, to) => (out ? roundWay(edge.centre, r, from, to) : insideWay(edge.centre, from, to)),
    },
    choice,
  );
};

/** Cutter-centre stops along a straight edge that lies aslant to both slides, mm: a stepped table with its scallops. */
export const nibbleStraight = (edge: StraightEdge, diameter: number, choice: NibbleChoice): Nibbling => {
  const cutter = diameter / 2;
  if (!(cutter > 0 && Number.isFinite(cutter))) return refused('nibble-cutter', 'A cutter needs a diameter.');
  const length = distance(edge.from, edge.to);
  if (!(length > 1e-9 && Number.isFinite(length))) {
    return refused('nibble-edge', 'An edge without length has no stops.');
  }
  const along = unit(subtract(edge.to, edge.from));
  const away = edge.clear === 'left' ? leftOf(along) : scale(leftOf(along), -1);
  return shareOut(
    {
      length,
      closed: false,
      cusp: (step) => straightCusp(cutter, step),
      step: (cusp) => straightStep(cutter, cusp),
      at: (t) => ({
        x: edge.from.x + along.x * t + away.x * cutter,
        y: edge.from.y + along.y * t + away.y * cutter,
      }),
      // The first handwheel is the one that draws the cutter off the edge, or slides along it.
      way: (from, to) => (dot({ x: to.x - from.x, y: 0 }, away) >= -1e-12 ? 'x first' : 'y first'),
    },
    choice,
  );
};

/** The counts of stops that keep the cusp under each wanted height, rising in stops: to choose from. */
export const nibbleChoices = (
  nibble: (choice: NibbleChoice) => Nibbling,
  heights: readonly number[],
): readonly { readonly wanted: number; readonly stops: number; readonly cusp: number }[] =>
  [...heights]
    .sort((a, b) => b - a)
    .flatMap((wanted) => {
      const made = nibble({ kind: 'cusp', height: wanted });
      return made.ok ? [{ wanted, stops: made.table.stops.length, cusp: made.table.cusp }] : [];
    });

const refused = (code: string, message: string): Nibbling => ({
  ok: false,
  findings: [{ code, severity: 'error', message }],
});

/** What keeps a cutter from going round an edge at all; null where nothing does. */
export const roundFault = (edge: RoundEdge, diameter: number, unit: Unit): Finding | null => {
  const fault = (code: string, message: string): Finding => ({ code, severity: 'error', message });
  if (!(diameter > 0 && Number.isFinite(diameter)))
    return fault('nibble-cutter', 'A cutter needs a diameter.');
  if (!(edge.radius > 0 && Number.isFinite(edge.radius + edge.centre.x + edge.centre.y))) {
    return fault('nibble-edge', 'A round edge needs a centre and a radius greater than nothing.');
  }
  const turn = Math.abs(edge.sweep);
  if (!(turn > 1e-9 && turn <= FULL + 1e-9 && Number.isFinite(edge.from))) {
    return fault('nibble-edge', 'A round edge needs a turn greater than nothing, at most once round.');
  }
  if (edge.side === 'inside' && diameter / 2 > edge.radius + 1e-9) {
    return fault(
      'nibble-cutter',
      `A ${lengthText(diameter, unit)} cutter does not go into an inside radius of ${lengthText(edge.radius, unit)}: take one of ${lengthText(2 * edge.radius, unit)} or less.`,
    );
  }
  return null;
};

const shareOut = (track: Track, choice: NibbleChoice): Nibbling => {
  const { length, closed } = track;
  const count = choice.kind === 'cusp' ? stepsFor(track, choice.height) : choice.count - (closed ? 0 : 1);
  if (count === null)
    return refused('nibble-cusp', 'A cusp must be higher than nothing: smaller cusps take more stops.');
  const stops = count + (closed ? 0 : 1);
  if (!(count >= 1 && (Number.isInteger(count) || count === Number.POSITIVE_INFINITY))) {
    return refused('nibble-stops', 'An edge takes two stops or more, in whole numbers; a full circle one.');
  }
  if (stops > MOST_STOPS) {
    return refused(
      'nibble-stops',
      `That would take ${Number.isFinite(stops) ? stops : 'endless'} stops, more than the ${MOST_STOPS} a hand can be asked for: allow a higher cusp or take a larger cutter.`,
    );
  }
  const step = length / count;
  const cusp = track.cusp(step);
  if (!Number.isFinite(cusp)) {
    const least = Math.ceil(length / track.step(Number.POSITIVE_INFINITY) - 1e-9) + (closed ? 0 : 1);
    return refused(
      'nibble-gap',
      `${stops} stops leave metal standing between them, for the cutter does not reach from one to the next: take ${least} or more.`,
    );
  }
  const places = Array.from({ length: stops }, (_, i) => track.at(i === count ? length : i * step));
  const table: NibbleTable = {
    stops: places.map((at, i) => ({
      number: i + 1,
      at,
      way: i === 0 ? 'start' : track.way(places[i - 1]!, at),
    })),
    cusp,
    step,
  };
  return { ok: true, table, findings: [] };
};

/** Steps for a wanted cusp; null for a cusp that is none. */
const stepsFor = (track: Track, height: number): number | null => {
  if (!(height > 0 && Number.isFinite(height))) return null;
  return Math.max(1, Math.ceil(track.length / track.step(height) - 1e-9));
};

/** Round an outside edge: the corner between two moves must lie off the circle, and so must all of both moves. */
const roundWay = (centre: Point, r: number, from: Point, to: Point): NibbleWay => {
  const [a, b] = [subtract(from, centre), subtract(to, centre)];
  const clear = (corner: Point): boolean => offLine(a, corner) >= r - 1e-9 && offLine(corner, b) >= r - 1e-9;
  if (clear({ x: b.x, y: a.y })) return 'x first';
  if (clear({ x: a.x, y: b.y })) return 'y first';
  // Over the top of the circle neither goes round it.
  return 'back off';
};

/** The least distance of a straight move from the middle. */
const offLine = (p: Point, q: Point): number => {
  const d = subtract(q, p);
  const l2 = dot(d, d);
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, -dot(p, d) / l2));
  return Math.hypot(p.x + d.x * t, p.y + d.y * t);
};

/** Inside a circle the corner nearer the middle serves always: moves between places within stay within. */
const insideWay = (centre: Point, from: Point, to: Point): NibbleWay =>
  distance({ x: to.x, y: from.y }, centre) <= distance({ x: from.x, y: to.y }, centre)
    ? 'x first'
    : 'y first';
