import * as v from 'valibot';
import { MATERIALS } from './part.ts';

/**
 * The part file: its shape, and nothing of its meaning. The published JSON Schema is made from this.
 * Lengths are in the file's unit; angles in degrees; every one of them may be a number or a formula.
 */
export const FORMAT = 'leverwright-part';
export const VERSION = 1;

const say = v.description;

const name = (what: string) =>
  v.pipe(
    v.string(),
    v.regex(/\S/, 'a name needs at least one letter'),
    v.maxLength(120, 'a name may have at most 120 characters'),
    say(what),
  );

const quantity = (what: string) =>
  v.pipe(
    v.union([v.pipe(v.number(), v.finite('a finite number is wanted')), v.pipe(v.string(), v.minLength(1))]),
    say(`${what} A number, or a formula over the named dimensions.`),
  );

const point = (what: string) =>
  v.pipe(v.strictTuple([quantity('Across, to the right.'), quantity('Up.')]), say(`${what} As [x, y].`));

const length = (what: string) => quantity(`${what} In the file's unit.`);

const rectangle = v.pipe(
  v.strictTuple([point('A corner.'), point('The corner opposite.')]),
  say('An upright rectangle, by two opposite corners.'),
);
const corners = v.pipe(
  v.array(point('A corner.')),
  v.minLength(3, 'a polygon has at least three corners'),
  v.maxLength(200, 'a polygon may have at most 200 corners'),
  say('The corners of a polygon in order; either way round.'),
);
const cornerRadius = v.optional(length('Radius of every corner; 0, for sharp ones, when left out.'));

const bar = v.pipe(
  v.strictObject({
    length: length('Along X.'),
    width: length('Along Y.'),
    thickness: length('Along Z.'),
    material: v.picklist(MATERIALS),
    corner: v.optional(
      point('Its lower left corner in the drawing; when left out, the outline lies in its middle.'),
    ),
    sawn: v.optional(length('What the saw left on each end beyond the length; 0 when left out.')),
  }),
  say('The rectangular piece the part is cut from.'),
);

const end = v.strictObject({
  name: name('What the end is called.'),
  centre: point('Its centre.'),
  radius: length('Its radius.'),
});

const arm = v.pipe(
  v.strictObject({
    name: v.optional(name('What the arm is called; “from – to” when left out.')),
    from: name('The end it starts at.'),
    to: name('The end it runs to.'),
  }),
  say('The straight-sided body between two ends, tangent to both.'),
);

/** Which of the keys an object must have exactly one of, said for people and for the JSON Schema. */
const exactlyOne = <T extends object>(keys: readonly (keyof T & string)[]) =>
  v.check<T, string>(
    (value) => keys.filter((key) => value[key] !== undefined).length === 1,
    `exactly one of ${keys.map((key) => `“${key}”`).join(', ')} is wanted`,
  );
const oneOf = (...keys: string[]) => ({ oneOf: keys.map((key) => ({ required: [key] })) });

const plateEntries = v.strictObject({
  name: name('What the plate is called.'),
  corners: v.optional(corners),
  rectangle: v.optional(rectangle),
  cornerRadius,
});
const plate = v.pipe(
  plateEntries,
  exactlyOne<v.InferOutput<typeof plateEntries>>(['corners', 'rectangle']),
  v.metadata(oneOf('corners', 'rectangle')),
  say('A polygon or rectangle that joins the outline.'),
);

const face = (what: string) => v.optional(v.pipe(v.picklist(['front', 'back']), say(what)));

const holeName = { name: name('What the hole is called.') };
const holeBase = {
  centre: point('Its centre.'),
  depth: v.optional(
    length('How deep it is at full diameter, from the part’s own surface; right through when left out.'),
  ),
  from: face('The face it is drilled from; the front when left out.'),
};

const hole = v.variant('purpose', [
  v.strictObject({
    ...holeName,
    purpose: v.literal('clearance'),
    ...holeBase,
    diameter: length('Its diameter.'),
  }),
  v.strictObject({
    ...holeName,
    purpose: v.literal('reamed'),
    ...holeBase,
    diameter: length('Its diameter, reamed.'),
  }),
  v.strictObject({
    ...holeName,
    purpose: v.literal('tapped'),
    ...holeBase,
    thread: v.pipe(
      v.string(),
      v.maxLength(40, 'a thread designation may have at most 40 characters'),
      say('As on a drawing: “M3”, “M8 × 1”, “4 BA”, “8-32 UNC”, “5/32 × 40”.'),
    ),
    engagement: v.optional(
      quantity(
        'Share of the full thread height that the tap drill should leave, 0.4 to 1; 0.85 when left out.',
      ),
    ),
    drill: v.optional(length('Tap drill; when left out, worked out from the thread and the engagement.')),
  }),
  v.strictObject({
    ...holeName,
    purpose: v.literal('counterbored'),
    ...holeBase,
    diameter: length('Diameter of the hole itself.'),
    boreDiameter: length('Diameter of the counterbore.'),
    boreDepth: length('Depth of the counterbore from the part’s own surface.'),
  }),
]);

