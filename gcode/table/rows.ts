import type { Unit } from '../../sketch/part/part.ts';
import { distance, type Point, type Point3 } from '../../sketch/shape/point.ts';
import type { Move, Pass, PassKind, Plan, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { figure } from './figures.ts';

/** How the cutter comes to a row's place from the row before. */
export type Coming =
  /** Lifted clear, across, and down gently. */
  | 'enter'
  | 'straight'
  /** By one handwheel, then by the other: the corner between keeps the cutter off the wall. */
  | 'x first'
  | 'y first'
  /** Straight down where it stands. */
  | 'plunge'
  /** Straight along while going down. */
  | 'ramp'
  /** Round a centre, perhaps while going down. */
  | 'arc'
  /** Lifted clear, across, drilled, and back out. */
  | 'drill'
  /** Stopped, for work by hand. */
  | 'stop';

/** One place of the cutter's centre and tip in a setup's program coordinates, mm. */
export interface TableRow {
  readonly setup: number;
  readonly step: string;
  /** Within the job step, from 1. */
  readonly pass: number;
  readonly kind: PassKind;
  readonly coming: Coming;
  readonly at: Point3;
  /** On the first row of a pass, what kind it is and what web it leaves; empty on the others. */
  readonly about: string;
  /** What a hand needs to know besides the place, lengths in the part's unit; may be empty. */
  readonly note: string;
  /** The centre and the way of an arc, program coordinates; null for all else. */
  readonly round: { readonly centre: Point; readonly clockwise: boolean } | null;
  /** The cutter's number, its turns/min, and the feed on the way here, mm/min. */
  readonly tool: number;
  readonly speed: number;
  readonly feed: number;
}

/** Places nearer than this are one place, mm. */
const SAME_PLACE = 1e-6;

/** Every place a hand operator must set, setup after setup. Rapids are told by the place they lead to. */
export const tableRows = (plan: Plan, unit: Unit): readonly TableRow[] =>
  plan.setups.flatMap((setup) => setupRows(setup, unit));

export const setupRows = (setup: PlannedSetup, unit: Unit): readonly TableRow[] =>
  setup.steps.flatMap((step) =>
    step.passes.flatMap((pass, index) =>
      passRows(pass, step, unit, endOf(step.passes[index - 1])).map((row, i) => ({
        setup: setup.setup.number,
        step: step.step.name,
        pass: index + 1,
        kind: pass.kind,
        ...row,
        about: i === 0 ? passNote(pass, unit) : '',
        tool: step.cutter.number,
        speed: step.speed,
      })),
    ),
  );

const PASS_WORDS: Readonly<Record<PassKind, string>> = {
  rough: 'rough',
  finish: 'finish',
  release: 'release, light',
};

const passNote = (pass: Pass, unit: Unit): string =>
  pass.web === null || pass.web < SAME_PLACE
    ? PASS_WORDS[pass.kind]
    : `${PASS_WORDS[pass.kind]}, web ${figure(pass.web, unit)} stays`;

type Row = Pick<TableRow, 'coming' | 'at' | 'note' | 'feed' | 'round'>;

/** Where a pass leaves the cutter; null where that is not told by its last move. */
const endOf = (pass: Pass | undefined): Point3 | null => {
  const last = pass?.moves.at(-1);
  return last && 'to' in last ? last.to : null;
};

/** `start`: where the pass before left the cutter. A pass that goes on from there is told for itself none the less. */
const passRows = (pass: Pass, step: PlannedStep, unit: Unit, start: Point3 | null): readonly Row[] => {
  const rows: Row[] = [];
  let here: Point3 | null = start;
  /** Whether the cutter has come here without a row that tells of it. */
  let arriving = start !== null;
  const add = (
    coming: Coming,
    at: Point3,
    note: string,
    feed: number,
    round: TableRow['round'] = null,
  ): void => {
    rows.push({ coming, at, note, feed, round });
    here = at;
    arriving = false;
  };
  const enter = (at: Point3): void => add('enter', at, 'lift clear, across, down gently', step.plungeFeed);
  for (const move of pass.moves) {
    switch (move.kind) {
      case 'rapid':
        here = move.to;
        arriving = true;
        break;
      case 'feed': {
        const from: Point3 = here ?? move.to;
        const stays = distance(from, move.to) < SAME_PLACE;
        if (arriving && stays) {
          enter(move.to);
          break;
        }
        if (arriving) enter(from);
        add(...straightRow(from, move.to), move.feed);
        break;
      }
      case 'arc': {
        const from: Point3 = here ?? move.to;
        if (arriving) enter(from);
        add('arc', move.to, arcNote(from, move, unit), move.feed, {
          centre: move.centre,
          clockwise: move.clockwise,
        });
        break;
      }
      case 'drill':
        add('drill', { ...move.at, z: move.depth }, drillNote(step, move, unit), move.feed);
        break;
      case 'stop':
        add('stop', here ?? { x: 0, y: 0, z: pass.z }, `stop the spindle: ${move.message}`, 0);
        break;
    }
  }
  return rows;
};

const straightRow = (from: Point3, to: Point3): [Coming, Point3, string] => {
  const falls = to.z < from.z - SAME_PLACE;
  const rises = to.z > from.z + SAME_PLACE;
  if (distance(from, to) < SAME_PLACE) return ['plunge', to, falls ? 'straight down' : 'straight up'];
  if (falls || rises) return ['ramp', to, falls ? 'ramp down on the way' : 'ramp up on the way'];
  if (Math.abs(to.y - from.y) < SAME_PLACE) return ['straight', to, 'along X'];
  if (Math.abs(to.x - from.x) < SAME_PLACE) return ['straight', to, 'along Y'];
  return ['straight', to, 'aslant, both handwheels'];
};

const arcNote = (from: Point3, move: Extract<Move, { kind: 'arc' }>, unit: Unit): string => {
  const way = move.clockwise ? 'clockwise' : 'anticlockwise';
  const whole = distance(from, move.to) < SAME_PLACE ? 'full circle' : 'arc';
  const helix = move.to.z < from.z - SAME_PLACE ? ', going down on the way' : '';
  return `${whole} ${way} round ${place(move.centre, unit)}, cutter centre at radius ${figure(distance(move.to, move.centre), unit)}${helix}`;
};

const place = (p: Point, unit: Unit): string => `X ${figure(p.x, unit)} Y ${figure(p.y, unit)}`;

const drillNote = (step: PlannedStep, move: Extract<Move, { kind: 'drill' }>, unit: Unit): string => {
  const dwell = move.dwell > 0 ? `, wait ${move.dwell} s at the bottom` : '';
  switch (step.step.kind) {
    case 'spot':
      return `spot${dwell}`;
    case 'ream':
      return `ream in one go${dwell}; draw out with the spindle turning`;
    default:
      return move.peck > 0
        ? `drill, withdraw every ${figure(move.peck, unit)} to clear chips`
        : `drill in one go${dwell}`;
  }
};
