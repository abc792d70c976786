import type { Measure } from '../draft/measure.ts';
import { rootRadius } from '../part/cut-outs.ts';
import type { End, Fork, Hole, Part } from '../part/part.ts';
import { angleOf, distance, midpoint, type Point, polar, subtract } from '../shape/point.ts';
import { type Region, segmentsOf } from '../shape/region.ts';
import { type Arc, radiusOf } from '../shape/segment.ts';
import { type Dimension, figure } from './dimension.ts';

type Note = Extract<Dimension, { kind: 'note' }>;

const SAME = 1e-3;
/** Arcs of the outline are recovered to within this of those they come from, mm. */
const NEAR = 0.01;

/** Everything a drawing of the part says on leaders: radii, holes, slots and round lands. */
export const notesOf = (part: Part, outline: Region): readonly Note[] => {
  const say = (mm: number): string => figure(mm, part.unit);
  const { bar } = part;
  const middle = { x: bar.corner.x + bar.length / 2, y: bar.corner.y + bar.width / 2 };
  const away = (p: Point): number | null =>
    distance(p, middle) > SAME ? angleOf(subtract(p, middle)) : null;
  const arcs = segmentsOf(outline).filter((s) => s.kind === 'arc');
  const joined = new Set(part.arms.flatMap((a) => [a.from, a.to]));

  const ends = part.ends.flatMap((e, i): Note[] => {
    const edges = edgesOfEnd(e, outline);
    // An end that is lost in a plate still says how wide its arm is there.
    if (edges.length === 0 && !joined.has(e.name)) return [];
    return [
      {
        kind: 'note',
        feature: e.name,
        at: e.centre,
        radius: e.radius,
        toward: away(e.centre),
        edges: edges.length > 0 ? edges : null,
        text: `R${say(e.radius)}`,
        measures: field('ends', i, 'radius'),
      },
    ];
  });

  const plates = part.plates.flatMap((p, i): Note[] => {
    const own = arcs.filter(
      (s) => s.sweep > 0 && Math.abs(radiusOf(s) - p.cornerRadius) < NEAR && isCorner(s, p.corners),
    );
    const first = own[0];
    if (p.cornerRadius < SAME || first === undefined) return [];
    const text = `${times(own.length)}R${say(p.cornerRadius)}`;
    return [
      {
        ...edgeNote(p.name, first, text, false),
        toward: away(first.centre),
        measures: field('plates', i, 'cornerRadius'),
      },
    ];
  });

  return [
    ...ends,
    ...plates,
    ...insideCorners(part, arcs, say),
    ...holeNotes(part, say),
    ...part.slots.map(
      (s, i): Note => ({
        kind: 'note',
        feature: s.name,
        at: midpoint(s.from, s.to),
        radius: s.width / 2,
        toward: null,
        edges: null,
        text: `slot ${say(s.width)} wide${depthWords(s.depth, s.face, say)}`,
        measures: field('slots', i, 'width'),
      }),
    ),
    ...part.forks.flatMap((f, i): Note[] => {
      // A round root follows from the width.
      if (f.root.kind === 'round' || f.root.cornerRadius < SAME) return [];
      return [rootNote(f, `2 × R${say(rootRadius(f))}`, field('forks', i, 'cornerRadius'))];
    }),
    ...part.lands.flatMap((l, i): Note[] =>
      l.shape.kind === 'disc' && !part.ends.some((e) => isRoundOf(e, l.shape))
        ? [
            {
              kind: 'note',
              feature: l.name,
              at: l.shape.centre,
              radius: l.shape.radius,
              toward: away(l.shape.centre),
              edges: null,
              text: `⌀${say(2 * l.shape.radius)}`,
              measures: { kind: 'field', path: ['lands', i, 'area', 'disc', 'radius'], factor: 2 },
            },
          ]
        : [],
    ),
  ];
};

const field = (...path: readonly (string | number)[]): Measure => ({ kind: 'field', path, factor: 1 });

const times = (count: number): string => (count > 1 ? `${count} × ` : '');

const edgeNote = (feature: string, s: Arc, text: string, hollow: boolean): Omit<Note, 'measures'> => ({
  kind: 'note',
  feature,
  at: s.centre,
  radius: radiusOf(s),
  toward: null,
  edges: [[angleOf(subtract(s.from, s.centre)), s.sweep]],
  hollow,
  text,
});

