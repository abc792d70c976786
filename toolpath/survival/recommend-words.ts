import type { Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { Assessment } from './assess.ts';
import { type Because, type Hopeless, LEAST_STEP_DOWN, type StepDown } from './step-down.ts';
import type { WebChoice, WebLook } from './web-choice.ts';

const moved = (mm: number): string => `${mm < 0.0995 ? mm.toFixed(3) : mm.toFixed(2)} mm`;
const minutes = (seconds: number): string => `${Math.max(1, Math.round(seconds / 60))} min`;

/** Why one order is better than another. */
export const orderSentence = (name: string, now: Assessment, other: Assessment): string =>
  `${name}: the work then moves about ${moved(other.movement)} at most in place of ${moved(now.movement)}, and the cutting takes about ${minutes(other.seconds)} in place of ${minutes(now.seconds)}.`;

const does = ({ tine, closes }: WebLook): string =>
  `a tine moves about ${moved(tine)} under the cutter and the jaws close the slot by about ${moved(closes)} while it is cut`;

/** Why a fork keeps a web of this thickness, and when it goes. */
export const webSentence = (choice: WebChoice, unit: Unit, tolerance: number): string => {
  const { fork, web, without, enough } = choice;
  if (web === 0) return `${fork} needs no web: ${does(without)}, within ${tolerance} mm.`;
  const last = `so the web goes last, at ${lengthText(choice.releaseDepth ?? 0, unit)} depth`;
  const beyond = `${last}, but that is more than ${tolerance} mm still: do the vice up less, or put a packing piece into the slot`;
  return `${fork}: with the ${lengthText(web, unit)} web ${does(choice.with)}; without it ${moved(without.tine)} and ${moved(without.closes)}; ${enough ? last : beyond}.`;
};

/** Why a step-down is changed. */
export const stepSentence = (
  { step, from, to, because, levels }: StepDown,
  before: Assessment,
  after: Assessment,
  unit: Unit,
  tolerance: number,
): string => {
  const at = (way: Assessment): { readonly movement: number; readonly name: string | null } => {
    let [movement, name]: [number, string | null] = [0, null];
    for (const pass of way.passes.filter((p) => p.force.step === step)) {
      for (const b of pass.bending) if (b.movement > movement) [movement, name] = [b.movement, b.name];
    }
    return { movement, name };
  };
  const [was, is] = [at(before), at(after)];
  const where = was.name === null ? '' : ` at the ${was.name}`;
  const now =
    levels === undefined
      ? `at ${lengthText(to, unit)} about ${moved(is.movement)}`
      : `in passes that fall from ${lengthText(to, unit)} on about ${moved(is.movement)}`;
  const enough = is.movement <= tolerance ? '' : `; more than ${tolerance} mm still`;
  return `${step}: at ${lengthText(from, unit)} a pass the work moves about ${moved(was.movement)}${where}, ${now}${enough}${WHY[because]}.`;
};

/** What is said where it is not the work's movement that asks for the change. */
const WHY: Readonly<Record<Because, string>> = {
  movement: '',
  strain: '; changed because the cutter is strained too much',
  power: '; changed because the spindle has not the power',
  hold: '; changed because the hold is too weak for it',
  room: '; there is room for it',
};

/** Why a job step is left as it is although the work moves. */
export const hopelessSentence = (
  { step, movement, place, needed }: Hopeless,
  unit: Unit,
  tolerance: number,
): string => {
  const where = place === null ? '' : ` at the ${place}`;
  const mend = 'hold it nearer, take a smaller cutter, or hold it down on a plate: an endmill lifts';
  return needed === null
    ? `${step}: its finishing lap alone moves the work about ${moved(movement)}${where}, more than ${tolerance} mm whatever the step-down: ${mend}.`
    : `${step}: the work moves about ${moved(movement)}${where}; to stay within ${tolerance} mm passes of about ${lengthText(Math.max(0.005, needed), unit)} would be needed, and under ${lengthText(LEAST_STEP_DOWN, unit)} a cutter only rubs: ${mend}.`;
};

/** What the whole change costs or saves. */
export const timeSentence = (before: Assessment, after: Assessment): string =>
  `The cutting then takes about ${minutes(after.seconds)} in place of ${minutes(before.seconds)}, tool changes left out.`;

/** Why shallower passes are not recommended where they cost much and do not do. */
export const holdSentence = (now: Assessment, then: Assessment, tolerance: number): string => {
  const plate = now.route.setups.some((setup) => setup.hold.kind === 'plate');
  const better = plate
    ? 'more clamps or screws nearer to the cut, or glue'
    : 'more grip, a packing piece in the slot, or a plate with glue or screws in place of the vice';
  return `Shallower passes alone do not do: at about ${minutes(then.seconds)} in place of ${minutes(now.seconds)} the work still moves about ${moved(then.movement)}, more than ${tolerance} mm. Hold it better: ${better}.`;
};
