import type { End, Finding, Part } from '../../sketch/part/part.ts';
import { outlineOf } from '../../sketch/part/solid.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { angleOf, distance, type Point, subtract } from '../../sketch/shape/point.ts';
import { segmentsOf } from '../../sketch/shape/region.ts';
import { type Arc, angleOfStart } from '../../sketch/shape/segment.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import type { Plan, PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { type FilingButtons, filingButtons } from './filing-buttons.ts';
import { type NibbleTable, nibbleChoices, nibbleRound, nibbleStraight, type RoundEdge } from './nibble.ts';
import { type RotaryMount, type RotaryTable, rotaryTable } from './rotary.ts';
import { armAngles, type SineBarSetting, type SwivelSetting, sineBar, swivelSetting } from './sine-bar.ts';

/** Cusps to choose from, mm; the table is made for the third. Common practice, no source. */
export const CUSP_CHOICES = [0.2, 0.1, 0.05, 0.02] as const;
const CHOSEN_CUSP = 0.05;

/** A rotary table as they mostly are: ninety turns, figures rising as the work turns clockwise. Common practice, no source. */
export const COMMON_ROTARY: RotaryMount = {
  toward: '+X',
  figuresRise: 'clockwise',
  zero: 0,
  ratio: 90,
  backlash: Math.PI / 360,
  cut: 'conventional',
};

/** What each pass leaves on the radius, mm, and as fast as a hand turns a table's handwheel evenly, mm/min. Common practice, no source. */
const ROTARY_LEAVES = [0.5, 0.1, 0];
const HAND_FEED = 20;

export interface Choice {
  readonly wanted: number;
  readonly stops: number;
  readonly cusp: number;
}

/** One round end by hand in three ways; what cannot be done is null and its reason among the findings. */
export interface RoundEndByHand {
  readonly end: End;
  /** In the program coordinates of `setup`. */
  readonly setup: number;
  readonly edge: RoundEdge;
  readonly cutter: Cutter;
  readonly choices: readonly Choice[];
  readonly nibble: NibbleTable | null;
  readonly rotary: RotaryTable | null;
  readonly buttons: FilingButtons | null;
  readonly prefer: string;
  readonly findings: readonly Finding[];
}

/** The sides of an arm that lie aslant to the slides. */
export interface ArmByHand {
  readonly name: string;
  readonly cutter: Cutter;
  readonly setup: number;
  readonly sides: readonly ArmSide[];
}

export interface ArmSide {
  readonly side: 'left' | 'right';
  /** Against X, radians, as the work lies in the setup. */
  readonly angle: number;
  readonly sine: SineBarSetting | null;
  readonly swivel: SwivelSetting;
  readonly choices: readonly Choice[];
  readonly nibble: NibbleTable | null;
}

/** A setup's step that goes round the outside, with its cutter. */
const outlineIn = (plan: Plan): { readonly setup: PlannedSetup; readonly step: PlannedStep } | null => {
  for (const setup of plan.setups) {
    const steps = setup.steps.filter((s) => s.step.kind === 'outline');
    const step = steps.at(-1);
    if (step) return { setup, step };
  }
  return null;
};

const SAME = 0.01;
/** What shows so little of its edge is no round end any more, radians. */
const SLIVER = Math.PI / 12;

/** Every round end whose edge can be seen in the outline. */
export const roundEndsByHand = (part: Part, plan: Plan): readonly RoundEndByHand[] => {
  const found = outlineIn(plan);
  if (found === null) return [];
  const { setup, step } = found;
  const arcs = segmentsOf(outlineOf(part)).filter((s): s is Arc => s.kind === 'arc');
  return part.ends.flatMap((end): RoundEndByHand[] => {
    // An edge parted by something between is done as one sweep for each stretch; the longest is told.
    const own = arcs
      .filter(
        (a) =>
          distance(a.centre, end.centre) < SAME && Math.abs(distance(a.from, a.centre) - end.radius) < SAME,
      )
      .sort((a, b) => Math.abs(b.sweep) - Math.abs(a.sweep))[0];
    if (own === undefined || Math.abs(own.sweep) < SLIVER) return [];
    return [endByHand(part, end, edgeIn(setup, own), setup.setup.number, step)];
  });
};

/** An edge of the drawing as it lies in a setup: turned over, what ran one way round runs the other. */
const edgeIn = (setup: PlannedSetup, arc: Arc): RoundEdge => {
  const centre = toProgram(setup.frame, { ...arc.centre, z: 0 });
  const mirrored = setup.frame.face === 'back';
  const from = angleOfStart(arc);
  return {
    centre: { x: centre.x, y: centre.y },
    radius: distance(arc.from, arc.centre),
    side: 'outside',
    from: mirrored ? -from : from,
    sweep: mirrored ? -arc.sweep : arc.sweep,
  };
};

