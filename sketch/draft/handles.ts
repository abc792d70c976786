import type { Quantity } from '../part/dimensions.ts';
import type { Part } from '../part/part.ts';
import { add, angleOf, distance, type Point, polar, scale, subtract } from '../shape/point.ts';
import { getIn, type Json, type JsonObject, type JsonPath, setIn } from './json.ts';
import { isTied } from './quantity.ts';
import { type Caught, snapDirection, snapRadius } from './snap.ts';
import type { SnapField } from './snap-field.ts';
import { inUnit, statedAt } from './stated.ts';
import { degrees } from './stroke-sizes.ts';

/** Something of a feature to take hold of and pull. */
export interface Handle {
  readonly key: string;
  /** The way to the figure or place it changes. */
  readonly path: JsonPath;
  readonly at: Point;
  /** What it is, spoken: "radius of neck". */
  readonly label: string;
  /** A place moves the feature's own point; a size changes a length; they are drawn differently. */
  readonly kind: 'place' | 'size';
  /** Formulas that hold it where it is; a decision that a pull does not override. */
  readonly held: readonly string[];
  /** Whether anything of it is a plain number, so that it can be pulled at all. */
  readonly free: boolean;
  /** The document with the handle pulled to a place. */
  readonly pull: (document: JsonObject, to: Caught, field: SnapField, reach: number) => JsonObject;
}

const formulas = (document: JsonObject, path: JsonPath): readonly string[] => {
  const at = getIn(document, path);
  const tied = (q: Json | undefined): q is string => typeof q === 'string' && isTied(q);
  if (tied(at)) return [at];
  return Array.isArray(at) ? at.filter(tied) : [];
};

/** A number is replaced; a formula stays. */
const replace = (document: JsonObject, path: JsonPath, value: Quantity): JsonObject => {
  const now = getIn(document, path);
  return typeof now === 'string' && isTied(now) ? document : (setIn(document, path, value) as JsonObject);
};

/** A place put where something caught: numbers change, formulas stay. */
export const putPlace = (
  document: JsonObject,
  path: JsonPath,
  to: Caught,
  unit: Part['unit'],
): JsonObject => {
  const x = to.stated[0] ?? inUnit(to.point.x, unit);
  const y = to.stated[1] ?? inUnit(to.point.y, unit);
  return replace(replace(document, [...path, 0], x), [...path, 1], y);
};

/** What there is to take hold of on a feature, in the order of its fields. */
export const handlesOf = (document: JsonObject, part: Part, name: string): readonly Handle[] => {
  const place = (path: JsonPath, at: Point, label: string): Handle => ({
    key: path.join('.'),
    path,
    at,
    label,
    kind: 'place',
    held: formulas(document, path),
    free: formulas(document, path).length < 2,
    pull: (d, to) => putPlace(d, path, to, part.unit),
  });
  const size = (path: JsonPath, at: Point, label: string, value: SizePull): Handle => ({
    key: path.join('.'),
    path,
    at,
    label,
    kind: 'size',
    held: formulas(document, path),
    free: formulas(document, path).length === 0,
    pull: (d, to, field, reach) => replace(d, path, value(to, field, reach)),
  });
  const round =
    (centre: Point, factor: 1 | 2): SizePull =>
    (to, field, reach) =>
      inUnit(
        factor *
          snapRadius(centre, distance(centre, to.point), reach, field, factor === 2 ? 'hole' : 'end').radius,
        part.unit,
      );

  const list: Handle[] = [];
  part.ends.forEach((e, i) => {
    if (e.name !== name) return;
    const path = ['ends', i];
    list.push(
      place([...path, 'centre'], e.centre, `centre of ${name}`),
      size(
        [...path, 'radius'],
        polar(e.centre, e.radius, Math.PI / 4),
        `radius of ${name}`,
        round(e.centre, 1),
      ),
    );
  });
  part.holes.forEach((h, i) => {
    if (h.name !== name) return;
    const path = ['holes', i];
    list.push(place([...path, 'centre'], h.centre, `centre of ${name}`));
    if (h.purpose === 'tapped') return;
    const edge = polar(h.centre, h.diameter / 2, Math.PI / 4);
    list.push(size([...path, 'diameter'], edge, `diameter of ${name}`, round(h.centre, 2)));
  });
  part.slots.forEach((s, i) => {
    if (s.name !== name) return;
    const path = ['slots', i];
    const along = angleOf(subtract(s.to, s.from));
    list.push(
      place([...path, 'from'], s.from, `start of ${name}`),
      place([...path, 'to'], s.to, `end of ${name}`),
      size(
        [...path, 'width'],
        polar(scale(add(s.from, s.to), 0.5), s.width / 2, along + Math.PI / 2),
        `width of ${name}`,
        acrossLine(s.from, along, part.unit),
      ),
    );
  });
  part.forks.forEach((f, i) => {
    if (f.name !== name) return;
    const path = ['forks', i];
    list.push(place([...path, 'mouth'], f.mouth, `mouth of ${name}`));
    list.push({
      key: [...path, 'depth'].join('.'),
      path: [...path, 'depth'],
      at: polar(f.mouth, f.depth, f.direction),
      label: `depth and direction of ${name}`,
      kind: 'size',
      held: [...formulas(document, [...path, 'depth']), ...formulas(document, [...path, 'direction'])],
      free: ['depth', 'direction'].some((key) => formulas(document, [...path, key]).length === 0),
      pull: (d, to, field) => {
        const away = subtract(to.point, f.mouth);
        const depth = Math.max(field.grid, Math.round(Math.hypot(away.x, away.y) / field.grid) * field.grid);
        const deep = replace(d, [...path, 'depth'], inUnit(depth, part.unit));
        return replace(deep, [...path, 'direction'], degrees(snapDirection(angleOf(away), null)));
      },
    });
    const side = polar(polar(f.mouth, f.depth / 2, f.direction), f.width / 2, f.direction + Math.PI / 2);
    list.push(
      size([...path, 'width'], side, `width of ${name}`, acrossLine(f.mouth, f.direction, part.unit)),
    );
  });
  for (const [kind, under] of [
    ['plates', []],
    ['lands', ['area']],
  ] as const) {
    part[kind].forEach((item, i) => {
      if (item.name === name)
        list.push(...areaHandles(document, [kind, i, ...under], name, part, place, size));
    });
  }
  return list;
};

