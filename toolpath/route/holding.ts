import type { Part } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { JAW_CLEARANCE } from './clearances.ts';
import type { ViceHold } from './route.ts';

/** Share of the bar's thickness to hold where the cutter works out to the sides. Common practice, no source. */
export const GRIP_SHARE = 0.35;
/** Room between the jaws' clearance and a thin body's floor, mm. */
const ABOVE_JAWS = 0.2;

/** No less than this is called a grip, mm. */
const LEAST_GRIP = 0.3;

/** Room between a drill and a parallel beside it, mm. */
const BESIDE_A_DRILL = 0.5;

/**
 * The vice closed on the bar's sides; the grip follows from the parallels owned where one is near enough.
 * `floor` is the height above the bar's underside of the lowest floor that is cut out to the sides, mm.
 */
export const gripOnBar = (part: Part, profile: MachineProfile, share: number, floor: number): ViceHold => {
  const { bar } = part;
  const most = Math.max(LEAST_GRIP, floor - JAW_CLEARANCE - ABOVE_JAWS);
  const wished = Math.min(6, most, Math.max(1, bar.thickness * share));
  const owned = profile.parallels
    .map((p) => profile.vice.jawHeight - p.height)
    .filter((grip) => grip >= wished * 0.7 && grip <= Math.min(most, wished * 1.3));
  const grip =
    owned.length > 0 ? owned.reduce((a, b) => (near(b, wished) < near(a, wished) ? b : a)) : wished;
  return hold(part, profile, tenth(grip), "the bar's own sides");
};

const near = (a: number, b: number): number => Math.abs(a - b);
const tenth = (mm: number): number => Math.floor(mm * 10 + 1e-6) / 10;

/**
 * After turning over: as much as leaves the jaws clear of the lowest floor that is cut in this setup.
 * `floor` is that floor's height above the work's underside, mm.
 */
export const gripTurnedOver = (part: Part, profile: MachineProfile, floor: number): ViceHold => {
  const most = floor - JAW_CLEARANCE - ABOVE_JAWS;
  const grip = Math.max(LEAST_GRIP, Math.min(part.bar.thickness * GRIP_SHARE, most));
  return hold(part, profile, tenth(grip), 'the finished sides');
};

const hold = (part: Part, profile: MachineProfile, grip: number, gripped: string): ViceHold => {
  const { bar } = part;
  const middle = bar.corner.x + bar.length / 2;
  const thin = [...profile.parallels].sort((a, b) => a.thickness - b.thickness)[0];
  const thickness = Math.min(thin?.thickness ?? 3, bar.width / 4);
  return {
    kind: 'vice',
    jaws: { from: middle - profile.vice.jawWidth / 2, to: middle + profile.vice.jawWidth / 2 },
    grip,
    parallels: { height: profile.vice.jawHeight - grip, thickness, offset: clearOfHoles(part, thickness) },
    gripped,
  };
};

/** Parallels are shifted inward by such steps until no drill comes down on them, mm. */
const SHIFT = 0.5;

/** How far from the bar's middle the parallels stand: as far out as no through hole is over either. */
const clearOfHoles = (part: Part, thickness: number): number => {
  const { bar } = part;
  const outermost = bar.width / 2 - thickness / 2;
  const middle = bar.corner.y + bar.width / 2;
  const through = part.holes.filter((h) => h.depth === null);
  const isClear = (offset: number): boolean =>
    through.every(
      (h) => near(Math.abs(h.centre.y - middle), offset) >= (thickness + h.diameter) / 2 + BESIDE_A_DRILL,
    );
  for (let offset = outermost; offset >= thickness / 2; offset -= SHIFT) if (isClear(offset)) return offset;
  return outermost;
};
