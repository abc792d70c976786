import type { Hole, Part, Unit } from '../../sketch/part/part.ts';
import { tappedHoleText } from '../../sketch/part/threads.ts';
import { lengthText, plain } from '../../sketch/part/units.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { feetOf } from '../../toolpath/route/plate.ts';
import type { Datum, PlateHold, ViceHold } from '../../toolpath/route/route.ts';
import { figure } from '../table/figures.ts';

/** What stands on a sheet in sentences. Every text here is plain; it is made harmless where it enters the page. */

const CORNER: Readonly<Record<Datum, string>> = {
  'left-near': 'the left corner nearest you',
  'left-far': 'the left corner farthest from you',
  'right-near': 'the right corner nearest you',
  'right-far': 'the right corner farthest from you',
  centre: 'the middle of the bar',
};

/** Where zero is, and where the work's own edges then lie. */
export const datumWords = (part: Part, planned: PlannedSetup): string => {
  const { setup, stock } = planned;
  const say = (mm: number): string => figure(mm, part.unit);
  const sawn =
    part.bar.sawn > 0
      ? ` The bar is longer than the part by what the saw left: its ends now lie at X ${say(stock.min.x)} and X ${say(stock.max.x)}, so set X by the left one.`
      : '';
  return `Zero (${setup.workOffset}) is ${CORNER[setup.datum]} as the work lies ${setup.hold.kind === 'vice' ? 'in the vice' : 'on its plate'}; Z zero is the top of the work.${sawn}`;
};

/** How the work comes to lie so. */
export const faceWords = (planned: PlannedSetup, first: boolean): string => {
  const { face } = planned.setup;
  if (first) return face === 'front' ? 'The front is up.' : 'The back is up.';
  return face === 'back'
    ? 'Turn the work over about its length: left stays left, the near edge becomes the far one. The back is up.'
    : 'The front is up.';
};

export const holdWords = (part: Part, planned: PlannedSetup): string => {
  const { hold } = planned.setup;
  const say = (mm: number): string => lengthText(mm, part.unit);
  if (hold.kind === 'plate') return plateWords(part, planned, hold);
  const stands = planned.stock.max.z - planned.stock.min.z;
  const { parallels } = hold;
  const on = parallels
    ? ` On two parallels ${say(parallels.height)} high and ${say(parallels.thickness)} thick, the middle of each ${say(parallels.offset)} from the middle of the bar.`
    : ' Without parallels.';
  return `In the vice, jaws along X, on ${hold.gripped}: ${say(hold.grip)} of ${say(stands)} is held, so the jaws' tops lie ${say(stands - hold.grip)} below the top of the work.${on}${packingWords(part, planned, hold)}`;
};

/** How work on a plate is fastened, and where from program zero. */
const plateWords = (part: Part, { frame }: PlannedSetup, hold: PlateHold): string => {
  const { fastening } = hold;
  const say = (mm: number): string => figure(mm, part.unit);
  const flat =
    'Flat on a plate, with a sheet between them that may be cut: through cuts go a little below the work.';
  if (fastening.kind === 'tape') {
    return `${flat} Held by tape on both faces with glue between, over all of the underside that bears: clean both, press for a minute, and try by hand that it cannot be peeled off. Warm it to take it off.`;
  }
  const places = fastening.places.map((place) => {
    const { x, y } = toProgram(frame, { x: place.x, y: place.y, z: 0 });
    const through = 'hole' in place && place.hole !== null ? ` through ${place.hole}` : '';
    return `X ${say(x)} Y ${say(y)}${through}`;
  });
  const what = fastening.kind === 'screws' ? `${fastening.thread} socket head screws` : 'toe clamps';
  const tall = feetOf(hold, part.bar).reduce((most, foot) => Math.max(most, foot.height), 0);
  return `${flat} Held down by ${what} at ${places.join('; ')}. Nothing of them may stand more than ${lengthText(tall, part.unit)} above the top of the work.`;
};

const plateThings = ({ fastening }: PlateHold): string => {
  switch (fastening.kind) {
    case 'tape':
      return 'a flat plate, a sheet to cut into, tape and glue';
    case 'screws':
      return `a flat plate with tapped holes, a sheet to cut into, ${fastening.places.length} ${fastening.thread} screws`;
    case 'clamps':
      return `a flat plate or the table, a sheet to cut into, ${fastening.places.length} toe clamps with packing`;
  }
};

