import { describe, expect, it } from 'vitest';
import { type Gouge, gougeOf, indexSolid } from '../gcode/proof/gouge.ts';
import type { Face } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point3 } from '../sketch/shape/point.ts';
import { type Contour, rectangle, reverseContour } from '../sketch/shape/region.ts';
import { circle, line } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { cutPath } from '../toolpath/removal/cut-path.ts';
import { cutters, POINT } from './proof-plate.ts';

// How far one motion of a 6 mm cutter enters a block 20 × 10 × 5: places and amounts worked out by hand.

const [mill, drill] = [cutters[0]!, cutters[2]!];
const p = (x: number, y: number, z: number): Point3 => ({ x, y, z });
const box = rectangle({ x: 0, y: 0 }, { x: 20, y: 10 });
const block: Solid = { slabs: [{ bottom: 0, top: 5, region: box }] };

const entry = (
  solid: Solid,
  from: Point3,
  to: Point3,
  cutter: Cutter = mill,
  face: Face = 'front',
): Gouge | null => {
  const motion = { kind: 'feed', from, to, line: 7 } as const;
  const path = cutPath(motion, cutter, { face, zero: p(0, 0, 0) }, { setup: 0, pass: 0 });
  return gougeOf(path, indexSolid(solid));
};
const told = (g: Gouge | null) =>
  g && [g.by, ...[g.amount, g.at.x, g.at.y, g.at.z].map((v) => Math.round(v * 1e6) / 1e6 + 0)];

describe('a level cut', () => {
  it('beside a wall and as deep as it is wide is the side’s', () => {
    expect(told(entry(block, p(5, -2.5, 4.5), p(9, -2.5, 4.5)))).toEqual(['side', 0.5, 5, 0, 5]);
    expect(told(entry(block, p(5, -2.5, 4.75), p(9, -2.5, 4.75)))).toEqual(['end', 0.25, 5, -2.5, 4.75]);
  });

  it('past a round boss is nearest in the middle of its way', () => {
    const boss: Solid = { slabs: [{ bottom: 0, top: 5, region: { contours: [disc(2)] } }] };
    // 4.9 off the middle of a boss of radius 2; neither end of the way is a round share of it.
    expect(told(entry(boss, p(-3, -4.9, 1), p(4, -4.9, 1)))).toEqual(['side', 0.1, 0, -2, 5]);
  });

  it('that comes in over the edge is told where it comes in, as deep as it is', () => {
    expect(told(entry(block, p(-5, 5, 4), p(5, 5, 4)))).toEqual(['end', 1, 0, 5, 4]);
    expect(told(entry(block, p(-5, 5, 2), p(5, 5, 2)))).toEqual(['end', 3, 0, 5, 2]);
    expect(told(entry(block, p(5, 5, 4), p(10, 2, 4)))).toEqual(['end', 1, 5, 5, 4]);
  });

  it('deeper than the way out sideways is told by that way, at the first of two such places', () => {
    // Five from the long sides, and the radius.
    const deep: Solid = { slabs: [{ bottom: 0, top: 15, region: box }] };
    expect(told(entry(deep, p(-5, 5, 0), p(5, 5, 0)))).toEqual(['side', 8, 5, 5, 0]);
    expect(told(entry(deep, p(5, 5, 0), p(15, 5, 0)))).toEqual(['side', 8, 5, 5, 0]);
  });

  it('through slabs alike is told of the lowest, at its top', () => {
    const two: Solid = {
      slabs: [
        { bottom: 0, top: 2, region: box },
        { bottom: 2, top: 5, region: box },
      ],
    };
    expect(told(entry(two, p(5, -2.9, 0), p(9, -2.9, 0)))).toEqual(['side', 0.1, 5, 0, 2]);
    expect(told(entry(two, p(5, 2.9, -5), p(9, 2.9, -5), mill, 'back'))).toEqual(['side', 0.1, 5, 0, 0]);
  });
});

