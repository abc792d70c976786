import type { Unit } from '../../sketch/part/part.ts';
import { aboutText, lengthText, roundText, smallText } from '../../sketch/part/units.ts';
import type { Assessment } from './assess.ts';
import type { CutterChange, DepthChoice } from './depth-rounds.ts';
import type { PackingChoice, PlateLook } from './hold-choice.ts';
import { plateDoes } from './hold-choice.ts';
import { closesOf } from './orders.ts';
import type { Limit, OtherCut } from './other-cuts.ts';
import { type Because, type Hopeless, LEAST_STEP_DOWN, type StepDown } from './step-down.ts';
import type { WebChoice, WebLook } from './web-choice.ts';

const minutes = (seconds: number): string => `${Math.max(1, Math.round(seconds / 60))} min`;

/** Why one order is better than another. */
export const orderSentence = (name: string, now: Assessment, other: Assessment, unit: Unit): string =>
  `${name}: the work then moves ${aboutText(other.movement, unit)} at most in place of ${smallText(now.movement, unit)}, and the cutting takes about ${minutes(other.seconds)} in place of ${minutes(now.seconds)}.`;

/** Why an order that moves less, or is quicker, is not taken: what the jaws would do to a fork. */
export const closedSentence = (name: string, now: Assessment, other: Assessment, unit: Unit): string =>
  `${name}: the work would move ${aboutText(other.movement, unit)} at most in place of ${aboutText(now.movement, unit)}, but the jaws would hold a fork closed by ${aboutText(closesOf(other, 'cut'), unit)} while it is cut in place of ${aboutText(closesOf(now, 'cut'), unit)}.`;

/** What an order does to a fork whose web goes while the jaws hold it closed: why it is taken, or that packing does more. */
export const releaseSentence = (
  name: string,
  closes: { readonly asItIs: number; readonly now: number; readonly packed: number | null },
  unit: Unit,
  tolerance: number,
): string => {
  const [was, is] = [aboutText(closes.asItIs, unit), aboutText(closes.now, unit)];
  return closes.packed === null
    ? `${name}: the jaws then hold a fork closed by ${is} in place of ${was} while its web goes${closes.now > tolerance ? `, more than ${lengthText(tolerance, unit)} still` : ''}.`
    : `${name}: the jaws would hold a fork closed by ${is} in place of ${was} while its web goes; packing does more, ${aboutText(closes.packed, unit)}, so the order stays as it is.`;
};

const does = ({ tine, closes }: WebLook, unit: Unit): string => {
  const jaws = `the jaws close the slot by ${aboutText(closes, unit)} while it is cut`;
  return tine > 0 ? `a tine moves ${aboutText(tine, unit)} under the cutter and ${jaws}` : jaws;
};

/** Why a fork keeps a web of this thickness, and when it goes. */
export const webSentence = (choice: WebChoice, unit: Unit, tolerance: number): string => {
  const { fork, web, without, enough } = choice;
  if (web === 0)
    return `${fork} needs no web: ${does(without, unit)}, within ${lengthText(tolerance, unit)}.`;
  const last = `so the web goes last, at ${lengthText(choice.releaseDepth ?? 0, unit)} depth`;
  const beyond = `${last}, but that is more than ${lengthText(tolerance, unit)} still: do the vice up less where it still holds, or cut it flat on a plate`;
  return `${fork}: with the ${lengthText(web, unit)} web ${does(choice.with, unit)}; without it ${does(without, unit)}; ${enough ? last : beyond}.`;
};

/** Why a step-down or an allowance is changed. */
export const stepSentence = (
  { step, from, to, because, levels, wall }: StepDown,
  before: Assessment,
  after: Assessment,
  unit: Unit,
  tolerance: number,
): string => {
  const what = because === 'wall' || because === 'floor' ? because : 'movement';
  const [was, is] = [worstAt(before, step, what), worstAt(after, step, what)];
  const where = was.name === null ? '' : ` at the ${was.name}`;
  const does = what === 'movement' ? 'the work moves' : `its finished ${what} is left off by`;
  const [much, still] = [
    aboutText(was.size, unit),
    is.size <= tolerance ? '' : `; more than ${lengthText(tolerance, unit)} still`,
  ];
  const passes = passesText(after, step, unit);
  const depth =
    levels === undefined
      ? `at ${lengthText(to, unit)}`
      : `in passes that fall from ${lengthText(to, unit)} on`;
  const deep =
    from === to
      ? null
      : `at ${lengthText(from, unit)} a pass ${does} ${much}${where}, ${depth}${passes} ${aboutText(is.size, unit)}${still}${WHY[because]}`;
  const lap =
    wall === undefined
      ? null
      : `with ${lengthText(wall.from, unit)} left for its finishing lap the walls come out off by ${aboutText(wall.error, unit)}, most of it the cutter’s own bending; with ${lengthText(wall.to, unit)} by ${aboutText(worstAt(after, step, 'wall').size, unit)}`;
  return `${step}: ${[deep, lap].filter((part) => part !== null).join('; ')}.`;
};

