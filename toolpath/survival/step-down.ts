import type { Unit } from '../../sketch/part/part.ts';
import { lengthText, mmPer } from '../../sketch/part/units.ts';
import { DEEPEST_PASS } from '../route/choose.ts';
import type { RouteDocument } from '../route/document.ts';
import type { JobStep } from '../route/route.ts';
import type { Assessment, Subject } from './assess.ts';
import type { PassSurvival } from './pass-survival.ts';
import { spindlePower } from './spindle-power.ts';
import { USUAL_LIMITS } from './verdict.ts';

/** A step-down to be changed, mm, and what has to go with it. */
export interface StepDown {
  readonly step: string;
  readonly from: number;
  readonly to: number;
  /** What asks for it: the work's movement, the cutter's strain, the spindle's power or the hold; or there is room to spare. */
  readonly because: Because;
  /** Passes that fall with the depth, where the work gets softer as it is cut. */
  readonly levels?: { readonly kind: 'falling'; readonly share: number };
  /** What is left for the finishing pass, mm, where it would be more than a pass. */
  readonly floorAllowance?: number;
  /** What is left on the walls for a lighter finishing lap, mm, and how far off it left them with more. */
  readonly wall?: { readonly from: number; readonly to: number; readonly error: number };
}

/** What is aimed at, as a share of what is allowed: estimates and whole numbers of passes want some room. */
const AIM = 0.9;
export type Because = 'movement' | 'wall' | 'floor' | 'strain' | 'power' | 'hold' | 'room';
/** A job step that no step-down makes still enough, and the one it would need, mm; null where its finishing lap alone is too much. */
export interface Hopeless {
  readonly step: string;
  readonly movement: number;
  readonly place: string | null;
  readonly needed: number | null;
  /** The work moves too far, or the cutter's bending leaves the finished walls too far off. */
  readonly what: 'movement' | 'wall';
}

/** No step-down is made smaller than this, mm: a cutter that only rubs makes heat. Common practice, no source. */
export const LEAST_STEP_DOWN = 0.1;
/** Nor is a finishing pass on the floor made lighter than this, mm. Common practice, no source. */
const LEAST_FINISH = 0.05;
/** Nor is a finishing lap along walls, mm; and roughing bends the cutter by less than what it leaves for that. Common practice, no source. */
const LEAST_LAP = 0.05;
const BEYOND_BEND = 1.5;
/** Depths nearer than this are one, mm: a cell's rounding. */
const SAME_DEPTH = 0.02;
/** A change of less is no reason to change. */
const WORTH = 0.05;
/** The first of falling passes may be this many times as deep as the last (`passLevels`), and is worth it from here on. */
const MOST_FALL = 4;
const LEAST_FALL = 1.5;

/**
 * The largest step-down of each milling step. Movement, strain and power go with the depth of a pass as near as makes no
 * odds, so the step-down is changed in their ratio. It is made deeper only as far as small machines bear, and as the
 * cutter's own give stays under the tolerance as well; releasing passes are never made deeper.
 */