describe('a plunge', () => {
  it('beside a wall cuts into the wall, from both faces', () => {
    expect(told(entry(block, p(5, -2.9, 9), p(5, -2.9, 1)))).toEqual(['side', 0.1, 5, 0, 5]);
    // Turned over about X, so that Y is the other way; its tip comes to 1 under the back.
    expect(told(entry(block, p(5, 2.9, 9), p(5, 2.9, -1), mill, 'back'))).toEqual(['side', 0.1, 5, 0, 0]);
    expect(told(entry(block, p(5, 2.9, 9), p(5, 2.9, -0.05), mill, 'back'))).toEqual([
      'end',
      0.05,
      5,
      -2.9,
      0.05,
    ]);
  });

  it('up out of the part is as deep as where it begins', () => {
    expect(told(entry(block, p(5, 5, 4), p(5, 5, 9)))).toEqual(['end', 1, 5, 5, 4]);
  });
});

describe('a ramp', () => {
  it('away from a wall is in it deepest where its side and its end are as far in', () => {
    // Down by 10 t and away by t: the end is 10 t in, the side 1 − t.
    const away = entry(block, p(5, -2, 5), p(5, -3, -5))!;
    expect(Math.abs(away.amount - 10 / 11)).toBeLessThan(0.01);
    expect(away.at.z).toBeCloseTo(5 - 10 / 11, 1);
    const back = entry(block, p(5, -3, -5), p(5, -2, 5))!;
    expect(Math.abs(back.amount - 10 / 11)).toBeLessThan(0.01);
    // A tenth of all that is looked at as closely: 0.0005 mm and no more.
    const small = entry(block, p(5, -2.9, 5), p(5, -3, 4))!;
    expect(Math.abs(small.amount - 1 / 11)).toBeLessThan(0.001);
  });

  it('with a blunt cone is in it deepest where the cone is as wide as the cutter', () => {
    // Of 170°: 3 / tan 85° high. Down by 0.35 t and away by 0.35 t, beginning 2.6 from the wall: where it is as high.
    const blunt: Cutter = { ...drill, pointAngle: (170 * Math.PI) / 180 };
    const high = 3 / Math.tan((85 * Math.PI) / 180);
    const found = entry(block, p(5, -2.6, 5), p(5, -2.95, 4.65), blunt)!;
    expect(Math.abs(found.amount - (3 - 2.6 - high))).toBeLessThan(0.0015);
  });

  it('that is long and steep is looked at as closely', () => {
    // Down by 100 t and away by 100 t from 0.07 in.
    const found = entry(block, p(5, -2.93, 5), p(5, -102.93, -95))!;
    expect(Math.abs(found.amount - 0.035)).toBeLessThan(0.001);
  });

  it('that is at the wall only where it is not yet deep is none', () => {
    // Down by 0.1 t and away by t from 0.001 in: less than 0.0001 of both.
    expect(entry(block, p(5, -2.999, 5), p(5, -3.999, 4.9))).toBeNull();
    expect(entry(block, p(5, -2.9, 5), p(5, -3.9, 4.9))?.amount).toBeCloseTo(0.1 / 11, 2);
  });
});

const disc = (radius: number): Contour => ({ segments: [circle({ x: 0, y: 0 }, radius)] });
const outline = rectangle({ x: -20, y: -15 }, { x: 20, y: 15 });
const holed = (hole: Contour) => ({ contours: [...outline.contours, reverseContour(hole)] });
/** A blind hole 3 mm deep in a block of 5, with or without a step in what is under it. */
const blind = (hole: Contour): Solid => ({
  slabs: [
    { bottom: 0, top: 1, region: outline },
    { bottom: 1, top: 2, region: outline },
    { bottom: 2, top: 5, region: holed(hole) },
  ],
});
/** Height of a 6 mm drill's cone. */
const CONE = 3 / Math.tan(POINT / 2);
/** Straight down until the shoulder is at a height. */
const drilled = (solid: Solid, shoulder: number, x = 0, y = 0, cutter = drill) =>
  entry(solid, p(x, y, 9), p(x, y, shoulder - (cutter === drill ? CONE : 0)), cutter);

