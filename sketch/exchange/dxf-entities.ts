import { type Point, polar } from '../shape/point.ts';
import { arc, circle, line, type Segment } from '../shape/segment.ts';
import { bulged } from './bulge.ts';
import { FileFault } from './drawing.ts';

/** A value of an entity with the line it stands in. */
export interface Group {
  readonly code: number;
  readonly value: number;
  readonly line: number;
}

/** An entity of a kind that is read: its type, layer and numbers in the order of the file. */
export interface Entity {
  readonly type: string;
  readonly layer: string;
  readonly line: number;
  readonly groups: readonly Group[];
}

/** Group codes that matter, by entity (DXF reference, group codes); all of them numbers. */
export const CODES: Readonly<Record<string, readonly number[]>> = {
  LINE: [10, 20, 11, 21],
  ARC: [10, 20, 40, 50, 51, 210, 220, 230],
  CIRCLE: [10, 20, 40, 210, 220, 230],
  LWPOLYLINE: [10, 20, 42, 70, 210, 220, 230],
  POLYLINE: [70, 210, 220, 230],
  VERTEX: [10, 20, 42, 70],
};

export const figureOf = (entity: Entity, code: number): number | undefined =>
  entity.groups.find((g) => g.code === code)?.value;

const wanted = (entity: Entity, code: number): number => {
  const value = figureOf(entity, code);
  if (value === undefined) {
    throw new FileFault('dxf-group-missing', entity.line, `a ${entity.type} lacks its group ${code}`);
  }
  return value;
};

const pointOf = (entity: Entity, code: number): Point => ({
  x: wanted(entity, code),
  y: wanted(entity, code + 10),
});

const radiusIn = (entity: Entity): number => {
  const radius = wanted(entity, 40);
  if (radius > 0) return radius;
  throw new FileFault('dxf-radius', entity.line, `a ${entity.type} has the radius ${radius}`);
};

/**
 * Which way the entity's own plane faces: 1 up, −1 down (its X is mirrored then, by the arbitrary axis rule of the
 * DXF reference), null when it is tilted and has no true shape in plan.
 */
export const facing = (entity: Entity): 1 | -1 | null => {
  const x = figureOf(entity, 210) ?? 0;
  const y = figureOf(entity, 220) ?? 0;
  const z = figureOf(entity, 230) ?? 1;
  if (Math.hypot(x, y) > 1e-9 * Math.abs(z)) return null;
  return z > 0 ? 1 : -1;
};

export interface Corner {
  readonly point: Point;
  readonly bulge: number;
}

/** The corners of an LWPOLYLINE: each begins at its group 10. */
export const cornersOf = (entity: Entity): readonly Corner[] => {
  const corners: { x: number; y: number | null; bulge: number; line: number }[] = [];
  for (const { code, value, line: at } of entity.groups) {
    const last = corners[corners.length - 1];
    if (code === 10) corners.push({ x: value, y: null, bulge: 0, line: at });
    else if (code === 20 && last) last.y = value;
    else if (code === 42 && last) last.bulge = value;
  }
  return corners.map(({ x, y, bulge, line: at }) => {
    if (y === null) throw new FileFault('dxf-group-missing', at, 'a corner of a polyline lacks its group 20');
    return { point: { x, y }, bulge };
  });
};

/** The segments of a polyline; a closed one runs on from its last corner to its first. */
export const polylineSegments = (corners: readonly Corner[], closed: boolean): readonly Segment[] =>
  corners.flatMap(({ point, bulge }, i) => {
    const next = corners[i + 1] ?? (closed && corners.length > 1 ? corners[0] : undefined);
    return next === undefined ? [] : [bulged(point, next.point, bulge)];
  });

/** The segments of an entity other than a POLYLINE with its vertices, in its own plane. */
export const segmentsOfEntity = (entity: Entity): readonly Segment[] => {
  switch (entity.type) {
    case 'LINE':
      return [line(pointOf(entity, 10), pointOf(entity, 11))];
    case 'CIRCLE':
      return [circle(pointOf(entity, 10), radiusIn(entity))];
    case 'ARC': {
      // Always anticlockwise from the start angle to the end angle, in degrees.
      const centre = pointOf(entity, 10);
      const radius = radiusIn(entity);
      const start = wanted(entity, 50);
      const turn = (((wanted(entity, 51) - start) % 360) + 360) % 360;
      if (turn < 1e-9 || turn > 360 - 1e-9) return [circle(centre, radius)];
      const at = (degrees: number): Point => polar(centre, radius, (degrees * Math.PI) / 180);
      return [arc(at(start), at(start + turn), centre, true)];
    }
    default:
      return polylineSegments(cornersOf(entity), ((figureOf(entity, 70) ?? 0) & 1) === 1);
  }
};

/** A segment of a plane that faces down, seen from above. */
export const mirrored = (s: Segment): Segment => {
  const flip = (p: Point): Point => ({ x: -p.x, y: p.y });
  return s.kind === 'line'
    ? line(flip(s.from), flip(s.to))
    : { kind: 'arc', from: flip(s.from), to: flip(s.to), centre: flip(s.centre), sweep: -s.sweep };
};