/** A land that is exactly an end's own round needs no size of its own. */
const isRoundOf = (e: End, shape: Part['lands'][number]['shape']): boolean =>
  shape.kind === 'disc' &&
  distance(e.centre, shape.centre) < SAME &&
  Math.abs(e.radius - shape.radius) < SAME;

/** Whether an arc rounds one of the corners: it lies nearer to that corner than its centre does. */
const isCorner = (s: Arc, corners: readonly Point[]): boolean => {
  const top = polar(s.centre, radiusOf(s), angleOf(subtract(s.from, s.centre)) + s.sweep / 2);
  return corners.some(
    (c) =>
      distance(c, top) < distance(c, s.centre) &&
      // The corner, the arc's middle and its centre lie in line.
      Math.abs(distance(c, s.centre) - distance(c, top) - radiusOf(s)) < NEAR,
  );
};

/** The radius that a cutter leaves in the outline's inside corners, said once. */
const insideCorners = (part: Part, arcs: readonly Arc[], say: (mm: number) => string): readonly Note[] => {
  const radius = part.insideRadius ?? 0;
  const own = arcs.filter((s) => s.sweep < 0 && Math.abs(radiusOf(s) - radius) < NEAR);
  const first = own[0];
  if (radius < SAME || first === undefined) return [];
  const text = `${times(own.length)}R${say(radius)}`;
  return [{ ...edgeNote('', first, text, true), measures: field('insideRadius') }];
};

const rootNote = (f: Fork, text: string, measures: Measure): Note => {
  const r = rootRadius(f);
  const along = polar(f.mouth, f.depth - r, f.direction);
  return {
    kind: 'note',
    feature: f.name,
    at: polar(along, f.width / 2 - r, f.direction + Math.PI / 2),
    radius: r,
    toward: null,
    edges: [[f.direction, Math.PI / 2]],
    hollow: true,
    text,
    measures,
  };
};

/** Holes that are noted alike are noted once, with their number. */
const holeNotes = (part: Part, say: (mm: number) => string): readonly Note[] => {
  const groups = new Map<string, number[]>();
  part.holes.forEach((h, i) => {
    const text = holeNote(h, say);
    groups.set(text, [...(groups.get(text) ?? []), i]);
  });
  return [...groups].map(([text, [first = 0, ...others]]): Note => {
    const hole = part.holes[first]!;
    return {
      kind: 'note',
      feature: hole.name,
      at: hole.centre,
      radius: reachOf(hole),
      toward: null,
      edges: null,
      text: `${times(others.length + 1)}${text}`,
      measures: holeField(hole, first),
      alike: others.map((i) => ({
        feature: part.holes[i]!.name,
        measures: holeField(part.holes[i]!, i),
      })),
    };
  });
};

/** A tapped hole's thread is a word and no figure. */
const holeField = (h: Hole, i: number): Measure | null =>
  h.purpose === 'tapped' ? null : field('holes', i, 'diameter');

/** Radius of the hole's outermost line, mm. */
const reachOf = (h: Hole): number => {
  switch (h.purpose) {
    case 'tapped':
      return h.major / 2;
    case 'counterbored':
      return h.boreDiameter / 2;
    case 'clearance':
    case 'reamed':
      return h.diameter / 2;
  }
};

/** The directions in which an end's own round is part of the outline. */
export const edgesOfEnd = (e: End, outline: Region): readonly (readonly [number, number])[] =>
  segmentsOf(outline).flatMap((s) =>
    s.kind === 'arc' &&
    s.sweep > 0 &&
    distance(s.centre, e.centre) < NEAR &&
    Math.abs(radiusOf(s) - e.radius) < NEAR
      ? [[angleOf(subtract(s.from, s.centre)), s.sweep] as const]
      : [],
  );

/** A hole as it is noted on a drawing. */
export const holeNote = (h: Hole, say: (mm: number) => string): string => {
  const deep = depthWords(h.depth, h.from, say);
  switch (h.purpose) {
    case 'clearance':
      return `⌀${say(h.diameter)}${deep}`;
    case 'reamed':
      return `⌀${say(h.diameter)} reamed${deep}`;
    case 'tapped':
      return `${h.designation}${deep}`;
    case 'counterbored':
      return `⌀${say(h.diameter)}${deep}, counterbored ⌀${say(h.boreDiameter)} × ${say(h.boreDepth)} deep`;
  }
};

const depthWords = (depth: number | null, from: 'front' | 'back', say: (mm: number) => string): string => {
  if (depth === null) return ' through';
  return ` × ${say(depth)} deep${from === 'back' ? ' from the back' : ''}`;
};
