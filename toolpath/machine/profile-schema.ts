import * as v from 'valibot';
import { MATERIALS } from '../../sketch/part/part.ts';

/**
 * The machine file: its shape, and nothing of its meaning. The published JSON Schema is made from this.
 * Lengths are in mm whatever the unit of the part, feeds in mm/min, speeds in turns/min, power in W, angles in degrees.
 */
export const PROFILE_FORMAT = 'leverwright-machine';
export const PROFILE_VERSION = 1;

const say = v.description;

const above = (least: number, most: number, what: string) =>
  v.pipe(
    v.number(),
    v.finite('a finite number is wanted'),
    v.gtValue(least, `more than ${least} is wanted`),
    v.maxValue(most, `at most ${most} is wanted`),
    say(what),
  );
const length = (what: string) => above(0, 10_000, `${what}, mm.`);
const rate = (what: string) => above(0, 1_000_000, what);
const count = (most: number, what: string) =>
  v.pipe(
    v.number(),
    v.integer('a whole number is wanted'),
    v.minValue(1, 'at least 1 is wanted'),
    v.maxValue(most, `at most ${most} is wanted`),
    say(what),
  );
const text = (what: string) =>
  v.pipe(
    v.string(),
    v.regex(/\S/, 'at least one letter is wanted'),
    v.maxLength(80, 'at most 80 characters are wanted'),
    say(what),
  );
const flag = (what: string) => v.pipe(v.boolean(), say(what));

const cutter = v.pipe(
  v.strictObject({
    name: text('The name you know it by; no two alike.'),
    number: count(99_999, 'Its T number; no two alike.'),
    kind: v.picklist(['endmill', 'drill', 'reamer', 'spot', 'tap']),
    diameter: v.optional(above(0, 100, 'Diameter, mm; may be left out for a tap.')),
    flutes: v.optional(count(20, 'Teeth; when left out 3, for drills and spots 2, for reamers 6.')),
    fluteLength: length('How deep it can cut beside itself'),
    material: v.optional(v.picklist(['high-speed steel', 'carbide'])),
    pointAngle: v.optional(
      above(10, 180, 'Angle of the point, degrees; 118 for drills and 90 for spots when left out.'),
    ),
    centreCutting: v.optional(flag('Whether an endmill may go straight down; it may when left out.')),
    ramp: v.optional(above(0, 90, 'Steepest ramp of an endmill, degrees; 3 when left out.')),
    thread: v.optional(text('Thread of a tap: “M3”, “4 BA”, “8-32 UNC”.')),
  }),
  say('A tool for the spindle, or a hand tap.'),
);
export type CutterEntry = v.InferOutput<typeof cutter>;

/** Figures of a screw: whether they can be right is said by `readScrew`, in words of the trade. */
const figure = (what: string) => v.pipe(v.number(), v.finite('a finite number is wanted'), say(what));
const screw = (what: string) =>
  v.pipe(
    v.strictObject({
      pitch: figure('Travel of one turn, in the screws’ unit.'),
      divisions: figure('Lines once round the dial; a half is allowed.'),
      direction: v.pipe(
        v.picklist(['rises', 'falls']),
        say(
          'Whether the coordinate (of the cutter over the work) rises or falls as the dial’s figures rise.',
        ),
      ),
      backlash: figure('Lost motion of the nut, in the screws’ unit.'),
    }),
    say(what),
  );

/** A figure with which nothing can be reckoned beyond its ends: `what` says so in words of the trade. */
const within = (least: number, most: number, unit: string, what: string) =>
  v.pipe(
    v.number(),
    v.finite('a finite number is wanted'),
    v.minValue(least, `at least ${least}${unit} is wanted`),
    v.maxValue(most, `at most ${most}${unit} is wanted`),
    say(what),
  );

/** Constants that make no sense are refused here, so that no estimate ever comes of them. */
const materialFigures = v.strictObject({
  kc11: v.optional(
    within(10, 10_000, ' MPa', 'Specific cutting force at a chip 1 mm thick and 1 mm wide, MPa.'),
  ),
  mc: v.optional(within(0, 0.9, '', 'How the specific cutting force grows as chips get thinner.')),
  radialShare: v.optional(within(0, 2, '', 'Force across the cut as a share of that along it.')),
  axialShare: v.optional(within(0, 2, '', 'Force along the cutter as a share of that along the cut.')),
  young: v.optional(within(500, 700_000, ' MPa', 'Young’s modulus, MPa: steel has about 205 000, not 205.')),
  poisson: v.optional(within(0, 0.48, '', 'Poisson’s ratio.')),
  density: v.optional(within(500, 25_000, ' kg/m³', 'Density, kg/m³: steel has about 7850.')),
  source: v.optional(text('Where these figures are from.')),
});

