import type { Finding } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { TABLE_SPAN } from './cutting-force.ts';
import type { PassSurvival } from './survival.ts';

/** What the work may do before it is a finding. */
export interface SurvivalLimits {
  /** Largest movement under the cutter, mm. */
  readonly movement: number;
  /** Least factor of the hold. */
  readonly hold: number;
  /** Greatest bending stress at the root of the flutes, MPa. */
  readonly stress: number;
}

/** High-speed steel breaks at about 2000 MPa or more; shocks and worn edges want a margin of four. Values from memory. */
export const USUAL_LIMITS: SurvivalLimits = { movement: 0.02, hold: 2, stress: 500 };

/** Assumptions that stand beside every figure. */
export const ASSUMPTIONS: readonly string[] = [
  'Every force, movement and factor is an estimate.',
  `Cutting forces follow Kienzle with a sharp cutter; tooth loads under ${TABLE_SPAN.from} mm lie beyond the tables and are carried on.`,
  'The work is taken as linear elastic, clamped where the jaws bear and carried by the parallels; the machine itself is taken as stiff.',
  'The vice is done up firmly by hand (about 8000 N), steel on steel, dry.',
];

/** What will not survive, with what would mend it; one finding for each job step and kind, at its worst pass. */
export const survivalFindings = (
  passes: readonly PassSurvival[],
  profile: MachineProfile,
  limits: SurvivalLimits = USUAL_LIMITS,
): readonly Finding[] => {
  const worst = new Map<string, { readonly amount: number; readonly finding: Finding }>();
  const say = (pass: PassSurvival, code: string, amount: number, message: string): void => {
    const step = stepOf(pass);
    const key = `${code}/${pass.force.setup}/${step}`;
    if ((worst.get(key)?.amount ?? Number.NEGATIVE_INFINITY) >= amount) return;
    const finding: Finding = { code, severity: 'warning', message, feature: step, setup: pass.force.setup };
    worst.set(key, { amount, finding });
  };
  for (const pass of passes) {
    const { force, movement, hold } = pass;
    if (movement !== null && movement > limits.movement) {
      const how =
        force.thrust > force.most
          ? 'a lower feed or support underneath'
          : 'shallower passes, a thicker web or a smaller cutter';
      say(
        pass,
        'work-moves',
        movement,
        `${force.label}: the work moves about ${movement.toFixed(3)} mm under the cutter, more than ${limits.movement} mm: try ${how}.`,
      );
    }
    if (hold !== null && hold.least < limits.hold) {
      say(
        pass,
        'weak-hold',
        -hold.least,
        `${force.label}: the hold bears about ${hold.least.toFixed(1)} times the force (${weakest(hold)}), less than ${limits.hold}: hold more of it, cut lighter, or pack it.`,
      );
    }
    if (pass.cutter.stress > limits.stress) {
      say(
        pass,
        'cutter-overloaded',
        pass.cutter.stress,
        `${force.label}: about ${force.most.toFixed(0)} N bends the cutter ${pass.cutter.bend.toFixed(2)} mm and strains it to about ${pass.cutter.stress.toFixed(0)} MPa: it may break. Cut shallower passes or take a stiffer cutter.`,
      );
    }
    if (force.power > profile.spindle.power) {
      say(
        pass,
        'beyond-power',
        force.power,
        `${force.label} asks about ${force.power.toFixed(0)} W of a spindle of ${profile.spindle.power} W: shallower passes or less feed.`,
      );
    }
    const loose = pass.loose.filter((volume) => volume > 5);
    if (loose.length > 0) {
      say(
        pass,
        'piece-loose',
        Math.max(...loose),
        `${force.label}: a piece of about ${Math.max(...loose).toFixed(0)} mm³ is loose by then and may be thrown.`,
      );
    }
  }
  return [...worst.values()].map((w) => w.finding);
};

const stepOf = (pass: PassSurvival): string => pass.force.label.replace(/, pass \d+$/, '');

const weakest = (hold: NonNullable<PassSurvival['hold']>): string => {
  if (hold.least === hold.slip) return 'it slips first';
  if (hold.least === hold.lift) return 'it lifts first';
  return hold.least === hold.tip ? 'it tips first' : 'it turns first';
};

/** One pass as it is written to a file: figures rounded to what they are worth, none that is not a number. */
export interface SurvivalRow {
  readonly setup: number;
  readonly pass: string;
  readonly force_N: number;
  readonly thrust_N: number;
  readonly torque_Nm: number;
  readonly power_W: number;
  readonly chip_mm: number;
  readonly movement_mm: number | null;
  readonly holdFactor: number | null;
  readonly cutterBend_mm: number;
  readonly cutterStress_MPa: number;
  readonly toothPassing_Hz: number;
}

export const survivalRows = (passes: readonly PassSurvival[]): readonly SurvivalRow[] =>
  passes.map(({ force, movement, hold, cutter, toothPassing }) => ({
    setup: force.setup,
    pass: force.label,
    force_N: Math.round(force.most),
    thrust_N: Math.round(force.thrust),
    torque_Nm: Number(force.torque.toFixed(3)),
    power_W: Math.round(force.power),
    chip_mm: Number(force.chip.toFixed(4)),
    movement_mm: movement === null ? null : Number(movement.toFixed(5)),
    holdFactor: hold === null || !Number.isFinite(hold.least) ? null : Number(hold.least.toFixed(2)),
    cutterBend_mm: Number(cutter.bend.toFixed(4)),
    cutterStress_MPa: Math.round(cutter.stress),
    toothPassing_Hz: Math.round(toothPassing),
  }));