describe('the cone of a drill under the flat bottom of its own hole', () => {
  it('is meant, down to where its full diameter is too deep', () => {
    expect(drilled(blind(disc(3)), 2)).toBeNull();
    expect(told(drilled(blind(disc(3)), 1.9))).toEqual(['end', 0.1, 0, 0, 1.9]);
    expect(told(drilled(blind(disc(3)), 0.5))).toEqual(['end', 1.5, 0, 0, 1]);
  });

  it('is meant from the back as well', () => {
    const back: Solid = {
      slabs: [
        { bottom: 0, top: 3, region: holed(disc(3)) },
        { bottom: 3, top: 5, region: outline },
      ],
    };
    const deep = (shoulder: number) => entry(back, p(0, 0, 9), p(0, 0, -shoulder - CONE), drill, 'back');
    expect(deep(3)).toBeNull();
    expect(told(deep(3.1))).toEqual(['end', 0.1, 0, 0, 3.1]);
  });

  it('is meant in holes from 0.02 narrower to a pilot’s share wider, and up to a quarter of its radius beside it', () => {
    const widest = 3 * (1 + 0.15) + 0.1;
    for (const radius of [3, 3.1, 3.54, widest]) expect(drilled(blind(disc(radius)), 2)).toBeNull();
    expect(drilled(blind(disc(2.98)), 2)?.amount).toBeCloseTo(0.02, 9);
    expect(drilled(blind(disc(2.97)), 2)?.amount).toBeCloseTo(CONE, 9);
    expect(drilled(blind(disc(3.56)), 2)?.amount).toBeCloseTo(CONE, 9);
    expect(drilled(blind(disc(3)), 2, 0.75)?.amount).toBeCloseTo(0.75, 9);
    expect(drilled(blind(disc(3)), 2, 0.76)?.amount).toBeCloseTo(CONE, 9);
    expect(drilled(blind(disc(3)), 2, 0, -0.74)?.amount).toBeCloseTo(0.74, 9);
  });

  it('is not meant in a square, at the end of a slot, without a hole, or where it is drawn along', () => {
    const square = rectangle({ x: -3, y: -3 }, { x: 3, y: 3 }).contours[0]!;
    expect(drilled(blind(square), 2)?.amount).toBeCloseTo(CONE, 9);
    const slot: Contour = {
      segments: [
        line({ x: 0, y: -3 }, { x: 8, y: -3 }),
        { kind: 'arc', from: { x: 8, y: -3 }, to: { x: 8, y: 3 }, centre: { x: 8, y: 0 }, sweep: Math.PI },
        line({ x: 8, y: 3 }, { x: 0, y: 3 }),
        { kind: 'arc', from: { x: 0, y: 3 }, to: { x: 0, y: -3 }, centre: { x: 0, y: 0 }, sweep: Math.PI },
      ],
    };
    expect(drilled(blind(slot), 2, 8)?.amount).toBeCloseTo(CONE, 9);
    expect(drilled(blind(slot), 2)?.amount).toBeCloseTo(CONE, 9);
    expect(drilled({ slabs: [{ bottom: 0, top: 5, region: outline }] }, 4)?.amount).toBeCloseTo(1 + CONE, 9);
    const drawn = entry(blind(disc(3)), p(0, 0, 2 - CONE), p(0.1, 0, 2 - CONE), drill);
    expect(drawn?.amount).toBeCloseTo(CONE, 9);
  });

  it('is none of an endmill', () => {
    // 10 mm under the floor and 4 + 3 mm from the nearest side.
    const narrow = rectangle({ x: -4, y: -15 }, { x: 4, y: 15 });
    const deep: Solid = {
      slabs: [
        { bottom: 0, top: 12, region: narrow },
        { bottom: 12, top: 15, region: { contours: [...narrow.contours, reverseContour(disc(3))] } },
      ],
    };
    expect(told(drilled(deep, 2, 0, 0, mill))).toEqual(['side', 7, 0, 0, 2]);
  });

  it('is not meant where it comes out of the floor into a hole that is too narrow', () => {
    const stepped: Solid = {
      slabs: [
        { bottom: 0, top: 1.5, region: holed(disc(1)) },
        { bottom: 1.5, top: 2, region: outline },
        { bottom: 2, top: 5, region: holed(disc(3)) },
      ],
    };
    const wide = (CONE - 0.5) * Math.tan(POINT / 2);
    const found = drilled(stepped, 2)!;
    expect([found.by, found.at.z]).toEqual(['side', 1.5]);
    expect(found.amount).toBeCloseTo(wide - 1, 9);
  });
});
