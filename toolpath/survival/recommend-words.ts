import type { Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { Assessment } from './assess.ts';
import { LEAST_STEP_DOWN, type StepDown } from './step-down.ts';
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
  { step, from, to, levels }: StepDown,
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
  const enough =
    is.movement <= tolerance
      ? ''
      : to <= LEAST_STEP_DOWN
        ? `; no step-down of ${lengthText(LEAST_STEP_DOWN, unit)} or more keeps it within ${tolerance} mm: put a sacrificial block underneath, or hold it nearer`
        : `; more than ${tolerance} mm still`;
  return `${step}: at ${lengthText(from, unit)} a pass the work moves about ${moved(was.movement)}${where}, ${now}${enough}.`;
};

/** What the whole change costs or saves. */
export const timeSentence = (before: Assessment, after: Assessment): string =>
  `The cutting then takes about ${minutes(after.seconds)} in place of ${minutes(before.seconds)}, tool changes left out.`;
