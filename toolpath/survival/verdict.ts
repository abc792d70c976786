import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText, mmPer, smallText, unitSign, volumeText } from '../../sketch/part/units.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { Route } from '../route/route.ts';
import { TABLE_SPAN } from './cutting-force.ts';
import type { PassSurvival, PlaceBending } from './pass-survival.ts';
import { spindlePower } from './spindle-power.ts';

/** What the work may do before it is a finding. */
export interface SurvivalLimits {
  /** Largest movement under the cutter, and largest error left on a finished wall or floor, mm. */
  readonly movement: number;
  /** Least factor of the hold. */
  readonly hold: number;
  /** Greatest bending stress at the root of the flutes, MPa. */
  readonly stress: number;
}

/** High-speed steel breaks at about 2000 MPa or more; shocks and worn edges want a margin of four. Values from memory. */
export const USUAL_LIMITS: SurvivalLimits = { movement: 0.02, hold: 2, stress: 500 };

/** The limits that a route is judged by: the usual, with its own tolerance where it states one. */
export const limitsOf = ({ tolerance }: Pick<Route, 'tolerance'>): SurvivalLimits =>
  tolerance === undefined ? USUAL_LIMITS : { ...USUAL_LIMITS, movement: tolerance };

/** What every estimate takes for granted; `machine-terms.ts` adds what goes by the machine at hand. */
export const usualAssumptions = (unit: Unit): readonly string[] => [
  'Every force, movement and factor is an estimate.',
  `Cutting forces follow Kienzle with a sharp cutter; tooth loads under ${lengthText(TABLE_SPAN.from, unit)} lie beyond the tables and are carried on.`,
  'The work is taken as linear elastic, clamped where the jaws bear, where it is glued or under the feet of clamps and screws, and carried by parallels or plate only where the tool presses down; the machine itself is taken as stiff.',
  'Movements and errors of floors are those of the worst moment of a turn, errors of walls those of the moments when a tooth leaves the wall, on the stock as the pass leaves it.',
];

/** Of more than this, mm, linear bending says no more than that the work gives way. Common practice, no source. */
export const BEYOND_BENDING = 1;

/** The same as a figure in the unit, rounded down: what is beyond the one is beyond the other. */
export const beyondFigure = (unit: Unit): string =>
  String(Math.floor((1000 * BEYOND_BENDING) / mmPer(unit)) / 1000);

/** A natural frequency nearer than this share to that of the teeth is near. Common practice, no source. */
const NEAR = 0.2;
/** A loose piece of less is swarf, mm³. */
const SWARF = 5;

/** What will not survive, with what would mend it; one finding for each job step and kind, at its worst pass. */
export const survivalFindings = (
  passes: readonly PassSurvival[],
  profile: MachineProfile,
  unit: Unit = 'mm',
  limits: SurvivalLimits = USUAL_LIMITS,
): readonly Finding[] => {
  const worst = new Map<string, { readonly amount: number; readonly finding: Finding }>();
  for (const pass of passes) {
    for (const { code, severity, amount, message } of troublesOf(pass, profile, unit, limits)) {
      const { setup, step, label } = pass.force;
      const key = `${code}/${setup}/${step}`;
      if ((worst.get(key)?.amount ?? Number.NEGATIVE_INFINITY) >= amount) continue;
      const finding: Finding = { code, severity, message: `${label}${message}`, feature: step, setup };
      worst.set(key, { amount, finding });
    }
  }
  return [...worst.values()].map((w) => w.finding);
};

interface Trouble {
  readonly code: string;
  readonly severity: Finding['severity'];
  /** How bad it is, among its own kind. */
  readonly amount: number;
  /** What follows the pass's name. */
  readonly message: string;
}