/** Settings of a program's form; any may be left out. Also what `--form` takes. */
export const FormSchema = v.strictObject({
  unit: v.optional(v.picklist(['mm', 'inch'])),
  decimals: v.optional(
    v.pipe(
      v.number(),
      v.integer('a whole number is wanted'),
      v.minValue(2, 'at least 2 is wanted'),
      v.maxValue(6, 'at most 6 is wanted'),
      say('Decimals of coordinates.'),
    ),
  ),
  arcs: v.optional(v.pipe(v.picklist(['arcs', 'lines']), say('G2 and G3, or chords.'))),
  chord: v.optional(above(0, 0.1, 'Farthest that a chord may stray from its arc, mm.')),
  fullCircles: v.optional(flag('Whether a full turn may stand in one block.')),
  toolChange: v.optional(
    v.pipe(v.picklist(['M6', 'stop-and-prompt']), say('M6, or a stop with a message for the hand.')),
  ),
  drilling: v.optional(
    v.pipe(v.picklist(['canned', 'spelled-out']), say('G81 to G83, or every peck spelled out.')),
  ),
  lineNumbers: v.optional(flag('Whether lines begin with N and a number.')),
  coolant: v.optional(v.picklist(['none', 'flood'])),
});
export type FormChanges = v.InferOutput<typeof FormSchema>;

export const ProfileSchema = v.pipe(
  v.strictObject({
    $schema: v.optional(v.pipe(v.string(), say('Where the schema of this file lies; for editors only.'))),
    format: v.literal(PROFILE_FORMAT),
    version: v.literal(PROFILE_VERSION),
    name: text('What you call the machine.'),
    spindle: v.optional(
      v.strictObject({
        least: rate('Slowest, turns/min.'),
        most: rate('Fastest, turns/min.'),
        power: rate('Power, W.'),
        steps: v.optional(
          v.pipe(
            v.array(rate('A speed, turns/min.')),
            say('The speeds its belts or gears give; left out or empty for a stepless spindle.'),
          ),
        ),
      }),
    ),
    feed: v.optional(
      v.strictObject({
        most: rate('Fastest feed sideways, mm/min.'),
        mostPlunge: rate('Fastest feed downward, mm/min.'),
        rapid: rate('Speed of rapids, mm/min.'),
      }),
    ),
    travel: v.optional(v.strictObject({ x: length('Along X'), y: length('Along Y'), z: length('Along Z') })),
    vice: v.optional(
      v.strictObject({
        jawWidth: length('Length of the jaws along X'),
        jawHeight: length('From the vice’s bed to the top of the jaws'),
        opening: length('Widest opening'),
        torque: v.optional(above(0, 1000, 'How hard you do it up, N·m.')),
        handle: v.optional(length('Length of its handle')),
        clamp: v.optional(
          above(0, 200_000, 'Clamping force where it was measured, N; goes before the torque.'),
        ),
        friction: v.optional(
          within(0.02, 1, '', 'Friction between jaw and work; 0.15 when left out, as steel on steel, dry.'),
        ),
      }),
    ),
    parallels: v.optional(
      v.array(v.strictObject({ height: length('Height'), thickness: length('Thickness') })),
    ),
    hand: v.optional(
      v.pipe(
        v.strictObject({
          unit: v.pipe(
            v.picklist(['mm', 'inch']),
            say('The unit of the screws: of their pitch and backlash.'),
          ),
          readout: v.optional(flag('Whether a digital readout shows the slides’ places; no when left out.')),
          x: screw('Handwheel of the slide along X.'),
          y: screw('Handwheel of the slide along Y.'),
          z: screw('Handwheel that sets the height: knee, head or quill.'),
        }),
        say('Handwheels; left out for a machine driven by programs only.'),
      ),
    ),
    cutters: v.optional(v.pipe(v.array(cutter), v.minLength(1, 'at least one cutter is wanted'))),
    materials: v.optional(
      v.pipe(
        v.strictObject(v.entriesFromList(MATERIALS, v.optional(materialFigures))),
        say('Figures of materials in place of the usual ones, for the estimates of force and bending.'),
      ),
    ),
    program: v.optional(v.pipe(FormSchema, say('How the controller wants its programs.'))),
  }),
  v.title('Leverwright machine'),
  say('A small mill, its vice and its cutters. A section that is left out is the example machine’s.'),
);
export type ProfileDocument = v.InferOutput<typeof ProfileSchema>;

/** A fault of form as what follows the name of the place it is in. */
export const faultWords = (issue: v.BaseIssue<unknown>): string => {
  if (issue.kind === 'validation') return `: ${issue.message}`;
  if (issue.expected === 'never') return ' is not known here';
  if (issue.received === 'undefined') return ' is missing';
  switch (issue.type) {
    case 'picklist':
    case 'literal':
      return ` should be ${(issue.expected ?? '').replace(/[()]/g, '').replace(/ \| /g, ' or ')}`;
    case 'number':
      return ' should be a number';
    case 'string':
      return ' should be a text in quotes';
    case 'boolean':
      return ' should be true or false';
    case 'array':
      return ' should be a list in square brackets';
    default:
      return ' should be an object in braces';
  }
};