/** The largest movement in a job step, or what it leaves at most on finished walls or floors, and where. */
const worstAt = (
  way: Assessment,
  step: string,
  what: 'movement' | 'wall' | 'floor',
): { readonly size: number; readonly name: string | null } => {
  let [size, name]: [number, string | null] = [0, null];
  for (const pass of way.passes.filter((p) => p.force.step === step)) {
    for (const b of pass.bending) {
      const own = what === 'movement' ? b.movement : b.finishes[what] ? b.error[what] : 0;
      if (own > size) [size, name] = [own, b.name];
    }
  }
  return { size, name };
};

/** Depths nearer than this are one, mm. */
const SAME_DEPTH = 0.005;

/** How many levels a job step is cut in, and how deep the last of them is; in brackets, after a space. */
const passesText = ({ question }: Pick<Assessment, 'question'>, step: string, unit: Unit): string => {
  const zs = (question?.passes ?? [])
    .filter((pass) => pass.step === step && pass.kind !== 'finish')
    .map(({ motions }) => motions.reduce((low, { stroke }) => Math.min(low, stroke.to.z), 0))
    .sort((a, b) => b - a);
  const levels = zs.filter((z, i) => i === 0 || zs[i - 1]! - z > SAME_DEPTH);
  if (levels.length < 2) return '';
  const last = levels.at(-2)! - levels.at(-1)!;
  return ` (${levels.length} passes, the last ${roundText(last, unit)} deep)`;
};

/** What is said where it is not the work's movement that asks for the change. */
const WHY: Readonly<Record<Because, string>> = {
  movement: '',
  wall: ', most of it the cutter’s own bending',
  floor: '',
  strain: '; changed because the cutter is strained too much',
  power: '; changed because the spindle has not the power',
  hold: '; changed because the hold is too weak for it',
  room: '; there is room for it',
};

/** Why a job step is left as it is although the work moves. */
export const hopelessSentence = (
  { step, movement, place, needed, what }: Hopeless,
  unit: Unit,
  tolerance: number,
): string => {
  const where = place === null ? '' : ` at the ${place}`;
  const mend =
    'hold it nearer, or hold it down on a plate: an endmill lifts, so that a block under it does nothing';
  if (what === 'wall')
    return `${step}: its finishing lap leaves the walls off by ${aboutText(movement, unit)}${where}, more than ${lengthText(tolerance, unit)}, most of it the cutter’s own bending, and a lap light enough would only rub: run the lap a second time as it is, or take a stiffer cutter.`;
  return needed === null
    ? `${step}: its finishing lap alone moves the work ${aboutText(movement, unit)}${where}, more than ${lengthText(tolerance, unit)} whatever the step-down: ${mend}.`
    : `${step}: the work moves ${aboutText(movement, unit)}${where}; to stay within ${lengthText(tolerance, unit)} passes of about ${lengthText(Math.max(0.005, needed), unit)} would be needed, and under ${lengthText(LEAST_STEP_DOWN, unit)} a cutter only rubs: ${mend}.`;
};

/** What the whole change costs or saves. */
export const timeSentence = (before: Assessment, after: Assessment): string =>
  minutes(before.seconds) === minutes(after.seconds)
    ? `The cutting takes about ${minutes(after.seconds)} as before, tool changes left out.`
    : `The cutting then takes about ${minutes(after.seconds)} in place of ${minutes(before.seconds)}, tool changes left out.`;