type SizePull = (to: Caught, field: SnapField, reach: number) => Quantity;
type PlaceMaker = (path: JsonPath, at: Point, label: string) => Handle;
type SizeMaker = (path: JsonPath, at: Point, label: string, value: SizePull) => Handle;

/** Twice the distance from a line: the width of what lies along it. */
const acrossLine =
  (from: Point, direction: number, unit: Part['unit']): SizePull =>
  (to, field) => {
    const d = subtract(to.point, from);
    const off = Math.abs(d.y * Math.cos(direction) - d.x * Math.sin(direction));
    return inUnit(Math.max(field.grid, Math.round((2 * off) / field.grid) * field.grid), unit);
  };

const areaHandles = (
  document: JsonObject,
  path: JsonPath,
  name: string,
  part: Part,
  place: PlaceMaker,
  size: SizeMaker,
): readonly Handle[] => {
  const area = getIn(document, path);
  if (typeof area !== 'object' || area === null || Array.isArray(area)) return [];
  const shape = part.lands.find((l) => l.name === name)?.shape ?? part.plates.find((p) => p.name === name);
  if (!shape) return [];
  if ('disc' in area && 'centre' in shape) {
    const { centre, radius } = shape;
    return [
      place([...path, 'disc', 'centre'], centre, `centre of ${name}`),
      size(
        [...path, 'disc', 'radius'],
        polar(centre, radius, Math.PI / 4),
        `radius of ${name}`,
        (to, field, reach) =>
          inUnit(snapRadius(centre, distance(centre, to.point), reach, field).radius, part.unit),
      ),
    ];
  }
  if (!('corners' in shape)) return [];
  if ('rectangle' in area) return rectangleHandles(document, path, name, shape.corners, part, place);
  // A polygon may have been turned round to run anticlockwise: each stated corner is looked for among them.
  const stated = getIn(document, [...path, 'corners']);
  const count = Array.isArray(stated) ? stated.length : 0;
  const turned = isTurned(document, path, shape.corners, part);
  return Array.from({ length: count }, (_, i) =>
    place([...path, 'corners', i], shape.corners[turned ? count - 1 - i : i]!, `corner ${i + 1} of ${name}`),
  );
};

/** Whether the corners run the other way in the part than in the document. */
const isTurned = (document: JsonObject, path: JsonPath, corners: readonly Point[], part: Part): boolean => {
  const first = statedAt(document, [...path, 'corners', 0]);
  const c = corners[0];
  if (!first || !c || typeof first[0] !== 'number' || typeof first[1] !== 'number') return false;
  return Math.abs(inUnit(c.x, part.unit) - first[0]) + Math.abs(inUnit(c.y, part.unit) - first[1]) > 1e-6;
};

/** The four corners; each pulls the stated coordinates that it shares. */
const rectangleHandles = (
  document: JsonObject,
  path: JsonPath,
  name: string,
  corners: readonly Point[],
  part: Part,
  place: PlaceMaker,
): readonly Handle[] => {
  const [low, , high] = corners;
  const a = statedAt(document, [...path, 'rectangle', 0]);
  const b = statedAt(document, [...path, 'rectangle', 1]);
  if (!low || !high || !a || !b) return [];
  // Which of the two stated corners is the left one, and which the lower.
  const nearer = (axis: 0 | 1, v: number): 0 | 1 => {
    const [p, q] = [a[axis], b[axis]].map((s) => (typeof s === 'number' ? s : null));
    if (p === null && q === null) return 0;
    const gap = (n: number | null | undefined, o: number | null | undefined): number =>
      typeof n === 'number' ? Math.abs(n - v) : typeof o === 'number' && Math.abs(o - v) < 1e-6 ? 1 : 0;
    return gap(p, q) <= gap(q, p) ? 0 : 1;
  };
  const left = nearer(0, inUnit(low.x, part.unit));
  const lower = nearer(1, inUnit(low.y, part.unit));
  const other = (i: 0 | 1): 0 | 1 => (i === 0 ? 1 : 0);
  const corner = (x: 0 | 1, y: 0 | 1, at: Point, words: string): Handle => {
    const xPath = [...path, 'rectangle', x, 0];
    const yPath = [...path, 'rectangle', y, 1];
    return {
      ...place(xPath, at, `${words} corner of ${name}`),
      key: [...path, 'rectangle', words].join('.'),
      path: [...path, 'rectangle', x],
      held: [...formulas(document, xPath), ...formulas(document, yPath)],
      free: [xPath, yPath].some((p) => formulas(document, p).length === 0),
      pull: (d, to) => {
        const px = to.stated[0] ?? inUnit(to.point.x, part.unit);
        const py = to.stated[1] ?? inUnit(to.point.y, part.unit);
        return replace(replace(d, xPath, px), yPath, py);
      },
    };
  };
  return [
    corner(left, lower, low, 'lower left'),
    corner(other(left), lower, { x: high.x, y: low.y }, 'lower right'),
    corner(other(left), other(lower), high, 'upper right'),
    corner(left, other(lower), { x: low.x, y: high.y }, 'upper left'),
  ];
};
