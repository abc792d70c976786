import { describe, expect, it } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { difference, union } from '../sketch/shape/boolean.ts';
import { disc, NOTHING, type Region, rectangle, regionArea, regionBox } from '../sketch/shape/region.ts';
import { packingFindings } from '../toolpath/passes/packing-checks.ts';
import type { Move, Pass } from '../toolpath/passes/pass.ts';
import { plateFindings } from '../toolpath/passes/plate-checks.ts';
import { feetInTheWay, plateFeet } from '../toolpath/passes/plate-feet.ts';
import type { Scene } from '../toolpath/passes/scene.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { JobStep, PlateHold, ViceHold } from '../toolpath/route/route.ts';
import { PLATE, TAPE, VICE } from './passes-programs.ts';
import { endmill } from './passes-samples.ts';

// Screws and clamps on a bar of 60 × 30 mm with a part of 20 × 10 in its middle, and packing: figures worked by hand. An
// M4 has a shank of 4, a head of 7, and stands 4 high; a tenth of a millimetre is its room.

const at = (x: number, y: number) => ({ x, y });
const hole = (name: string, x: number, diameter: number, depth: number | null = null) =>
  ({ name, purpose: 'clearance', centre: at(x, 15), diameter, depth, from: 'front' }) as const;
const BAR = rectangle(at(0, 0), at(60, 30));
const BODY = rectangle(at(20, 10), at(40, 20));
const OUTLINE = { kind: 'outline', name: 'round', cutter: '6 mm endmill' } as JobStep;

const sceneOf = (hold: PlateHold, part: Part = PLATE, steps: readonly JobStep[] = []) => {
  const frame = frameOf(PLATE.bar, 'front', 'left-near');
  return {
    ...{ part, frame, setup: { number: 2, hold, steps } },
    feet: plateFeet(hold, PLATE.bar, frame, 0),
    bare: [{ bottom: -6, top: 0, region: BODY }],
  } as unknown as Scene;
};
const slab = (region: Region) => ({ stock: [{ bottom: -6, top: 0, region }], wanted: [] });
const screws = (...places: readonly (readonly [number, number, string?])[]): PlateHold => ({
  kind: 'plate',
  fastening: {
    kind: 'screws',
    thread: 'M4',
    places: places.map(([x, y, name]) => ({ x, y, hole: name ?? null })),
  },
});
const clamps = (...places: readonly (readonly [number, number])[]): PlateHold => ({
  kind: 'plate',
  fastening: { kind: 'clamps', force: 500, places: places.map(([x, y]) => at(x, y)) },
});
const cutters = [4, 6, 5].map(endmill);
/** A second screw that nothing is wrong with. */
const FAR = [55, 25] as const;

describe('of a screw through a hole of the part it is said', () => {
  const said = (holes: Part['holes'], stock: Region = BAR, name = 'pin') => {
    const hold = screws([30, 15, name], FAR);
    return plateFindings(sceneOf(hold, { ...PLATE, holes }), hold, slab(stock), cutters).map(
      (f) => f.message,
    );
  };
  const drilled = (diameter: number) => difference(BAR, disc(at(30, 15), diameter / 2));
  const falls = 'Setup 2: the head of an M4 screw falls through “pin”: use a thicker screw or a washer.';

  it('nothing where it goes through what is drilled', () => {
    expect(said([hole('other', 9, 1, 2), hole('pin', 30, 4.1)], drilled(4.1))).toEqual([]);
  });

  it('that the hole is blind, too small, not drilled yet, or not there', () => {
    expect(said([hole('pin', 30, 5, 3)])).toEqual(['Setup 2: “pin” does not go through.']);
    expect(said([hole('pin', 30, 4.09)], drilled(4.09))).toEqual([
      'Setup 2: an M4 screw does not go through “pin”, ⌀ 4.09 mm.',
    ]);
    const yet = (name: string) =>
      `Setup 2: “${name}” is not drilled yet when the screw is to go through it: drill it in an earlier setup.`;
    expect(said([hole('pin', 30, 5)])).toEqual([yet('pin')]);
    expect(said([], BAR, 'gone')).toEqual([yet('gone')]);
    expect(said([], drilled(5), 'gone')).toEqual([]);
  });

  it('that its head falls through', () => {
    expect(said([hole('pin', 30, 6.79)], drilled(6.79))).toEqual([]);
    expect(said([hole('pin', 30, 6.8)], drilled(6.8))).toEqual([falls]);
    expect(said([hole('pin', 30, 9, 3)])).toEqual(['Setup 2: “pin” does not go through.', falls]);
  });
});