const troublesOf = (
  pass: PassSurvival,
  profile: MachineProfile,
  unit: Unit,
  limits: SurvivalLimits,
): readonly Trouble[] => {
  const { force, movement, hold, cutter, frequency, toothPassing } = pass;
  const found: Trouble[] = [];
  const say = (code: string, amount: number, message: string, severity: Finding['severity'] = 'warning') =>
    found.push({ code, severity, amount, message });
  const loose = pass.loose.reduce((most, piece) => Math.max(most, piece.volume), 0);
  if (pass.footing === 'nothing in the jaws' || pass.footing === 'not held') {
    say(
      'nothing-held',
      1,
      ' leaves nothing that is still held: end the setup before it, or hold it lower down or elsewhere.',
    );
  }
  if (movement !== null && movement > limits.movement) {
    const worst = pass.bending.reduce((a, b) => (b.movement > a.movement ? b : a));
    const how =
      force.thrust > force.most
        ? 'a lower feed or a sacrificial block underneath'
        : worst.name?.startsWith('tip of a tine') === true
          ? 'shallower passes, a thicker web, a smaller cutter or a packing piece in the slot'
          : 'shallower passes, a thicker web or a smaller cutter';
    const where = placeWords(worst);
    say(
      'work-moves',
      movement,
      movement > BEYOND_BENDING
        ? `: the work gives way under the cutter${where}: by the estimate more than ${beyondFigure(unit)} ${unitSign(unit)}, beyond all that it holds for. It bends off or tears: try ${how}, or cut what is thin there away before.`
        : `: the work moves about ${smallText(movement, unit)} under the cutter${where}, more than ${lengthText(limits.movement, unit)}: try ${how}.`,
    );
  }
  if (pass.scrap !== null && pass.scrap > limits.movement && pass.scrap > 2 * (movement ?? 0)) {
    const part = smallText(movement ?? 0, unit);
    const scrap =
      pass.scrap > BEYOND_BENDING
        ? `more than ${beyondFigure(unit)} ${unitSign(unit)}`
        : `about ${smallText(pass.scrap, unit)}`;
    say(
      'scrap-moves',
      pass.scrap,
      `: scrap outside the part moves ${scrap} under the cutter, and the part beside it about ${part}: the part alone is judged. What is thin out there may catch and tear: keep hands and rule off it, or cut it away before it gets thin.`,
      'note',
    );
  }
  for (const what of ['wall', 'floor'] as const) {
    const left = leftOn(pass, what);
    if (left === null || left.error[what] <= limits.movement) continue;
    const { error, give } = left;
    say(
      `${what}-off`,
      error[what],
      `: leaves the finished ${what} about ${smallText(error[what], unit)} off${placeWords(left)}${what === 'wall' ? shareWords(error.wall, give, unit) : ''}, more than ${lengthText(limits.movement, unit)}: ${what === 'wall' ? mendWall(pass, left) : mendFloor(pass)}.`,
    );
  }
  if (hold !== null && hold.least < limits.hold) {
    say(
      'weak-hold',
      -hold.least,
      `: the hold bears ${factorText(hold.least) === LEAST_FACTOR ? LEAST_FACTOR : `about ${factorText(hold.least)}`} times the force (${weakest(hold)}), less than ${limits.hold}: ${mendHold(hold)}.`,
    );
  }
  if (cutter.stress > limits.stress) {
    say(
      'cutter-overloaded',
      cutter.stress,
      `: about ${force.most.toFixed(0)} N bends the cutter ${smallText(cutter.bend, unit)} and strains it to about ${cutter.stress.toFixed(0)} MPa: it may break. Cut shallower passes or take a stiffer cutter.`,
    );
  }
  const power = spindlePower(profile.spindle, pass.speed);
  if (force.power > power) {
    say(
      'beyond-power',
      force.power,
      ` asks about ${force.power.toFixed(0)} W of a spindle that has about ${power.toFixed(0)} W at ${pass.speed.toFixed(0)} turns/min: shallower passes or less feed.`,
    );
  }
  if (loose > SWARF) {
    say(
      'piece-loose',
      loose,
      `: a piece of about ${volumeText(loose, unit)} is loose by then and may be thrown.`,
    );
  }
  if (frequency !== null && movement !== null && Math.abs(frequency / toothPassing - 1) < NEAR) {
    say(
      'near-ringing',
      -Math.abs(frequency / toothPassing - 1),
      `: the work rings at about ${frequency.toFixed(0)} Hz and the teeth pass at ${toothPassing.toFixed(0)} Hz: change the speed by a quarter.`,
      'note',
    );
  }
  return found;
};