/** Why shallower passes are not recommended where they cost much and do not do. */
export const holdSentence = (now: Assessment, then: Assessment, unit: Unit, tolerance: number): string => {
  const plate = now.route.setups.some((setup) => setup.hold.kind === 'plate');
  const better = plate
    ? 'more clamps or screws nearer to the cut, or glue'
    : 'more grip, or a plate with glue or screws in place of the vice';
  return `Shallower passes alone do not do: at about ${minutes(then.seconds)} in place of ${minutes(now.seconds)} the work still moves ${aboutText(then.movement, unit)}, more than ${lengthText(tolerance, unit)}. Hold it better: ${better}.`;
};

/** Why packing is put in: it was solved with it. */
export const packingSentence = (
  { setup, piece, before, after }: PackingChoice,
  unit: Unit,
  tolerance: number,
): string => {
  const [was, is] = [smallText(before, unit), smallText(after, unit)];
  const still = after > tolerance ? `, more than ${lengthText(tolerance, unit)} still` : '';
  return piece.kind === 'fork'
    ? `${piece.fork}: while its web goes in setup ${setup} the jaws hold it closed by about ${was}, and the cutter shaves its walls; with a packing piece in the slot about ${is}${still}: so put one in before the jaws are closed.`
    : `Setup ${setup}: a drill pushes what juts out of the jaws down by about ${was}; with a sacrificial block under it from X ${lengthText(piece.from, unit)} to ${lengthText(piece.to, unit)} about ${is}${still}.`;
};

/** What a way comes to, in brief. */
const comesTo = (way: Assessment, unit: Unit): string =>
  `${aboutText(way.movement, unit)} in about ${minutes(way.seconds)}`;

/** Why smaller cutters are taken, or the rim is kept from being buried deeper than an angle. */
export const otherCutSentence = (cut: OtherCut, usual: Assessment, now: Assessment, unit: Unit): string => {
  switch (cut.kind) {
    case 'smaller cutters': {
      const list = (key: keyof CutterChange): string =>
        [...new Set(cut.cutters.map((c) => c[key]))].join(' and ');
      return `${list('step')}: with the ${list('to')} in place of the ${list('from')} the work moves at most ${comesTo(now, unit)} of cutting; with the ${list('from')}, ${comesTo(usual, unit)}.`;
    }
    case 'limits':
      return `${limitWords(cut.limits)} the work moves at most ${comesTo(now, unit)} of cutting; without that limit, ${comesTo(usual, unit)}.`;
  }
};

const limitWords = (limits: readonly Limit[]): string =>
  limits
    .map(
      ({ step, angle, cutter }) =>
        `${step}: peeled${cutter === null ? '' : ` with the ${cutter}`}, buried by ${angle}° at most,`,
    )
    .join(' ');

/** Why a limit that was tried is not put on. */
export const leftLimitSentence = (
  limits: readonly Limit[],
  { now: then, tooLong }: Pick<DepthChoice, 'now' | 'tooLong'>,
  now: Assessment,
  unit: Unit,
): string =>
  tooLong === null
    ? `${limitWords(limits)} the work would move at most ${comesTo(then, unit)} of cutting; without that limit, ${comesTo(now, unit)}.`
    : `${limitWords(limits)} passes shallow enough would take about ${minutes(tooLong)} of cutting; without that limit about ${minutes(now.seconds)} do.`;

/** What a plate would do where nothing else keeps the tolerance: told, for it is for a person to choose. */
export const plateSentence = (look: PlateLook, unit: Unit, tolerance: number): string => {
  const { setup, before, after, hold } = look;
  const most = lengthText(tolerance, unit);
  if (after === null)
    return `In setup ${setup} the work still moves ${aboutText(before, unit)}, more than ${most}: what else would hold it flat – screws into a plate, clamps – is for you to lay out in Hold and to estimate again.`;
  const holds =
    hold < 0.1
      ? 'the glue bears less than a tenth of the force'
      : `the glue bears about ${hold.toFixed(hold < 1 ? 2 : 1)} times the force`;
  const does = plateDoes(look, tolerance)
    ? 'that would do: choose it in Hold'
    : 'that alone does not do: screws into the plate hold more';
  return `In setup ${setup} the work still moves ${aboutText(before, unit)}, more than ${most}. Taped flat on a plate in place of the vice it would move ${aboutText(after, unit)}, and ${holds}; ${does}.`;
};