describe('of what stands on the bar it is said', () => {
  const said = (hold: PlateHold, steps: readonly JobStep[] = [], stock: Region = BAR) =>
    plateFindings(sceneOf(hold, PLATE, steps), hold, slab(stock), cutters).map(
      (f) => `${f.severity} ${f.code} ${f.setup}: ${f.message}`,
    );

  it('that nothing or one alone holds the work', () => {
    expect(said(screws())).toEqual([
      'error nothing-fastened 2: Setup 2: the work lies on its plate without a screw.',
    ]);
    expect(said(screws(FAR))).toEqual([
      'warning one-foot 2: Setup 2: one screw alone lets the work swing about it; two or more are wanted.',
    ]);
    expect(said(clamps(FAR))[0]).toContain('one clamp alone');
    expect(said(screws(FAR, [5, 5]))).toEqual([]);
    expect(said(TAPE as PlateHold)).toEqual([]);
  });

  it('that it has no bar under it, or stands on the part: within its head and a tenth', () => {
    expect(said(screws([61, 5], FAR))).toEqual([
      'error foot-on-nothing 2: Setup 2: there is no bar left under the screw at X 61.0 Y 5.0.',
    ]);
    expect(said(screws([30, 6.41], FAR))).toEqual([
      'error foot-on-part 2: Setup 2: the screw at X 30.0 Y 6.4 stands on the part: move it out onto the bar beside it.',
    ]);
    expect(said(screws([30, 6.39], FAR))).toEqual([]);
    // A clamp presses within 6 mm.
    expect(said(clamps([30, 3.91], FAR))[0]).toContain('the clamp at X 30.0 Y 3.9 stands on the part');
    expect(said(clamps([30, 3.89], FAR))).toEqual([]);
    const left = difference(BAR, disc(at(30, 5), 1));
    expect(said(screws([30, 5], FAR), [], left)[0]).toContain('foot-on-nothing');
  });

  it('that the cutter that goes round has no room between: its width and half a millimetre', () => {
    const near = (gap: string, cutter = '6 mm endmill', needs = '6.5 mm') =>
      `error foot-too-near 2: Setup 2: the screw at X 10.1 Y 15.0 stands ${gap} off the part, and the ${cutter} that goes round it needs ${needs}: move it out, or take a smaller cutter.`;
    expect(said(screws([10.1, 15], FAR), [OUTLINE])).toEqual([near('6.4 mm')]);
    expect(said(screws([9.99, 15], FAR), [OUTLINE])).toEqual([]);
    expect(said(screws([10.1, 15], FAR))).toEqual([]);
    expect(said(screws([10.1, 15], FAR), [{ ...OUTLINE, kind: 'thin' } as JobStep])).toEqual([]);
    // Of several that go round the thickest counts, wherever it lies in the drawer.
    const both = ['4 mm endmill', '5 mm endmill'].map((cutter) => ({ ...OUTLINE, cutter }) as JobStep);
    expect(said(screws([12, 15], FAR), both)[0]).toContain(
      'stands 4.5 mm off the part, and the 5 mm endmill that goes round it needs 5.5 mm',
    );
    expect(said(screws([10.1, 15], FAR), both)).toEqual([]);
  });
});