const placeWords = ({ name }: PlaceBending): string => (name === null ? '' : ` at the ${name}`);

/**
 * The place at which a pass leaves most on a wall or floor of the finished part; null where it leaves an allowance on it or
 * cuts none, and before it is solved: a closed form does not know which way the work goes.
 */
export const leftOn = ({ basis, bending }: PassSurvival, what: 'wall' | 'floor'): PlaceBending | null =>
  basis !== 'solved'
    ? null
    : bending
        .filter((b) => b.finishes[what])
        .reduce<PlaceBending | null>((a, b) => (a !== null && a.error[what] >= b.error[what] ? a : b), null);

/** How much of an error on a wall is the cutter's own. */
const shareWords = (wall: number, give: number, unit: Unit): string =>
  give > 0.9 * wall
    ? ', all but all of it the cutter’s own bending'
    : give > 0.1 * wall
      ? ` (the cutter bends ${smallText(give, unit)}, the work moves ${smallText(wall - give, unit)})`
      : '';

/** Buried by more than this a cutter has a wall on both sides, radians. */
const BOTH_SIDES = (5 / 6) * Math.PI;

const mendWall = ({ force: { kind } }: PassSurvival, { error, give, place }: PlaceBending): string => {
  if (place.buried > BOTH_SIDES) {
    return 'cut it with a thinner cutter and let a finishing pass go along the walls last, or take shallower passes';
  }
  const bent =
    give > error.wall / 2
      ? 'a shorter or thicker cutter'
      : 'holding it nearer, more material left beside it until then';
  return kind === 'rough'
    ? `leave an allowance on it for a finishing pass, or try shallower passes, ${bent}`
    : `try a lighter last pass, ${bent}, or go round once more at the same setting`;
};

const mendFloor = ({ force: { kind } }: PassSurvival): string =>
  kind === 'rough'
    ? 'leave an allowance on it for a light last pass, or try shallower passes or a block packed underneath'
    : 'try a lighter last pass, a smaller cutter, whose helix lifts less, or a block packed or clamped underneath';

const LEAST_FACTOR = 'less than 0.01';

/** A factor of the hold as it is said: hundredths where it is under one. */
export const factorText = (factor: number): string =>
  factor < 0.005 ? LEAST_FACTOR : factor < 0.95 ? factor.toFixed(2) : factor.toFixed(1);

const weakest = (hold: NonNullable<PassSurvival['hold']>): string => {
  if (hold.least === hold.slip) return 'it slips first';
  if (hold.least === hold.lift) return 'it lifts first';
  return hold.least === hold.tip ? 'it tips first' : 'it turns first';
};

/** What would mend a weak hold, by what holds it and how the part would be lost. */
const mendHold = (hold: NonNullable<PassSurvival['hold']>): string => {
  if (hold.by === undefined) return mendGrip(hold);
  switch (hold.by) {
    case 'tape':
      return hold.least === hold.slip || hold.least === hold.twist
        ? 'glue more of the underside, cut lighter, or screw it down'
        : 'cut lighter, leave a wider frame that is glued too, or screw it down: tape peels before it slides';
    case 'screws':
      return hold.least === hold.lift
        ? 'take thicker screws or one more'
        : 'set the screws farther apart or take one more, cut lighter, or put a stop against the push';
    case 'clamps':
      return hold.least === hold.slip || hold.least === hold.lift
        ? 'do the clamps up harder or add one, cut lighter, or put a stop against the push'
        : 'set the clamps farther apart or add one on the other side, or cut lighter';
  }
};

const mendGrip = (hold: NonNullable<PassSurvival['hold']>): string => {
  if (hold.least === hold.slip) {
    return 'hold more of it, cut lighter, turn the feed so that it pushes at the fixed jaw, or let it bear on a stop';
  }
  if (hold.least === hold.lift)
    return 'do the vice up harder, cut lighter, or put paper between jaw and work';
  return hold.least === hold.tip
    ? 'hold it higher up, cut lighter, or clamp what juts out down on a sacrificial block'
    : 'hold a longer piece, cut lighter, or clamp a sacrificial block beside what juts out';
};
