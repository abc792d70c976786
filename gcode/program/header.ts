import type { Part } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import type { Datum, PlateHold } from '../../toolpath/route/route.ts';
import { comments } from './comment.ts';
import { type Grid, gridOf, lengthText, lengthWords } from './grid.ts';
import { motionBox, programTime, STOP_ALLOWANCE } from './time.ts';

/** Said at the head of every program. The last line answers for all that is reckoned. */
export const CAUTIONS: readonly string[] = [
  'Take care: eye protection on; no gloves, loose sleeves or loose hair near the spindle.',
  'Clamp the work and try its hold. Run the program once well above the work, a hand on the stop.',
  'Chips are sharp and hot: use a brush. Stop the spindle before measuring or reaching in.',
  "Times and forces are estimates. The machine's manual, local rules and trained practice come first.",
];

const DATUM_WORDS: Record<Datum, string> = {
  'left-near': 'left near corner of the bar',
  'left-far': 'left far corner of the bar',
  'right-near': 'right near corner of the bar',
  'right-far': 'right far corner of the bar',
  centre: 'middle of the bar',
};

/** A tool as people know it: "T2 5.0 mm endmill, 3 flutes, carbide [small one]". */
export const toolWords = (grid: Grid, cutter: Cutter): string => {
  if (cutter.kind === 'tap') return `T${cutter.number} hand tap ${cutter.designation ?? ''} [${cutter.name}]`;
  const flutes = cutter.kind === 'endmill' ? `, ${cutter.flutes} flutes` : '';
  return `T${cutter.number} ${lengthWords(grid, cutter.diameter)} ${cutter.kind}${flutes}, ${cutter.material} [${cutter.name}]`;
};

const holdWords = (grid: Grid, { setup, frame }: PlannedSetup): string => {
  if (setup.hold.kind === 'plate') return plateWords(grid, setup.hold, frame);
  const { jaws, grip, parallels, gripped } = setup.hold;
  const from = lengthText(grid, jaws.from - frame.zero.x);
  const to = lengthText(grid, jaws.to - frame.zero.x);
  const under =
    parallels === null
      ? 'no parallels'
      : `parallels ${lengthText(grid, parallels.height)} high and ${lengthText(grid, parallels.thickness)} thick, ` +
        `their middles ${lengthWords(grid, Math.abs(parallels.offset))} each side of the bar's middle`;
  return `Hold: vice, jaws from X${from} to X${to}, ${lengthWords(grid, grip)} of the work gripped; jaws bear on ${gripped}; ${under}.`;
};

const plateWords = (grid: Grid, { fastening }: PlateHold, frame: PlannedSetup['frame']): string => {
  const at = (p: Point): string => {
    const { x, y } = toProgram(frame, { ...p, z: 0 });
    return `X${lengthText(grid, x)} Y${lengthText(grid, y)}`;
  };
  switch (fastening.kind) {
    case 'tape':
      return 'Hold: on a plate, tape and glue over all of the underside.';
    case 'screws':
      return `Hold: on a plate, ${fastening.thread} socket head screws at ${fastening.places.map(at).join(', ')}.`;
    case 'clamps':
      return `Hold: on a plate, toe clamps at ${fastening.places.map(at).join(', ')}.`;
  }
};

const timeWords = (seconds: number): string => {
  const minutes = seconds / 60;
  return minutes < 90 ? `${Math.max(1, Math.round(minutes))} min` : `${(minutes / 60).toFixed(1)} h`;
};

/** The comment lines at the head of a program. */
export const headerLines = (part: Part, planned: PlannedSetup, profile: MachineProfile): string[] => {
  const grid = gridOf(profile.program);
  const { setup } = planned;
  const { bar } = part;
  const tools = new Map(planned.steps.map((s) => [s.cutter.number, s.cutter]));
  const box = motionBox(planned);
  const size = [bar.length, bar.width, bar.thickness].map((l) => lengthText(grid, l)).join(' x ');
  const span = (axis: 'x' | 'y' | 'z'): string =>
    `${axis.toUpperCase()} ${lengthText(grid, box!.min[axis])} to ${lengthText(grid, box!.max[axis])}`;
  const back = setup.face === 'back' ? ', turned over about the X axis so that left stays left' : '';
  return [
    `Part: ${part.name}`,
    `Setup ${setup.number}, ${setup.face} face up${back}. Machine: ${profile.name}`,
    `Bar: ${bar.material}, ${size} ${grid.unit}`,
    `Datum: ${DATUM_WORDS[setup.datum]} as you look down on it; Z zero at the top of the work; work offset ${setup.workOffset}.`,
    holdWords(grid, planned),
    ...[...tools.values()].map((cutter) => toolWords(grid, cutter)),
    'No tool lengths are used: set Z zero afresh with each cutter.',
    ...(box === null ? [] : [`Motion of the tip: ${span('x')}, ${span('y')}, ${span('z')} ${grid.unit}`]),
    `Time: about ${timeWords(programTime(planned, profile))}, ${STOP_ALLOWANCE / 60} min of it for each cutter and stop.`,
    ...CAUTIONS,
  ].flatMap((text) => comments(text));
};