const endByHand = (
  part: Part,
  end: End,
  edge: RoundEdge,
  setup: number,
  { cutter, feed }: PlannedStep,
): RoundEndByHand => {
  const nibbling = nibbleRound(edge, cutter.diameter, { kind: 'cusp', height: CHOSEN_CUSP }, part.unit);
  const rotary = rotaryTable(
    edge,
    cutter.diameter,
    COMMON_ROTARY,
    ROTARY_LEAVES,
    Math.min(feed, HAND_FEED),
    part.unit,
  );
  const buttons = filingButtons(end, part.holes, part.unit);
  return {
    end,
    setup,
    edge,
    cutter,
    choices: nibbleChoices((choice) => nibbleRound(edge, cutter.diameter, choice, part.unit), CUSP_CHOICES),
    nibble: nibbling.ok ? nibbling.table : null,
    rotary: rotary.ok ? rotary.table : null,
    buttons: buttons.ok ? buttons.buttons : null,
    prefer: preference(part, end, buttons.ok ? buttons.buttons : null, nibbling.ok ? nibbling.table : null),
    findings: [...nibbling.findings, ...rotary.findings, ...buttons.findings],
  };
};

/** Larger ends are tiresome with a file, mm. Common practice, no source. */
const LARGE_TO_FILE = 10;
const THICK_TO_FILE = 8;
/** A thinner ring of hardened steel cracks, mm. Common practice, no source. */
const SOUND_WALL = 1.5;

/** Which of the three ways to prefer, and why. Common practice, no source. */
const preference = (
  part: Part,
  end: End,
  buttons: FilingButtons | null,
  nibble: NibbleTable | null,
): string => {
  const say = (mm: number): string => lengthText(mm, part.unit);
  if (
    buttons !== null &&
    buttons.wall >= SOUND_WALL &&
    end.radius <= LARGE_TO_FILE &&
    part.bar.thickness <= THICK_TO_FILE
  ) {
    return `Prefer filing buttons: at ${say(end.radius)} radius and ${say(part.bar.thickness)} thick little is left to file once it is nibbled, and the buttons keep it round and square.`;
  }
  const pinned = part.holes.some((h) => h.depth === null && distance(h.centre, end.centre) < SAME);
  if (pinned && end.radius > LARGE_TO_FILE / 2) {
    return `Prefer the rotary table: ${say(end.radius)} radius and ${say(part.bar.thickness)} thick are much to file, and the hole at the middle of the end centres it.`;
  }
  return nibble === null
    ? 'None of the three serves as it is: mark it out and file to the line.'
    : `Prefer nibbling and a file: ${buttons === null ? 'no through hole at its middle takes a pin' : 'the ring of a button would be thin'}, and ${nibble.stops.length} stops leave only ${say(nibble.cusp)} to file.`;
};

/** Sides nearer than this to a slide are along it, radians. */
const SQUARE = 1e-6;
/** Distance of the rollers of common sine bars, mm: 100 mm, and 5 in. */
const SINE_BAR = { mm: 100, inch: 127 } as const;
/** A swivel's scale by vernier, minutes. Common practice, no source. */
const SWIVEL_STEP = 5;

/** Every arm with a side that lies along neither slide. */
export const armsByHand = (part: Part, plan: Plan): readonly ArmByHand[] => {
  const found = outlineIn(plan);
  if (found === null) return [];
  const { setup, step } = found;
  const place = (p: Point): Point => toProgram(setup.frame, { ...p, z: 0 });
  return part.arms.flatMap((arm): ArmByHand[] => {
    const ends = [arm.from, arm.to].map((name) => part.ends.find((e) => e.name === name));
    const [from, to] = ends.map((e) => (e ? { centre: place(e.centre), radius: e.radius } : null));
    if (!from || !to) return [];
    const angles = armAngles(from, to);
    if (angles === null) return [];
    const sides = (['left', 'right'] as const).flatMap((side): ArmSide[] => {
      const way = angles[side];
      const away = way + (side === 'left' ? Math.PI / 2 : -Math.PI / 2);
      const touch = (r: typeof from): Point => ({
        x: r.centre.x + r.radius * Math.cos(away),
        y: r.centre.y + r.radius * Math.sin(away),
      });
      const edge = { from: touch(from), to: touch(to), clear: side };
      const angle = folded(angleOf(subtract(edge.to, edge.from)));
      if (Math.abs(angle) < SQUARE || Math.abs(Math.abs(angle) - Math.PI / 2) < SQUARE) return [];
      const steep = Math.abs(angle);
      const sine = sineBar(SINE_BAR[part.unit], Math.min(steep, Math.PI / 2 - steep), part.unit);
      const nibbling = nibbleStraight(edge, step.cutter.diameter, { kind: 'cusp', height: CHOSEN_CUSP });
      return [
        {
          side,
          angle,
          sine: sine.ok ? sine.setting : null,
          swivel: swivelSetting(angle, SWIVEL_STEP),
          choices: nibbleChoices(
            (choice) => nibbleStraight(edge, step.cutter.diameter, choice),
            CUSP_CHOICES,
          ),
          nibble: nibbling.ok ? nibbling.table : null,
        },
      ];
    });
    return sides.length === 0
      ? []
      : [{ name: arm.name, cutter: step.cutter, setup: setup.setup.number, sides }];
  });
};

/** A line's angle against X, over −90° to 90°. */
const folded = (angle: number): number => {
  const half = ((angle % Math.PI) + Math.PI) % Math.PI;
  return half > Math.PI / 2 + 1e-12 ? half - Math.PI : half;
};
