import type { Part } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { Pass, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { comment, comments, label, message } from './comment.ts';
import { type Grid, gridOf, lengthText, lengthWords } from './grid.ts';
import { headerLines, toolWords } from './header.ts';
import { isByHand, type UnfoldedStep, unfoldSetup } from './time.ts';
import { type Typist, typist } from './typist.ts';
import type { Block } from './unfold.ts';

/** Everything a page of the program needs while it is written. */
interface Desk {
  readonly type: Typist;
  readonly grid: Grid;
  readonly setup: PlannedSetup;
  readonly profile: MachineProfile;
}

/**
 * One setup as RS-274 text, in the form the machine profile asks for. Lines end with \n. Each job step restates the
 * modes, tool, speed and height it needs, so that a run may be begun there. Throws a RangeError, naming the job step,
 * for moves that no program can hold (a place that is no number, a feed of nought, an arc that is none).
 */
export function writeProgram(part: Part, setup: PlannedSetup, profile: MachineProfile): string {
  const type = typist(profile.program);
  const desk: Desk = { type, grid: gridOf(profile.program), setup, profile };
  for (const line of headerLines(part, setup, profile)) type.put(line);
  type.put(modeLine(desk));
  unfoldSetup(setup).forEach((step, index) => {
    try {
      writeStep(desk, step, index);
    } catch (fault) {
      if (!(fault instanceof RangeError)) throw fault;
      throw new RangeError(`job step "${step.planned.step.name}": ${fault.message}`);
    }
  });
  type.put(comment('End'));
  type.put('M5');
  type.put('M9');
  type.put('M30');
  const lines = profile.program.lineNumbers ? numbered(type.lines) : type.lines;
  return `${lines.join('\n')}\n`;
}

const modeLine = ({ setup, profile }: Desk): string => {
  const unit = profile.program.unit === 'inch' ? 'G20' : 'G21';
  return `G17 ${unit} G40 G49 ${setup.setup.workOffset} G80 G90 G94`;
};

const writeStep = (desk: Desk, { planned, passes, change }: UnfoldedStep, index: number): void => {
  const { type, setup, profile } = desk;
  const tool = toolWords(desk.grid, planned.cutter);
  const count = setup.steps.length;
  for (const line of comments(`Job step ${index + 1} of ${count}: ${planned.step.name}, with ${tool}.`))
    type.put(line);
  for (const line of bridgeWords(desk.grid, planned)) type.put(line);
  type.put(comment('A run may be begun at the next line, with the work as the steps before leave it.'));
  type.forget();
  type.put(modeLine(desk));
  standStill(desk);
  if (isByHand(planned))
    type.put(comment('By hand: take the cutter out of the spindle when the program stops.'));
  else {
    fitTool(desk, planned.cutter.number, tool, change);
    turn(desk, planned.speed);
  }
  type.rise(setup.clearHeight);
  passes.forEach((blocks, k) => {
    if (blocks.length === 0) return;
    const pass = planned.passes[k]!;
    type.endCycle();
    type.put(label(planned.step.name, `${k + 1} OF ${passes.length} ${pass.kind.toUpperCase()}`));
    type.put(passWords(desk.grid, pass, profile));
    for (const block of blocks) {
      if (block.kind === 'stop') stop(desk, block, isByHand(planned) ? null : planned.speed);
      else type.write(block);
    }
  });
  type.endCycle();
  type.rise(setup.clearHeight);
};

const bridgeWords = (grid: Grid, { bridges, cutter }: PlannedStep): string[] => {
  const first = bridges[0];
  if (first === undefined) return [];
  // At its narrowest: where it meets the part the cutter's own radius widens it to either side.
  const size = `${lengthText(grid, first.length - cutter.diameter)} long and ${lengthWords(grid, first.height)} high`;
  return comments(
    `Leaves ${bridges.length} bridges standing, ${size}: saw and file them by hand afterwards.`,
  );
};

const passWords = (grid: Grid, pass: Pass, profile: MachineProfile): string => {
  const web =
    pass.web === null ? '' : `; support web ${lengthText(grid, pass.web)} ${profile.program.unit} under it`;
  return comment(`Tip down to Z${lengthText(grid, pass.z)}${web}`);
};

/** Spindle and coolant off. */
const standStill = ({ type, profile }: Desk): void => {
  type.put(profile.program.coolant === 'flood' ? 'M5 M9' : 'M5');
};

const turn = ({ type, profile }: Desk, speed: number): void => {
  const turns = Math.round(speed);
  if (!(turns >= 1 && turns <= 1e6))
    throw new RangeError(`a program cannot hold the speed ${speed} turns/min`);
  type.put(`S${turns} M3`);
  if (profile.program.coolant === 'flood') type.put('M8');
};

/**
 * Brings the tool into the spindle. As no tool lengths are used, a new tool is followed by a stop in which Z zero is
 * set with it, on machines that change tools by themselves too; the tool that is in already is only named.
 */
const fitTool = ({ type, profile }: Desk, number: number, tool: string, change: boolean): void => {
  const byHand = profile.program.toolChange === 'stop-and-prompt';
  type.put(byHand ? `T${number}` : `T${number} M6`);
  if (!change) {
    type.put(comment(`T${number} stays in. When a run is begun here, fit it and set Z zero first.`));
    return;
  }
  const deed = byHand ? 'Fit' : 'Check that this is in the spindle:';
  type.put(message(`${deed} ${tool}. Set Z zero at the top of the work, then start`));
  type.put('M0');
};

/** Work by hand: the spindle stands, and turns again afterwards unless it stood before. */
const stop = (desk: Desk, block: Extract<Block, { kind: 'stop' }>, speed: number | null): void => {
  desk.type.endCycle();
  standStill(desk);
  desk.type.put(message(block.message));
  desk.type.put('M0');
  if (speed !== null) turn(desk, speed);
};

/** Line numbers in tens where they fit into the standard's five digits, else in ones; comments carry none. */
const numbered = (lines: readonly string[]): string[] => {
  const isCode = (line: string): boolean => !line.startsWith('(');
  const step = lines.filter(isCode).length * 10 <= 99_999 ? 10 : 1;
  let number = 0;
  return lines.map((line) => {
    if (!isCode(line)) return line;
    // Beyond 99999 they begin again, which the standard allows (section 3.3.1).
    number = number + step > 99_999 ? step : number + step;
    return `N${number} ${line}`;
  });
};
