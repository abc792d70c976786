import type { Finding, Unit } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { type RoundEdge, roundFault } from './nibble.ts';

/** Slides, as the operator stands: the cutter's place from the table's centre, X to the right and Y away. */
export type Toward = '+X' | '-X' | '+Y' | '-Y';

/** A rotary table and how the cutter stands to it. Radians, mm/min. */
export interface RotaryMount {
  /** Where the cutter stands, seen from the table's centre. */
  readonly toward: Toward;
  /** The way the work turns as the table's figures rise, seen from above. */
  readonly figuresRise: 'clockwise' | 'anticlockwise';
  /** Figure of the table when the work's X axis lies along the machine's. */
  readonly zero: number;
  /** Turns of its handwheel for one turn of the table. */
  readonly ratio: number;
  /** Lost motion of its worm. */
  readonly backlash: number;
  /** Conventional, against the cutter's teeth, on a table with lost motion; climbing only without. */
  readonly cut: 'conventional' | 'climb';
}

/** One sweep of the work under the cutter. */
export interface RotaryPass {
  /** What is left standing on the radius, mm. */
  readonly leave: number;
  /** Cutter's centre from the table's centre along `toward`, signed as the readout shows it, mm. */
  readonly offset: number;
  /** Feed of the table, radians/min; one turn of its handwheel, seconds; the sweep, seconds. */
  readonly feed: number;
  readonly secondsPerTurn: number;
  readonly seconds: number;
}

export interface RotaryTable {
  /** The place of the work to bring over the table's centre, part coordinates, mm. */
  readonly centre: Point;
  readonly axis: 'X' | 'Y';
  /** The way the work turns while cutting, seen from above, and whether the table's figures then rise. */
  readonly turn: 'clockwise' | 'anticlockwise';
  readonly figures: 'rise' | 'fall';
  /** Figures of the table, radians from 0 to a full turn: take up slack from `before`, cut from `start` to `stop`. */
  readonly before: number;
  readonly start: number;
  readonly stop: number;
  /** How far the work turns, radians, and the turns of the handwheel for it. */
  readonly sweep: number;
  readonly handTurns: number;
  readonly passes: readonly RotaryPass[];
}

export type Rotary =
  | { readonly ok: true; readonly table: RotaryTable; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

const FULL = 2 * Math.PI;
const TOWARD: Readonly<
  Record<Toward, { readonly angle: number; readonly axis: 'X' | 'Y'; readonly sign: 1 | -1 }>
> = {
  '+X': { angle: 0, axis: 'X', sign: 1 },
  '+Y': { angle: Math.PI / 2, axis: 'Y', sign: 1 },
  '-X': { angle: Math.PI, axis: 'X', sign: -1 },
  '-Y': { angle: -Math.PI / 2, axis: 'Y', sign: -1 },
};

/**
 * A round edge on a rotary table. The edge's centre stands over the table's, the cutter (diameter in mm, turning
 * clockwise seen from above as right-hand cutters do) stands still to one side, and the work turns under it from one
 * end of the edge to the other; beyond those it would cut into what joins the edge. `leaves` is what each pass leaves
 * on the radius (mm, falling to 0 for the last); `feed` is the cutter's feed in mm/min, kept where edge and cutter
 * centre meet it fastest.
 *
 * Conventional is anticlockwise round an outside edge, clockwise round an inside one, as the cutter goes; the work
 * turns the other way (any machinist's handbook).
 */
export const rotaryTable = (
  edge: RoundEdge,
  diameter: number,
  mount: RotaryMount,
  leaves: readonly number[],
  feed: number,
  unit: Unit = 'mm',
): Rotary => {
  const fault =
    roundFault(edge, diameter, unit) ?? mountFault(mount, leaves, feed) ?? leaveFault(edge, diameter, leaves);
  if (fault !== null) return { ok: false, findings: [fault] };
  const { angle, axis, sign } = TOWARD[mount.toward];
  const out = edge.side === 'outside';
  const sweep = Math.min(FULL, Math.abs(edge.sweep));
  // The cutter's way round the work, and with it which end of the edge comes first.
  const anticlockwise = out === (mount.cut === 'conventional');
  const [low, high] = edge.sweep > 0 ? [edge.from, edge.from + sweep] : [edge.from - sweep, edge.from];
  const [first, last] = anticlockwise ? [low, high] : [high, low];
  const rise = mount.figuresRise === 'anticlockwise' ? 1 : -1;
  // Work turned anticlockwise by ρ brings its direction α to α + ρ; it must come under the cutter.
  const figureAt = (direction: number): number => wrapped(mount.zero + rise * (angle - direction));
  const turn = anticlockwise ? 'clockwise' : 'anticlockwise';
  const rising = turn === mount.figuresRise;
  const slack = mount.backlash > 0 ? mount.backlash + FULL / mount.ratio / 4 : 0;
  const start = figureAt(first);
  const passes = leaves.map((leave): RotaryPass => {
    const wall = out ? edge.radius + leave : edge.radius - leave;
    const centre = out ? wall + diameter / 2 : wall - diameter / 2;
    const rate = feed / Math.max(wall, centre);
    return {
      leave,
      offset: sign * centre + 0,
      feed: rate,
      secondsPerTurn: (FULL / mount.ratio / rate) * 60,
      seconds: (sweep / rate) * 60,
    };
  });
  const table: RotaryTable = {
    centre: edge.centre,
    axis,
    turn,
    figures: rising ? 'rise' : 'fall',
    before: wrapped(start + (rising ? -slack : slack)),
    start,
    stop: figureAt(last),
    sweep,
    handTurns: (sweep / FULL) * mount.ratio,
    passes,
  };
  return { ok: true, table, findings: climbing(mount) };
};

/** A figure of the table between nought and a full turn; what is all but a full turn is nought. */
const wrapped = (angle: number): number => {
  const turn = ((angle % FULL) + FULL) % FULL;
  return FULL - turn < 1e-9 ? 0 : turn;
};

const error = (code: string, message: string): Finding => ({ code, severity: 'error', message });

const mountFault = (mount: RotaryMount, leaves: readonly number[], feed: number): Finding | null => {
  if (!(mount.ratio >= 1 && mount.ratio <= 360)) {
    return error('rotary-ratio', 'A rotary table turns once for 1 to 360 turns of its handwheel.');
  }
  if (!(mount.backlash >= 0 && mount.backlash < Math.PI / 18)) {
    return error('rotary-backlash', 'Backlash of a rotary table must be nothing or more, and less than 10°.');
  }
  if (!Number.isFinite(mount.zero))
    return error('rotary-zero', 'The table needs its figure with the work square.');
  if (!(feed > 0 && Number.isFinite(feed)))
    return error('rotary-feed', 'A pass needs a feed greater than nothing.');
  if (leaves.length === 0 || !leaves.every((l) => l >= 0 && Number.isFinite(l))) {
    return error('rotary-leave', 'Every pass must say what it leaves on the radius: nothing or more.');
  }
  return null;
};

const leaveFault = (edge: RoundEdge, diameter: number, leaves: readonly number[]): Finding | null =>
  edge.side === 'inside' && Math.max(...leaves) > edge.radius - diameter / 2 + 1e-9
    ? error('rotary-leave', 'A pass leaves so much on the inside radius that the cutter has no room in it.')
    : null;

const climbing = (mount: RotaryMount): readonly Finding[] =>
  mount.cut === 'climb' && mount.backlash > 0
    ? [
        {
          code: 'rotary-climb',
          severity: 'warning',
          message:
            'Climbing on a table with lost motion, the cutter can snatch the work round: cut conventionally.',
        },
      ]
    : [];
