import type { Finding, Part } from '../../sketch/part/part.ts';
import { lengthText, mmPer, placeFigure, plain, unitSign } from '../../sketch/part/units.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { webOf } from '../route/release.ts';
import type { JobStep, Setup } from '../route/route.ts';

/** Passes shallower and laps nearer than this only rub, mm. Common practice, no source. */
const LEAST_BITE = 0.02;
/** Pecks shorter than this only wear the drill, mm. Common practice, no source. */
export const LEAST_PECK = 0.1;

const WANTED: Readonly<Record<JobStep['kind'], readonly [Cutter['kind'], ...Cutter['kind'][]]>> = {
  square: ['endmill'],
  outline: ['endmill'],
  fork: ['endmill'],
  slot: ['endmill'],
  pocket: ['endmill'],
  thin: ['endmill'],
  release: ['endmill'],
  spot: ['spot', 'drill'],
  drill: ['drill'],
  ream: ['reamer'],
  tap: ['tap'],
};

const one = (kind: Cutter['kind']): string => `${kind === 'endmill' ? 'an' : 'a'} ${kind}`;

/** Terms with which a job step cannot or must not be cut, whatever the work: a step with any of these is not planned. */
export const termFindings = (
  part: Part,
  setup: Setup,
  step: JobStep,
  cutter: Cutter,
  profile: MachineProfile,
): readonly Finding[] => {
  const findings: Finding[] = [];
  const { unit } = part;
  const mm = (value: number): string => lengthText(value, unit);
  const say = (code: string, message: string): void => {
    findings.push({
      code,
      severity: 'error',
      message: `${step.name}: ${message}.`,
      feature: step.name,
      setup: setup.number,
    });
  };
  if (!WANTED[step.kind].includes(cutter.kind)) {
    say(
      'cutter-of-wrong-kind',
      `"${cutter.name}" is ${one(cutter.kind)}; this wants ${one(WANTED[step.kind][0])}`,
    );
  }
  if ('stepDown' in step && !(step.stepDown >= LEAST_BITE)) {
    say('pass-too-shallow', `passes of ${mm(step.stepDown)} only rub; take ${mm(LEAST_BITE)} or more`);
  }
  if ('stepover' in step) {
    if (!(step.stepover >= LEAST_BITE)) {
      say('laps-too-near', `laps ${mm(step.stepover)} apart only rub; take ${mm(LEAST_BITE)} or more`);
    }
    if (step.stepover > cutter.diameter) {
      const { diameter } = cutter;
      say('laps-too-far', `laps ${mm(step.stepover)} apart leave ridges behind a cutter of ${mm(diameter)}`);
    }
    if (step.wallAllowance > cutter.diameter / 2) {
      say(
        'allowance-too-large',
        `${mm(step.wallAllowance)} left for the finishing lap is more than half its cutter; take ${mm(cutter.diameter / 4)} or less`,
      );
    }
    if (step.floorAllowance > step.stepDown) {
      say(
        'allowance-too-large',
        `${mm(step.floorAllowance)} left for the finishing pass is more than a pass of ${mm(step.stepDown)}`,
      );
    }
  }
  const web = webOf(step);
  if (web >= part.bar.thickness) {
    say('web-too-thick', `a web of ${mm(web)} is as thick as the bar, ${mm(part.bar.thickness)}`);
  }
  if (step.kind === 'drill' && !(step.peck >= LEAST_PECK)) {
    say('peck-too-short', `pecks of ${mm(step.peck)} only wear the drill; take ${mm(LEAST_PECK)} or more`);
  }
  const { spindle, feed } = profile;
  if (step.speed !== undefined && !(step.speed >= spindle.least && step.speed <= spindle.most)) {
    say(
      'speed-beyond-spindle',
      `${plain(step.speed, 2)} turns/min; the spindle gives ${spindle.least} to ${spindle.most}`,
    );
  }
  const rate = (perMin: number, decimals: number): string => plain(perMin / mmPer(unit), decimals);
  const most = cutter.kind === 'endmill' ? feed.most : feed.mostPlunge;
  if (step.feed !== undefined && !(step.feed >= 1 && step.feed <= most)) {
    say(
      'feed-beyond-machine',
      `a feed of ${rate(step.feed, 2)} ${unitSign(unit)}/min; the machine feeds ${rate(1, 2)} to ${rate(most, 1)} here`,
    );
  }
  return findings;
};

/** Terms with which nothing can be held. */
export const holdTermFindings = (part: Part, { number, hold }: Setup): readonly Finding[] => {
  const findings: Finding[] = [];
  const say = (code: string, message: string): void => {
    findings.push({ code, severity: 'error', message: `Setup ${number}: ${message}.`, setup: number });
  };
  // What stands on a plate is looked at with the stock in hand (`plate-checks.ts`).
  if (hold.kind === 'plate') return [];
  if (!(hold.jaws.to > hold.jaws.from)) {
    say(
      'jaws-of-no-length',
      `the jaws run from X ${placeFigure(hold.jaws.from, part.unit)} to ${placeFigure(hold.jaws.to, part.unit)}`,
    );
  }
  if (hold.grip > part.bar.thickness) {
    say(
      'grip-too-deep',
      `${lengthText(hold.grip, part.unit)} are to be held of a bar ${lengthText(part.bar.thickness, part.unit)} thick`,
    );
  }
  return findings;
};