export const stepDowns = (
  { part, profile }: Subject,
  now: Assessment,
  own: RouteDocument,
  tolerance: number,
): {
  readonly changes: readonly StepDown[];
  readonly kept: readonly string[];
  readonly hopeless: readonly Hopeless[];
} => {
  const changes: StepDown[] = [];
  const hopeless: Hopeless[] = [];
  const kept: string[] = [];
  for (const step of now.route.setups.flatMap((s) => s.steps)) {
    const from = stepDownOf(step);
    const passes = now.passes.filter((p) => p.force.step === step.name && p.movement !== null);
    // What finishes a wall goes by its allowance and not by the step-down: nothing here makes it lighter.
    const rough = passes.filter((p) => p.force.kind !== 'finish');
    if (from === null || passes.length === 0) continue;
    // Where roughing finds nothing to cut, its step-down stays as it is.
    const { room, because, pass: worst } = leastRoom(rough, profile, tolerance) ?? noWork(passes[0]!);
    const bend = rough.reduce((most, p) => Math.max(most, p.cutter.bend), 0);
    const most = Math.max(from, Math.min(DEEPEST_PASS, part.bar.thickness));
    const deeper = step.kind === 'release' ? 1 : Math.min(AIM * room, (AIM * tolerance) / bend, most / from);
    const ratio = room < 1 ? AIM * room : Math.max(1, deeper);
    const lap = passes.filter((p) => p.force.kind === 'finish' && !isLight(step, p));
    const lapped = lap.find((p) => p.movement! > tolerance);
    if (lapped !== undefined) {
      hopeless.push({
        step: step.name,
        movement: lapped.movement!,
        place: placeOf(lapped),
        needed: null,
        what: 'movement',
      });
      continue;
    }
    if (room < 1 && from * ratio < LEAST_STEP_DOWN && because === 'movement') {
      const needed = from * ratio;
      hopeless.push({
        step: step.name,
        movement: worst.movement ?? 0,
        place: placeOf(worst),
        needed,
        what: 'movement',
      });
      continue;
    }
    const to = Number.isFinite(ratio) ? Math.max(LEAST_STEP_DOWN, setDown(from * ratio, part.unit)) : from;
    const floor = lighterFloor(step, passes, to, tolerance, part.unit);
    const said = own.adjust?.[step.name];
    const lighter =
      said?.wallAllowance === undefined ? lighterWall(step, passes, bend, tolerance, part.unit) : null;
    if (lighter !== null && lighter.to === null) {
      const { error: movement, place } = lighter;
      hopeless.push({ step: step.name, movement, place, needed: null, what: 'wall' });
    }
    const wall = lighter !== null && lighter.to !== null ? { ...lighter, to: lighter.to } : null;
    const same = Math.abs(to / from - 1) < WORTH;
    if (same && floor === null && wall === null) continue;
    if (said?.stepDown !== undefined && !same) {
      kept.push(
        `the step-down of ${step.name}, ${lengthText(from, part.unit)} (about ${lengthText(to, part.unit)} would do)`,
      );
      continue;
    }
    const free = said?.levels === undefined && 'levels' in step && step.levels.kind === 'equal';
    const falls = free ? falling(rough, from, to, profile, tolerance, part.unit) : null;
    const floorAllowance =
      floor !== null && said?.floorAllowance === undefined ? { floorAllowance: floor } : {};
    changes.push({
      step: step.name,
      from,
      to,
      because: room < 1 || to < from ? because : 'room',
      ...falls,
      ...floorAllowance,
      ...(wall && { wall: { from: wall.from, to: wall.to, error: wall.error } }),
    });
  }
  return { changes, kept, hopeless };
};

/** A depth as a hand sets it and no deeper: hundredths of a mm, or half thousandths of an inch. */
export const setDown = (mm: number, unit: Unit): number => {
  const least = unit === 'mm' ? 0.01 : 0.0005 * mmPer(unit);
  return Number((least * Math.floor(mm / least + 1e-9)).toFixed(6));
};

const placeOf = ({ bending, movement }: PassSurvival): string | null =>
  bending.find((b) => b.movement === movement)?.name ?? null;

/** Whether a pass only takes off what was left on a floor: judged where the work gives most, for beside a wall cells mislead. */
const isLight = (step: JobStep, { force, bending }: PassSurvival): boolean =>
  force.kind === 'finish' &&
  'floorAllowance' in step &&
  bending.slice(0, 1).every((b) => b.place.depth < step.floorAllowance + SAME_DEPTH);

/** A lighter finishing pass on the floor, mm: no more than a pass, and no more than the work bears; null for none. */
const lighterFloor = (
  step: JobStep,
  passes: readonly PassSurvival[],
  to: number,
  tolerance: number,
  unit: Unit,
): number | null => {
  if (!('floorAllowance' in step) || step.floorAllowance <= 0) return null;
  const light = passes.filter((p) => isLight(step, p));
  const movement = light.reduce((most, p) => Math.max(most, p.movement ?? 0), 0);
  const bears =
    movement > tolerance ? (step.floorAllowance * AIM * tolerance) / movement : step.floorAllowance;
  const wanted = setDown(Math.min(bears, to), unit);
  return wanted < step.floorAllowance ? Math.max(LEAST_FINISH, wanted) : null;
};