const slot = v.pipe(
  v.strictObject({
    name: name('What the slot is called.'),
    from: point('Centre of one round end.'),
    to: point('Centre of the other.'),
    width: length('Its width.'),
    depth: v.optional(length('From the part’s own surface; right through when left out.')),
    face: face('The face it is cut from; the front when left out.'),
  }),
  say('A closed slot with two round ends.'),
);

const fork = v.pipe(
  v.strictObject({
    name: name('What the fork is called.'),
    mouth: point('The middle of its opening.'),
    direction: quantity('The way inward from the mouth, in degrees anticlockwise from X.'),
    width: length('Its width.'),
    depth: length('From the mouth to the bottom of the root.'),
    root: v.optional(v.pipe(v.picklist(['round', 'square']), say('Round when left out.'))),
    cornerRadius: v.optional(length('Radius in the corners of a square root.')),
  }),
  say('A slot open at the edge, right through.'),
);

const areaEntries = v.strictObject({
  disc: v.optional(
    v.pipe(v.strictObject({ centre: point('Its centre.'), radius: length('Its radius.') }), say('A disc.')),
  ),
  rectangle: v.optional(rectangle),
  corners: v.optional(corners),
  cornerRadius,
});
const landEntries = v.strictObject({
  name: name('What the land is called.'),
  area: v.pipe(
    v.union([
      v.literal('whole'),
      v.pipe(
        areaEntries,
        exactlyOne<v.InferOutput<typeof areaEntries>>(['disc', 'rectangle', 'corners']),
        v.metadata(oneOf('disc', 'rectangle', 'corners')),
      ),
    ]),
    say('The whole outline, a disc, a rectangle or a polygon.'),
  ),
  top: v.optional(length('Height of its top above the bar’s back; the bar’s front when left out.')),
  bottom: v.optional(length('Height of its underside above the bar’s back; 0 when left out.')),
});
const land = v.pipe(
  landEntries,
  say('A region with its own top and bottom. Where two lie over each other, the later one holds.'),
);

const MOST = 500;
const many = <T extends v.GenericSchema>(item: T) =>
  v.optional(v.pipe(v.array(item), v.maxLength(MOST, `at most ${MOST} of a kind are read`)));

export const PartDocumentSchema = v.pipe(
  v.strictObject({
    $schema: v.optional(v.pipe(v.string(), say('Where the schema of this file lies; for editors only.'))),
    format: v.literal(FORMAT),
    version: v.literal(VERSION),
    name: name('What the part is called.'),
    unit: v.pipe(v.picklist(['mm', 'inch']), say('Unit of every length in the file.')),
    dimensions: v.optional(
      v.pipe(
        v.record(v.string(), quantity('A named dimension, in the file’s unit.')),
        v.maxEntries(MOST, `at most ${MOST} dimensions are read`),
        say('Named dimensions that formulas may use.'),
      ),
    ),
    bar,
    ends: many(end),
    arms: many(arm),
    plates: many(plate),
    insideRadius: v.optional(
      length(
        'Radius that every inside corner of the outline is filled to, as a cutter leaves it; 0 when left out.',
      ),
    ),
    holes: many(hole),
    slots: many(slot),
    forks: many(fork),
    lands: many(land),
    leastWall: v.optional(
      length('A wall thinner than this beside a fork, slot or hole is refused; 0.8 mm when left out.'),
    ),
    route: v.optional(
      v.pipe(
        v.record(v.string(), v.unknown()),
        say('How the part is made, where it departs from what is proposed.'),
      ),
    ),
  }),
  v.title('Leverwright part'),
  say('A small lever, fork or link and the bar it is cut from. Angles are in degrees.'),
);

/** The keys known at each place, for the hint beside an unknown one; under '' those of the file itself. */
export const KNOWN_KEYS: Readonly<Record<string, readonly string[]>> = {
  '': Object.keys(PartDocumentSchema.entries),
  bar: Object.keys(bar.entries),
  ends: Object.keys(end.entries),
  arms: Object.keys(arm.entries),
  plates: Object.keys(plate.entries),
  holes: [...new Set(hole.options.flatMap((option) => Object.keys(option.entries)))],
  slots: Object.keys(slot.entries),
  forks: Object.keys(fork.entries),
  lands: [...Object.keys(landEntries.entries), ...Object.keys(areaEntries.entries)],
};

export type PartDocument = v.InferOutput<typeof PartDocumentSchema>;
export type DocumentHole = NonNullable<PartDocument['holes']>[number];
export type DocumentPlate = NonNullable<PartDocument['plates']>[number];
export type DocumentLand = NonNullable<PartDocument['lands']>[number];
