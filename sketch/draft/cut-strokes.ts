import type { Quantity } from '../part/dimensions.ts';
import type { Part } from '../part/part.ts';
import { add, angleOf, distance, type Point, polar, subtract } from '../shape/point.ts';
import { nearestOn, type Segment } from '../shape/segment.ts';
import { freshName } from './new-feature.ts';
import { snapDirection, snapRadius } from './snap.ts';
import { inUnit } from './stated.ts';
import type { Ground, Sketched, Stroke } from './stroke.ts';
import { degrees, pointOf, put, sizing } from './stroke-sizes.ts';

export const drawHole = (stroke: Stroke, ground: Ground): Sketched => {
  const say = sizing(stroke, ground);
  const { unit } = ground.part;
  const caught = stroke.tap
    ? { radius: (ground.usual.hole ?? (unit === 'mm' ? 3 : 3.175)) / 2, words: null }
    : snapRadius(
        stroke.from.point,
        distance(stroke.from.point, stroke.to.point),
        ground.reach,
        ground.field,
        'hole',
      );
  const diameter = say.stated('diameter', 'diameter', inUnit(caught.radius * 2, unit));
  const centre = say.place(stroke.from);
  const name = freshName('hole', ground.part);
  return {
    ok: true,
    document: put(ground.document, 'holes', { name, purpose: 'clearance', centre, diameter }),
    names: [name],
    sizes: say.sizes,
    words: caught.words,
  };
};

export const drawSlot = (stroke: Stroke, ground: Ground): Sketched => {
  const say = sizing(stroke, ground);
  const { part } = ground;
  const usual = ground.usual.slot ?? (part.unit === 'mm' ? 3 : 3.175);
  const raw = stroke.tap ? { x: 3 * usual, y: 0 } : subtract(stroke.to.point, stroke.from.point);
  const span = Math.hypot(raw.x, raw.y);
  const length = say.length('length', 'between centres', span);
  const angle = say.angle('angle', 'at, degrees', snapDirection(angleOf(raw), null));
  const width = say.stated('width', 'wide', inUnit(usual, part.unit));
  const from = say.place(stroke.from);
  const start = pointOf(from, stroke.from.point, ground);
  const asDrawn = stroke.fixed.length === undefined && stroke.fixed.angle === undefined && !stroke.tap;
  const end = asDrawn ? add(start, raw) : polar(start, length, angle);
  const to: [Quantity, Quantity] = asDrawn
    ? [
        stroke.to.stated[0] ?? inUnit(stroke.to.point.x, part.unit),
        stroke.to.stated[1] ?? inUnit(stroke.to.point.y, part.unit),
      ]
    : [inUnit(end.x, part.unit), inUnit(end.y, part.unit)];
  const name = freshName('slot', part);
  return {
    ok: true,
    document: put(ground.document, 'slots', { name, from, to, width }),
    names: [name],
    sizes: say.sizes,
    words: stroke.to.words,
  };
};

/** The way square into the part from a place on an edge. */
const inwardFrom = (edge: Segment, at: Point, part: Part): number => {
  const near = nearestOn(edge, at);
  const along =
    edge.kind === 'line'
      ? angleOf(subtract(edge.to, edge.from))
      : angleOf(subtract(near.point, edge.centre)) + Math.PI / 2;
  const middle = {
    x: part.bar.corner.x + part.bar.length / 2,
    y: part.bar.corner.y + part.bar.width / 2,
  };
  const way = along + Math.PI / 2;
  const inside = (a: number): number => distance(polar(at, 1e-2, a), middle);
  return inside(way) < inside(way + Math.PI) ? way : way + Math.PI;
};

export const drawFork = (stroke: Stroke, ground: Ground): Sketched => {
  const say = sizing(stroke, ground);
  const { part } = ground;
  const { edge, point } = stroke.from;
  const usual = ground.usual.fork ?? part.bar.width / 4;
  const square = edge ? inwardFrom(edge, point, part) : null;
  const raw = subtract(stroke.to.point, point);
  const drawn = Math.hypot(raw.x, raw.y);
  const depth = stroke.tap ? usual * 2 : Math.max(ground.field.grid, drawn);
  const way = stroke.tap ? (square ?? 0) : snapDirection(angleOf(raw), square);
  const stated = say.stated('depth', 'deep', inUnit(gridded(depth, ground.field.grid), part.unit));
  const width = say.stated('width', 'wide', inUnit(usual, part.unit));
  const direction = say.stated('direction', 'inward at, degrees', degrees(normal(way)));
  const mouth = say.place(stroke.from);
  const name = freshName('fork', part);
  return {
    ok: true,
    document: put(ground.document, 'forks', { name, mouth, direction, width, depth: stated, root: 'round' }),
    names: [name],
    sizes: say.sizes,
    words: stroke.to.words,
  };
};

const gridded = (mm: number, grid: number): number => Math.max(grid, Math.round(mm / grid) * grid);

/** An angle from 0 up to a whole turn. */
const normal = (a: number): number => {
  const turn = a % (2 * Math.PI);
  return turn < -1e-9 ? turn + 2 * Math.PI : turn;
};