/**
 * A lighter finishing lap along walls that the one there is leaves too far off: what it takes and the cutter's bending go
 * together as near as makes no odds. Null where nothing is amiss; `to` is null where it would have to be too light.
 */
const lighterWall = (
  step: JobStep,
  passes: readonly PassSurvival[],
  bend: number,
  tolerance: number,
  unit: Unit,
): {
  readonly from: number;
  readonly to: number | null;
  readonly error: number;
  readonly place: string | null;
} | null => {
  if (!('wallAllowance' in step) || step.wallAllowance <= 0) return null;
  const laps = passes
    .filter((p) => p.force.kind === 'finish')
    .flatMap((p) => p.bending.filter((b) => b.finishes.wall));
  const worst = laps.reduce<(typeof laps)[number] | null>(
    (most, b) => (b.error.wall > (most?.error.wall ?? 0) ? b : most),
    null,
  );
  if (worst === null || worst.error.wall <= tolerance) return null;
  const { wall: error } = worst.error;
  const to = setDown((step.wallAllowance * AIM * tolerance) / error, unit);
  const least = Math.max(LEAST_LAP, BEYOND_BEND * bend);
  return { from: step.wallAllowance, to: to < least ? null : to, error, place: worst.name };
};

interface Room {
  /** How many times over a pass could be as deep. */
  readonly room: number;
  readonly because: Because;
  readonly pass: PassSurvival;
}

const leastRoom = (
  passes: readonly PassSurvival[],
  profile: Subject['profile'],
  tolerance: number,
): Room | null =>
  passes
    .map((p) => roomOf(p, profile, tolerance))
    .reduce<Room | null>((least, own) => (least !== null && least.room <= own.room ? least : own), null);

const noWork = (pass: PassSurvival): Room => ({ room: 1, because: 'room', pass });

const roomOf = (pass: PassSurvival, profile: Subject['profile'], tolerance: number): Room => {
  const all: readonly (readonly [Because, number])[] = [
    ['movement', tolerance / pass.movement!],
    // Only where it stays: what is left for a finishing pass may be off.
    ['wall', pass.finishes.wall ? tolerance / (pass.error?.wall ?? 0) : Number.POSITIVE_INFINITY],
    ['floor', pass.finishes.floor ? tolerance / (pass.error?.floor ?? 0) : Number.POSITIVE_INFINITY],
    ['strain', USUAL_LIMITS.stress / pass.cutter.stress],
    ['power', spindlePower(profile.spindle, pass.speed) / pass.force.power],
    ['hold', (pass.hold?.least ?? Number.POSITIVE_INFINITY) / USUAL_LIMITS.hold],
  ];
  return all.reduce<Room>((least, [because, room]) => (room < least.room ? { room, because, pass } : least), {
    room: Number.POSITIVE_INFINITY,
    because: 'movement',
    pass,
  });
};

/**
 * Falling passes for work that gets softer on the way: as deep at first as the first pass allows, and down to `to`.
 * Geometric passes get thinner evenly over the depth, by (first − last) / depth each.
 */
const falling = (
  passes: readonly PassSurvival[],
  from: number,
  to: number,
  profile: Subject['profile'],
  tolerance: number,
  unit: Unit,
): Pick<StepDown, 'to' | 'levels'> | null => {
  const [first] = passes;
  if (first === undefined || to >= from) return null;
  const allowed = AIM * from * roomOf(first, profile, tolerance).room;
  const start = setDown(Math.min(allowed, MOST_FALL * to, from), unit);
  if (start < LEAST_FALL * to) return null;
  const zs = passes.flatMap((p) => p.force.places.map((place) => place.at.z));
  const depth = from + zs.reduce((a, b) => Math.max(a, b), -1e9) - zs.reduce((a, b) => Math.min(a, b), 1e9);
  const share = Number(Math.max(0.5, 1 - (start - to) / depth).toFixed(3));
  return { to: start, levels: { kind: 'falling', share } };
};

const stepDownOf = (step: JobStep): number | null => ('stepDown' in step ? step.stepDown : null);