describe('feet on a plate', () => {
  const frame = frameOf(PLATE.bar, 'back', 'left-near');

  it('stand where they do in the setup, as high over the work as they are', () => {
    const { feet, keepOut, top } = plateFeet(screws([10, 5], [50, 5]), PLATE.bar, frame, 1);
    expect(feet.map((f) => [f.kind, f.top, f.height, f.pad, f.at.x, f.at.y])).toEqual([
      ['screw', 5, 4, 3.5, 10, 5],
      ['screw', 5, 4, 3.5, 50, 5],
    ]);
    // Turned over what lay 5 from the near edge lies 5 from the far one; half a millimetre is kept about it.
    const box = regionBox(feet[0]!.inProgram)!;
    expect([box.min.x, box.max.x, box.min.y, box.max.y].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([
      6.5, 13.5, 21.5, 28.5,
    ]);
    expect(regionArea(keepOut)).toBeCloseTo(2 * Math.PI * 16, 2);
    expect(top).toBe(5);
  });

  it('are none in a vice, and none where nothing is put on', () => {
    expect(plateFeet(VICE, PLATE.bar, frame, 1)).toEqual({ feet: [], keepOut: NOTHING, top: 1 });
    expect(plateFeet(screws(), PLATE.bar, frame, 1)).toEqual({ feet: [], keepOut: NOTHING, top: 1 });
  });
});

describe('a foot is in the way', () => {
  const hold = screws([10, 10], [50, 10]);
  const hit = (moves: readonly Move[], from: PlateHold = hold, scene = sceneOf(from)) =>
    feetInTheWay(scene, OUTLINE, endmill(6), [{ kind: 'rough', z: 0, web: null, moves } as Pass]);
  const feed = (x: number, y: number, z: number): Move => ({ kind: 'feed', to: { x, y, z }, feed: 1 });
  const rapid = (x: number, y: number, z: number): Move => ({ kind: 'rapid', to: { x, y, z } });
  const words = (what: string, place: string) =>
    `round would take the cutter into ${what} at ${place}: move it, or cut this in another setup.`;

  it('of a cutter that comes nearer than 0.15 mm beside it and over it, and is told by its place', () => {
    // 3.5 and 3 and 0.15 from the middle of the head; 4 and 0.15 over the work.
    expect(hit([rapid(-3, 16.64, 4.14), feed(30, 16.64, 4.14)])).toEqual([
      {
        code: 'foot-in-the-way',
        severity: 'error',
        feature: 'round',
        setup: 2,
        message: words('the head of the screw', 'X 10.0 Y 10.0'),
      },
    ]);
    expect(hit([rapid(-3, 16.66, 4.14), feed(30, 16.66, 4.14)])).toEqual([]);
    expect(hit([rapid(0, 16.64, 4.16), feed(20, 16.64, 4.16)])).toEqual([]);
    expect(hit([rapid(60, 10, 3), feed(40, 10, 3)])[0]!.message).toContain('X 50.0 Y 10.0');
    const clamp = hit([rapid(30, 3, 3)], clamps([30, 2], [55, 28]));
    expect(clamp[0]!.message).toBe(words('the clamp', 'X 30.0 Y 2.0'));
  });

  it('also of the first move’s end, of a drill, and on the way down or along', () => {
    expect(hit([rapid(10, 10, 4)])).toHaveLength(1);
    expect(hit([rapid(10, 10, 5)])).toEqual([]);
    // From 9 down to 0 over 40 mm it is 4.5 high over the head, from 7.8 down 3.9.
    expect(hit([rapid(-10, 10, 9), feed(30, 10, 0)])).toHaveLength(1);
    expect(hit([rapid(-10, 10, 30), feed(30, 10, 4.2)])).toEqual([]);
    expect(hit([rapid(-10, 10, 4.2), feed(30, 10, 30)])).toEqual([]);
    const drill = (x: number, depth: number): Move => ({
      ...{ kind: 'drill', at: at(x, 10), clear: 1, depth, peck: 0, dwell: 0, feed: 50 },
    });
    expect(hit([drill(16.6, 3)])).toHaveLength(1);
    expect(hit([drill(16.7, 3)])).toEqual([]);
    expect(hit([drill(10, 4.2)])).toEqual([]);
    // Behind a drill the way goes on from its clear height.
    expect(hit([drill(30, -6), rapid(40, 10, 9)])).toEqual([]);
    expect(hit([drill(20, -6), feed(0, 10, 1)])).toHaveLength(1);
    expect(hit([rapid(20, 10, 1), { kind: 'stop', message: '' }, feed(0, 10, 1)])).toHaveLength(1);
  });

  it('of a round whichever way it goes', () => {
    const round = (clockwise: boolean): Move => ({
      ...{ kind: 'arc', to: { x: 16, y: 20, z: 0 }, centre: at(10, 20), clockwise, feed: 1 },
    });
    expect(hit([rapid(4, 20, 0), round(false)])).toHaveLength(1);
    expect(hit([rapid(4, 20, 0), round(true)])).toEqual([]);
  });

  it('of nobody where there are none', () => {
    expect(hit([rapid(10, 10, 0)], TAPE as PlateHold)).toEqual([]);
  });
});

describe('packing cannot be put in', () => {
  const frame = { face: 'front', zero: { x: 5, y: 0, z: 6 } };
  const said = (packing: ViceHold['packing'], unit: 'mm' | 'inch' = 'mm') => {
    const scene = { part: { ...PLATE, unit }, frame, setup: { number: 2 } } as unknown as Scene;
    // In the program's X from 0 to 20; the lower half has a slot from the left, 10 long.
    const low = difference(rectangle(at(0, 0), at(20, 10)), rectangle(at(-1, 4), at(10, 6)));
    const stock = [
      { bottom: -6, top: -3, region: low },
      { bottom: -3, top: 0, region: union([low, rectangle(at(0, 3), at(10, 7))]) },
    ];
    return packingFindings(scene, { ...VICE, grip: 2, ...(packing && { packing }) }, { stock, wanted: [] });
  };
  const block = (from: number, to: number) => ({ kind: 'block', from, to }) as const;

  it('a block where no work lies over it', () => {
    expect(said(undefined)).toEqual([]);
    expect(said([block(0, 5.1), block(24.9, 30), block(10, 12)])).toEqual([]);
    expect(said([block(0, 5)])).toEqual([
      {
        code: 'block-under-nothing',
        severity: 'error',
        setup: 2,
        message: 'Setup 2: no work lies over the block from X -5.0 to 0.0.',
      },
    ]);
    expect(said([block(25, 30.4)], 'inch')[0]!.message).toContain('from X 0.79 to 1.00');
  });

  it('a piece for a slot that is still to be cut where the jaws grip', () => {
    const piece = (x: number, y: number, direction: number, length: number) =>
      ({ kind: 'fork', fork: 'gap', mouth: at(x, y), direction, width: 2, length }) as const;
    expect(said([piece(5, 5, 0, 10)])).toEqual([]);
    expect(said([piece(5, 5, 0, 19.8)])).toEqual([]);
    expect(said([piece(5, 5, 0, 20.2)])).toEqual([
      {
        code: 'packing-no-slot',
        severity: 'error',
        setup: 2,
        message: 'Setup 2: no piece goes into “gap” yet: it is still to be cut when the vice is closed.',
      },
    ]);
    // From above, 5 mm down.
    expect(said([piece(10, 10, -Math.PI / 2, 9)])).toEqual([]);
    expect(said([piece(10, 10, -Math.PI / 2, 6)])).toHaveLength(1);
  });
});
