import { describe, expect, it } from 'vitest';
import type { Slab } from '../sketch/part/solid.ts';
import type { Point } from '../sketch/shape/point.ts';
import { NOTHING, polygon, type Region, rectangle, regionBox } from '../sketch/shape/region.ts';
import { jawsInTheWay, jawsOf } from '../toolpath/passes/jaws.ts';
import { jutsOut } from '../toolpath/passes/juts-out.ts';
import type { PlannedSetup } from '../toolpath/passes/pass.ts';
import type { Frame } from '../toolpath/route/frame.ts';
import type { ViceHold } from '../toolpath/route/route.ts';

// Where the jaws bear on the work, and what of it they leave in the air.

const at = (x: number, y: number): Point => ({ x, y });
const outline = (...places: readonly (readonly [number, number])[]): Region => ({
  contours: [polygon(places.map(([x, y]) => at(x, y)))],
});
const FRAME: Frame = { face: 'front', zero: { x: 0, y: 0, z: 6 } };
const vice = (from: number, to: number, grip = 1.5): ViceHold => ({
  kind: 'vice',
  jaws: { from, to },
  grip,
  parallels: null,
  gripped: 'sides',
});
const boxes = (region: Region): number[][] =>
  region.contours.map((contour) => {
    const { min, max } = regionBox({ contours: [contour] })!;
    return [min.x, max.x, min.y, max.y];
  });

describe('jaws closed on the work', () => {
  // Near side: flat at 0 from 14 to 20 alone, and half a millimetre back before and after; far side straight.
  const low = outline([0, 0.5], [12, 0.5], [14, 0], [20, 0], [22, 0.5], [60, 0.5], [60, 20], [0, 20]);
  const wide = rectangle(at(0, -3), at(60, 25));
  const stock: Slab[] = [
    { bottom: -6, top: -4, region: low },
    { bottom: -4, top: 0, region: wide },
  ];
  const work = { stock, wanted: [] };

  it('stand as high as the grip over its underside, bear on its flat sides, and reach away from it', () => {
    const jaws = jawsOf(vice(10, 30), FRAME, work)!;
    expect(jaws.top).toBe(-4.5);
    expect(jaws.faces!.near).toBeCloseTo(0, 6);
    expect(jaws.faces!.far).toBeCloseTo(20, 6);
    expect(jaws.contact!.near).toBeCloseTo(6, 5);
    expect(jaws.contact!.far).toBeCloseTo(20, 5);
    const [far, near] = boxes(jaws.footprint);
    for (const [k, v] of [10, 30, 20, 100].entries()) expect(far![k]).toBeCloseTo(v, 5);
    for (const [k, v] of [10, 30, -80, 0].entries()) expect(near![k]).toBeCloseTo(v, 5);
  });

  it('grip what stands above as well where they reach it, and lie along the drawing’s X', () => {
    expect(jawsOf(vice(10, 30, 2.1), FRAME, work)!.faces!.near).toBeCloseTo(-3, 6);
    const shifted = jawsOf(vice(10, 30), { ...FRAME, zero: { x: 6, y: 0, z: 6 } }, work)!;
    expect(shifted.contact!.far).toBeCloseTo(20, 5);
    // From 4 to 24 of the program: the flat is in, and half of what comes before.
    expect(shifted.contact!.near).toBeCloseTo(6, 5);
    expect(boxes(shifted.footprint)[0]!.slice(0, 2)).toEqual([4, 24]);
    expect(jawsOf(vice(22, 42), { ...FRAME, zero: { x: 6, y: 0, z: 6 } }, work)!.contact!.near).toBeCloseTo(
      4,
      5,
    );
  });

  it('hold nothing beside the work, and there are none on a plate', () => {
    const beside = jawsOf(vice(70, 90), FRAME, work)!;
    expect(beside).toEqual({ top: -4.5, footprint: NOTHING, contact: null, faces: null });
    const tape = { kind: 'plate', fastening: { kind: 'tape' } } as Parameters<typeof jawsOf>[0];
    expect(jawsOf(tape, FRAME, work)).toBeNull();
  });

  it('are kept clear of by half a millimetre, above and along X, and not at all higher up', () => {
    const jaws = jawsOf(vice(10, 30), FRAME, work)!;
    expect(jawsInTheWay(jaws, -4)).toEqual(NOTHING);
    expect(jawsInTheWay(null, -5)).toEqual(NOTHING);
    const [far, near] = boxes(jawsInTheWay(jaws, -4.001));
    for (const [k, v] of [9.5, 30.5, 20, 100].entries()) expect(far![k]).toBeCloseTo(v, 5);
    for (const [k, v] of [9.5, 30.5, -80, 0].entries()) expect(near![k]).toBeCloseTo(v, 5);
  });
});