/** What is packed under the work and into it. */
const packingWords = (part: Part, { frame }: PlannedSetup, hold: ViceHold): string =>
  (hold.packing ?? [])
    .map((piece) => {
      if (piece.kind === 'fork') {
        return ` Before the vice is closed, fit a packing piece ${lengthText(piece.width, part.unit)} wide and ${lengthText(piece.length, part.unit)} long into ${piece.fork}: snug, not forced.`;
      }
      const [from, to] = [piece.from, piece.to].map((x) => figure(x - frame.zero.x, part.unit));
      return ` Pack a sacrificial block under the work from X ${from} to X ${to}, up to its underside there; it may be cut into.`;
    })
    .join('');

/** What besides cutters lies ready, and how hard the vice is done up where its owner says. */
export const layOutWords = (part: Part, planned: PlannedSetup, profile: MachineProfile): string => {
  const say = (mm: number): string => lengthText(mm, part.unit);
  const { hold } = planned.setup;
  const { torque, handle, clamp } = profile.vice;
  const steps = planned.steps.map((s) => s.step.kind);
  const packed = hold.kind === 'vice' ? (hold.packing ?? []).length : 0;
  const things = [
    hold.kind === 'plate' ? plateThings(hold) : null,
    hold.kind === 'plate' || hold.parallels === null
      ? null
      : `two parallels ${say(hold.parallels.height)} × ${say(hold.parallels.thickness)}`,
    'edge finder or wobbler',
    'rule, caliper and micrometer',
    steps.includes('tap') ? 'tap wrench, tapping fluid, a centre to keep the tap upright' : null,
    packed > 0 ? `${packed} packing ${packed === 1 ? 'piece' : 'pieces'} that may be cut into` : null,
    steps.includes('thin') && packed === 0 ? 'packing for the thinned part' : null,
    'brush for chips, file for burrs and cusps',
  ].filter((thing) => thing !== null);
  const pull =
    hold.kind === 'plate'
      ? ''
      : clamp !== undefined
        ? ` Do the vice up to the ${plain(clamp, 0)} N that you measured.`
        : torque === undefined
          ? ''
          : ` Do the vice up with about ${plain(torque, 0)} N·m${handle === undefined ? '' : `: about ${plain(torque / (handle / 1000), 0)} N at the end of its ${say(handle)} handle`}, by estimate.`;
  return `Besides the cutters: ${things.join('; ')}.${pull}`;
};

export const barWords = (part: Part): string => {
  const { bar } = part;
  const say = (mm: number): string => lengthText(mm, part.unit);
  const sawn = bar.sawn > 0 ? `, sawn ${say(bar.sawn)} over at each end` : '';
  return `${say(bar.length)} × ${say(bar.width)} × ${say(bar.thickness)}, ${bar.material}${sawn}`;
};

export const holeWords = (hole: Hole, unit: Unit): string => {
  const say = (mm: number): string => lengthText(mm, unit);
  const deep = hole.depth === null ? 'through' : `${say(hole.depth)} deep from the ${hole.from}`;
  switch (hole.purpose) {
    case 'clearance':
      return `⌀ ${say(hole.diameter)}, ${deep}`;
    case 'reamed':
      return `⌀ ${say(hole.diameter)} reamed, ${deep}`;
    case 'tapped':
      return `${hole.designation}, tap drill ⌀ ${say(hole.diameter)}, ${deep}; ${tappedHoleText(hole)}`;
    case 'counterbored':
      return `⌀ ${say(hole.diameter)}, ${deep}; counterbore ⌀ ${say(hole.boreDiameter)} × ${say(hole.boreDepth)} from the ${hole.from}`;
  }
};

/** Once a page, beside the numbers. */
export const CAUTIONS: readonly string[] = [
  'Wear eye protection; no gloves, rings or loose sleeves near a turning spindle.',
  'Clamp the work and the vice, and check that the parallels are tight, before the spindle starts.',
  'Run each setup once well above the work before cutting it.',
  'Stop the spindle before measuring, before clearing chips, and before a hand comes near the cutter. Brush chips away, never with fingers.',
  'Speeds and feeds are a start, and forces and times are estimates: the machine’s manual, local rules and trained practice come first.',
];
