import type { Quantity } from '../part/dimensions.ts';
import { distance } from '../shape/point.ts';
import type { JsonObject } from './json.ts';
import { freshName } from './new-feature.ts';
import { type Caught, loose } from './snap.ts';
import { inUnit } from './stated.ts';
import type { Ground, Sketched, Stroke } from './stroke.ts';
import { endUnder, pointOf, put, sizing } from './stroke-sizes.ts';

/** Sizes that say where the next corner of a plate or land is. */
const CORNER_SIZES: readonly string[] = ['side', 'angle', 'x', 'y'];

/** Whether the next corner of a plate or land is given by what was typed. */
export const isCornerTyped = ({ corners, fixed }: Stroke): boolean => corners.length > 0 && isTyped(fixed);

const isTyped = (fixed: Stroke['fixed']): boolean => CORNER_SIZES.some((key) => fixed[key] !== undefined);

/** The stroke with its next corner set; what was typed for that corner is spent. */
export const withCorner = (stroke: Stroke, ground: Ground): Stroke => {
  const to = nextCorner(stroke, ground);
  const others = Object.entries(stroke.fixed).filter(([key]) => !CORNER_SIZES.includes(key));
  return {
    ...stroke,
    from: stroke.corners[0] ?? stroke.from,
    to,
    corners: [...stroke.corners, to],
    tap: false,
    fixed: Object.fromEntries(others),
  };
};

/** Where the next corner is: as the pencil says, at the length and angle typed for the side to it, or at a typed place. */
export const nextCorner = (stroke: Stroke, ground: Ground): Caught => {
  const last = stroke.corners.at(-1);
  return last ? cornerAfter(last, stroke, ground, sizing(stroke, ground)) : stroke.to;
};

const cornerAfter = (
  last: Caught,
  { fixed, to }: Stroke,
  ground: Ground,
  say: ReturnType<typeof sizing>,
): Caught => {
  const side = say.length('side', 'side', distance(last.point, to.point));
  const angle = say.angle('angle', 'angle', Math.atan2(to.point.y - last.point.y, to.point.x - last.point.x));
  const aimed =
    fixed.side === undefined && fixed.angle === undefined
      ? to
      : loose({
          x: last.point.x + side * Math.cos(angle),
          y: last.point.y + side * Math.sin(angle),
        });
  const stated = say.place(aimed);
  return isTyped(fixed) ? { ...aimed, point: pointOf(stated, aimed.point, ground), stated } : to;
};

export const drawArea = (stroke: Stroke, ground: Ground): Sketched => {
  const say = sizing(stroke, ground);
  const { part } = ground;
  const land = stroke.tool === 'land';
  const name = freshName(stroke.tool, part);
  const done = (area: JsonObject, words: string | null): Sketched => {
    const feature: JsonObject = land
      ? { name, area, top: say.stated('top', 'top at', inUnit(part.bar.thickness / 2, part.unit)) }
      : { name, ...area };
    const bottom = land ? say.stated('bottom', 'underside at', 0) : 0;
    return {
      ok: true,
      document: put(
        ground.document,
        land ? 'lands' : 'plates',
        // What is left out is nought: the bar’s back.
        stroke.fixed.bottom === undefined ? feature : { ...feature, bottom },
      ),
      names: [name],
      sizes: say.sizes,
      words,
    };
  };
  const last = stroke.corners.at(-1);
  if (last) {
    const next = cornerAfter(last, stroke, ground, say);
    const corners = distance(last.point, next.point) < 1e-6 ? stroke.corners : [...stroke.corners, next];
    if (corners.length < 3) {
      return { ok: false, message: 'Set the next corner; the first one closes it.', sizes: say.sizes };
    }
    return done(
      {
        corners: corners.map((c) => [
          c.stated[0] ?? inUnit(c.point.x, part.unit),
          c.stated[1] ?? inUnit(c.point.y, part.unit),
        ]),
      },
      stroke.to.words,
    );
  }
  if (stroke.tap) {
    const end = land ? part.ends.find((e) => e.name === endUnder(stroke.from, part)) : undefined;
    if (end) {
      const i = part.ends.indexOf(end);
      const list = ground.document.ends as readonly JsonObject[];
      const { centre, radius } = list[i] ?? {};
      if (centre !== undefined && radius !== undefined) {
        return done({ disc: { centre, radius } }, `over ${end.name}`);
      }
    }
    return {
      ok: false,
      message: land
        ? 'Drag a rectangle over the part, tap an end, or set corners one by one.'
        : 'Drag a rectangle, or set corners one by one.',
    };
  }
  // As a bar is: long across, wide up; high is only what stands up from the sheet.
  const long = Math.abs(stroke.to.point.x - stroke.from.point.x);
  const wide = Math.abs(stroke.to.point.y - stroke.from.point.y);
  const [w, h] = [say.length('long', 'long', long), say.length('wide', 'wide', wide)];
  if (w < 1e-3 || h < 1e-3) return { ok: false, message: 'Drag it both across and up.' };
  const from = say.place(stroke.from);
  const start = pointOf(from, stroke.from.point, ground);
  const far = {
    x: start.x + w * Math.sign(stroke.to.point.x - stroke.from.point.x || 1),
    y: start.y + h * Math.sign(stroke.to.point.y - stroke.from.point.y || 1),
  };
  const corner = (axis: 0 | 1, typed: boolean): Quantity =>
    (typed ? null : stroke.to.stated[axis]) ?? inUnit(axis === 0 ? far.x : far.y, part.unit);
  const to: [Quantity, Quantity] = [
    corner(0, stroke.fixed.long !== undefined || stroke.fixed.x !== undefined),
    corner(1, stroke.fixed.wide !== undefined || stroke.fixed.y !== undefined),
  ];
  return done({ rectangle: [from, to] }, stroke.to.words);
};