describe('of the work there juts out of the vice', () => {
  const block = rectangle(at(0, 0), at(60, 20));
  const out = (hold: ViceHold, regions: readonly Region[] = [block], zero = 0) =>
    jutsOut({
      setup: { hold } as PlannedSetup['setup'],
      frame: { face: 'front', zero: { x: zero, y: 0, z: 6 } },
      standing: regions.map((region, k) => ({ bottom: -6 + 2 * k, top: -4 + 2 * k, region })),
    });

  it('the longer end, the right one of two alike, from 3 mm on', () => {
    expect(out(vice(10, 30))).toEqual({ from: 30, to: 60 });
    expect(out(vice(40, 58))).toEqual({ from: 0, to: 40 });
    expect(out(vice(20, 40))).toEqual({ from: 40, to: 60 });
    expect(out(vice(3, 60))).toEqual({ from: 0, to: 3 });
    expect(out(vice(2.9, 58))).toBeNull();
    expect(out(vice(-10, 57))).toEqual({ from: 57, to: 60 });
    expect(out(vice(-10, 57.1))).toBeNull();
  });

  it('along the drawing’s X, to a micrometre', () => {
    expect(out(vice(110, 130), [block], 100)).toEqual({ from: 130, to: 160 });
    expect(out(vice(10.12345, 30.12345))).toEqual({ from: 30.123, to: 60 });
  });

  it('what lies beside the jaws without bearing on them: a quarter of a millimetre is taken up', () => {
    const stepped = (back: number): Region =>
      outline([0, 0], [25, 0], [25.1, back], [60, back], [60, 20], [0, 20]);
    expect(out(vice(-5, 50), [stepped(0.2)])).toEqual({ from: 50, to: 60 });
    expect(out(vice(-5, 50), [stepped(0.3)])).toEqual({ from: 25, to: 60 });
    expect(out(vice(-5, 70), [stepped(3)])).toEqual({ from: 25, to: 60 });
    // What stands farther out begins where the jaws end.
    const wider = outline([0, 0], [60, 0], [60, 22], [40, 22], [40, 20], [0, 20]);
    expect(out(vice(-5, 40), [wider])).toEqual({ from: 40, to: 60 });
    expect(out(vice(-5, 41), [wider])).toEqual({ from: 0, to: 40 });
    // The same on the far side, and at the left end.
    const far = outline([0, 0], [60, 0], [60, 20], [35, 20], [34.9, 17], [0, 17]);
    expect(out(vice(-5, 70), [far])).toEqual({ from: 0, to: 35 });
  });

  it('nothing where it is not gripped, or on no common stretch', () => {
    expect(out(vice(70, 90))).toBeNull();
    expect(out(vice(10, 30), [])).toBeNull();
    const askew = outline([0, 0], [20, 0], [20, 5], [60, 5], [60, 20], [40, 20], [40, 15], [0, 15]);
    expect(out(vice(-5, 70), [askew])).toBeNull();
    const plate = {
      setup: { hold: { kind: 'plate', fastening: { kind: 'tape' } } },
    } as unknown as PlannedSetup;
    expect(jutsOut({ ...plate, frame: FRAME, standing: [{ bottom: 0, top: 1, region: block }] })).toBeNull();
  });

  it('by what is gripped alone, but as far as anything above it reaches', () => {
    const narrow = rectangle(at(0, 4), at(25, 16));
    expect(out(vice(-5, 70), [narrow, block])).toEqual({ from: 25, to: 60 });
    // Gripped higher, the wide block bears all along.
    expect(out(vice(-5, 70, 2.5), [narrow, block])).toBeNull();
  });
});
