import { describe, expect, test } from 'vitest';
import type { Part } from '../sketch/part/part.ts';
import { polygon, type Region, rectangle, regionBox } from '../sketch/shape/region.ts';
import { arc, line } from '../sketch/shape/segment.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { rampDown, sinkRound } from '../toolpath/passes/entry.ts';
import { jawsInTheWay, jawsOf } from '../toolpath/passes/jaws.ts';
import { jutsOut } from '../toolpath/passes/juts-out.ts';
import type { Move } from '../toolpath/passes/pass.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { leftoverFindings, routeFindings, travelFindings } from '../toolpath/passes/plan-checks.ts';
import { oneWayStrokes } from '../toolpath/passes/strokes.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { JobStep, ViceHold } from '../toolpath/route/route.ts';
import { PLATE, planned, TAPE, TERMS, VICE } from './passes-programs.ts';

const shape = (...corners: readonly (readonly [number, number])[]): Region => ({
  contours: [polygon(corners.map(([x, y]) => ({ x, y })))],
});
const setup = (hold: ViceHold) => ({
  ...({ number: 1, face: 'front', datum: 'left-near', workOffset: 'G54', hold, steps: [] } as const),
});
const frame = frameOf({ ...PLATE.bar, corner: { x: 100, y: 0 } }, 'front', 'left-near');
const jaws = (from: number, to: number): ViceHold => ({ ...VICE, jaws: { from, to }, grip: 2 });
const slab = (region: Region, bottom = -6, top = 0) => ({ bottom, top, region });

describe('the jaws', () => {
  const on = (region: Region, hold = jaws(0, 400)) =>
    jawsOf(hold, frame, { stock: [slab(region)], wanted: [] })!;

  test('bear on what is flat along them, and on nothing that slants or is set back', () => {
    // 40 long below; above two flats of 10 and 6 with a slant between them, and a step that is set back.
    const work = shape(
      [0, 0],
      [40, 0],
      [40, 8],
      [34, 8],
      [34, 10],
      [24, 10],
      [20, 7],
      [12, 7],
      [6, 10],
      [0, 10],
    );
    expect(on(work).contact).toEqual({ near: 40, far: expect.closeTo(10 + 6, 3) });
    expect(on(work).faces).toEqual({ near: 0, far: 10 });
    // A tip alone is no flat.
    const tip = shape([0, 0], [40, 0], [20, 12]);
    expect(on(tip).contact).toEqual({ near: 40, far: 0 });
    expect(on(tip).faces).toEqual({ near: 0, far: expect.closeTo(12, 4) });
  });

  test('reach as far as they are long, and no higher than the grip', () => {
    const work = rectangle({ x: 0, y: 0 }, { x: 60, y: 10 });
    const short = on(work, jaws(110, 130));
    expect(short.top).toBe(-4);
    expect(short.contact).toEqual({ near: 20, far: 20 });
    const [far, near] = short.footprint.contours.map((c) => regionBox({ contours: [c] })!);
    expect(far).toEqual({ min: { x: 10, y: 10 }, max: { x: 30, y: 90 } });
    expect(near).toEqual({ min: { x: 10, y: -80 }, max: { x: 30, y: 0 } });
    expect(on(work, jaws(500, 600))).toMatchObject({ contact: null, faces: null });
  });

  test('bar the way of tips lower than half a millimetre over them, half a millimetre beyond their ends', () => {
    const short = on(rectangle({ x: 0, y: 0 }, { x: 60, y: 10 }), jaws(110, 130));
    expect(jawsInTheWay(short, -3.5).contours).toEqual([]);
    expect(jawsInTheWay(null, -5).contours).toEqual([]);
    const barred = jawsInTheWay(short, -3.51);
    expect(barred.contours).toHaveLength(2);
    expect(regionBox(barred)).toEqual({ min: { x: 9.5, y: -80 }, max: { x: 30.5, y: 90 } });
  });
});

describe('what juts out of the jaws', () => {
  const out = (region: Region, hold = jaws(0, 400)) =>
    jutsOut({ setup: setup(hold), frame, standing: [slab(region)] });

  test('is the longer stretch beyond what both bear on, in the drawing’s X', () => {
    const bar = rectangle({ x: 0, y: 0 }, { x: 60, y: 10 });
    expect(out(bar)).toBeNull();
    expect(out(bar, jaws(110, 400))).toEqual({ from: 100, to: 110 });
    expect(out(bar, jaws(0, 140))).toEqual({ from: 140, to: 160 });
    expect(out(bar, jaws(110, 140))).toEqual({ from: 140, to: 160 });
    expect(out(bar, jaws(125, 140))).toEqual({ from: 100, to: 125 });
    // 3 mm are enough to put a block under, less is not.
    expect(out(bar, jaws(103, 400))).toEqual({ from: 100, to: 103 });
    expect(out(bar, jaws(102.9, 400))).toBeNull();
  });

  test('is measured from where the narrower end leaves the jaws, but for a quarter of a millimetre', () => {
    const stepped = (set: number) =>
      shape([0, 0], [60, 0], [60, 10 - set], [35, 10 - set], [35, 10], [0, 10]);
    expect(out(stepped(2))).toEqual({ from: 135, to: 160 });
    expect(out(stepped(0.3))).toEqual({ from: 135, to: 160 });
    expect(out(stepped(0.2))).toBeNull();
    // The same on the other side, and turned about.
    expect(out(shape([0, 2], [25, 2], [25, 0], [60, 0], [60, 10], [0, 10]))).toEqual({ from: 100, to: 125 });
  });

  test('is nothing on a plate, of nothing, and of what is higher than the grip', () => {
    const bar = rectangle({ x: 0, y: 0 }, { x: 60, y: 10 });
    expect(jutsOut({ setup: { ...setup(VICE), hold: TAPE }, frame, standing: [slab(bar)] })).toBeNull();
    expect(jutsOut({ setup: setup(VICE), frame, standing: [] })).toBeNull();
    const high = slab(rectangle({ x: 40, y: 0 }, { x: 60, y: 10 }), -4, 0);
    const low = slab(rectangle({ x: 0, y: 0 }, { x: 40, y: 10 }));
    expect(jutsOut({ setup: setup(jaws(0, 400)), frame, standing: [low, high] })).toEqual({
      from: 140,
      to: 160,
    });
  });
});

describe('sinking', () => {
  const terms = { feed: 200, plungeFeed: 8, ramp: Math.PI / 90 };
  const tops = (moves: readonly Move[]) =>
    moves.flatMap((m) => (m.kind === 'feed' || m.kind === 'arc' ? [m.to.z] : [])).slice(1);
  const penAt = (x: number, y: number) => {
    const pen = takePen(5);
    pen.feedTo({ x, y, z: 0 }, 1);
    return pen;
  };
  const slope = Math.tan(Math.PI / 90);

  test('along an open way goes forth and back evenly, and ends over its start', () => {
    const pen = penAt(0, 0);
    const path = { segments: [line({ x: 0, y: 0 }, { x: 10, y: 0 })] };
    expect(rampDown(pen, path, -1, terms)).toBe(path);
    // 1 mm at 2° is 28.6 mm of way: two trips of 20.
    const heights = tops(pen.moves());
    expect(heights).toEqual([-0.25, -0.5, -0.75, -1].map((z) => expect.closeTo(z, 9)));
    expect(pen.at()).toEqual({ x: 0, y: 0, z: -1 });
    // As fast down as the plunge allows on that slope, no faster than the feed.
    const feeds = pen
      .moves()
      .slice(1)
      .map((m) => (m.kind === 'feed' ? m.feed : 0));
    for (const feed of feeds) expect(feed).toBeCloseTo(Math.min(200, 8 / Math.sin(Math.PI / 90)), 9);
  });

  test('uses no more of a long way than it needs, and no steeper slope than three degrees', () => {
    const long = { segments: [line({ x: 0, y: 0 }, { x: 100, y: 0 })] };
    const pen = penAt(0, 0);
    rampDown(pen, long, -1, terms);
    expect(pen.moves()[1]).toMatchObject({ to: { x: expect.closeTo(1 / slope / 2, 6), z: -0.5 } });
    const steep = penAt(0, 0);
    rampDown(steep, long, -1, { ...terms, ramp: 1 });
    expect(steep.moves()[1]).toMatchObject({ to: { x: expect.closeTo(1 / Math.tan(Math.PI / 60) / 2, 6) } });
    expect(rampDown(penAt(0, 0), long, 0, terms)).toBe(long);
  });

  test('on a round falls alike on every lap and goes on from where it ended', () => {
    const o = { x: 0, y: 0 };
    const at = { x: 2, y: 0 };
    const round = { segments: [arc(at, at, o, true)] };
    const pen = penAt(2, 0);
    const begun = rampDown(pen, round, -1, terms);
    const lap = 2 * Math.PI * 2;
    const heights = tops(pen.moves());
    expect(heights).toHaveLength(Math.ceil(1 / slope / lap));
    expect(heights.slice(0, -1)).toEqual(
      heights.slice(0, -1).map((_, i) => expect.closeTo(-(i + 1) * lap * slope, 9)),
    );
    expect(heights.at(-1)).toBe(-1);
    expect(begun.segments[0]!.from.x).toBeCloseTo(pen.at()!.x, 9);
    expect(begun.segments[0]!.from.y).toBeCloseTo(pen.at()!.y, 9);
  });

  test('on a round that is begun by it goes at least once about', () => {
    const o = { x: 0, y: 0 };
    const at = { x: 2, y: 0 };
    const round = { segments: [arc(at, at, o, true)] };
    const shallow = penAt(2, 0);
    expect(sinkRound(shallow, round, -0.1, terms)).toBe(round);
    expect(tops(shallow.moves())).toEqual([-0.1]);
    const deep = penAt(2, 0);
    sinkRound(deep, round, -1, terms);
    expect(tops(deep.moves()).length).toBeGreaterThan(2);
  });

  test('is refused where it would take more than 250 trips, with how much longer it must be', () => {
    const tiny = (length: number) => ({ segments: [line({ x: 0, y: 0 }, { x: length, y: 0 })] });
    const need = 1 / slope / 250;
    expect(() => rampDown(penAt(0, 0), tiny(need * 0.99), -1, terms)).toThrow(/a path 2 times as long/);
    expect(() => rampDown(penAt(0, 0), tiny(need * 1.01), -1, terms)).not.toThrow();
    expect(() => rampDown(takePen(5), tiny(1), -1, terms)).toThrow(/a place to start/);
  });
});

describe('strokes', () => {
  const terms = { radius: 4, allowance: 0, stepover: 3, direction: 'climb' as const };
  const target = rectangle({ x: 0, y: 0 }, { x: 50, y: 20 });
  const nothing: Region = { contours: [] };
  const ys = (
    over: Partial<typeof terms> | { direction: 'conventional' } = {},
    from: 'left' | 'right' = 'left',
    at = target,
  ) => oneWayStrokes(at, nothing, { ...terms, ...over }, from).map((p) => p.segments[0]!.from.y);

  test('lie evenly, no farther apart than the stepover, the outermost half a millimetre past the edge', () => {
    // From 3.5 to 16.5 in five steps of 2.6; climbing from the left the higher first.
    const expected = [3.5, 6.1, 8.7, 11.3, 13.9, 16.5].map((y) => expect.closeTo(y, 9));
    expect(ys()).toEqual([...expected].reverse());
    expect(ys({ direction: 'conventional' } as never)).toEqual(expected);
    expect(ys({}, 'right')).toEqual(expected);
    expect(oneWayStrokes(nothing, nothing, terms, 'left')).toEqual([]);
  });

  test('are one, in the middle, over what is no wider than the cutter but for a little', () => {
    expect(ys({}, 'left', rectangle({ x: 0, y: 0 }, { x: 50, y: 7.7 }))).toEqual([3.85]);
    expect(ys({}, 'left', rectangle({ x: 0, y: 0 }, { x: 50, y: 7.9 }))).toHaveLength(2);
  });

  test.each(['left', 'right'] as const)(
    'from the %s meet the work in that order beside a wall that parts them',
    (from) => {
      const wall = rectangle({ x: 20, y: -5 }, { x: 26, y: 25 });
      const strokes = oneWayStrokes(target, wall, terms, from);
      expect(strokes).toHaveLength(12);
      for (const [i, s] of strokes.entries()) {
        const [a, b] = [s.segments[0]!.from, s.segments.at(-1)!.to];
        expect(Math.sign(b.x - a.x)).toBe(from === 'left' ? 1 : -1);
        expect((a.x + b.x) / 2 < 23).toBe((i % 2 === 0) === (from === 'left'));
        // A radius off the wall, and begun two and a radius beyond the target at most.
        for (const p of [a, b]) {
          expect(p.x <= 16 + 1e-3 || p.x >= 30 - 1e-3).toBe(true);
          expect(p.x).toBeGreaterThanOrEqual(-6);
          expect(p.x).toBeLessThanOrEqual(56);
        }
      }
    },
  );
});

describe('holes, forks and slots where they begin', () => {
  const hole = (x: number, depth: number | null, diameter = 4): Part => ({
    ...PLATE,
    holes: [{ name: 'pin', purpose: 'reamed', centre: { x, y: 15 }, diameter, depth, from: 'front' }],
  });
  const drill: JobStep = { kind: 'drill', name: 'drill', cutter: '3.8 mm drill', holes: ['pin'], peck: 2 };
  const ream: JobStep = { kind: 'ream', name: 'ream', cutter: '4 mm reamer', holes: ['pin'] };
  const tips = (part: Part, steps: readonly JobStep[]) =>
    planned(part, steps).setups[0]!.steps.map((s) => {
      const move = s.passes[0]!.moves.find((m) => m.kind === 'drill');
      return move?.kind === 'drill' ? move.depth : Number.NaN;
    });
  /** Height of a 118° point, handbook geometry: half the diameter over tan 59°. */
  const point = (d: number): number => d / 2 / Math.tan((59 * Math.PI) / 180);

  test('a drill goes through by its point and half a millimetre, a reamer by half a millimetre, though the middle be gone', () => {
    // Near the bar's end as well, where little is left beside it.
    for (const x of [30, 55, 4])
      expect(tips(hole(x, null), [drill, ream])).toEqual([
        expect.closeTo(-6 - 0.5 - point(3.8), 9),
        expect.closeTo(-6.5, 9),
      ]);
  });

  test('a blind hole is full to its depth below its own land: the drill’s point goes farther, the reamer’s end not', () => {
    expect(tips(hole(30, 3), [drill, ream])).toEqual([
      expect.closeTo(-3 - point(3.8), 9),
      expect.closeTo(-3, 9),
    ]);
    const lands: Part['lands'] = [
      { name: 'low', shape: { kind: 'disc', centre: { x: 30, y: 15 }, radius: 8 }, top: 4.5, bottom: 0 },
    ];
    expect(tips({ ...hole(30, 3), lands }, [drill])).toEqual([expect.closeTo(-1.5 - 3 - point(3.8), 9)]);
  });

  test('a fork as wide as its cutter begins before the bar that stands beyond its mouth', () => {
    // The body begins 2 mm inside the bar: from its mouth a radius and a bit out, and on by halves until it is clear.
    const corners = [2, 60].flatMap((x) =>
      x === 2
        ? [{ x, y: 0 }]
        : [
            { x, y: 0 },
            { x, y: 30 },
          ],
    );
    const part: Part = {
      ...PLATE,
      plates: [{ ...PLATE.plates[0]!, corners: [...corners, { x: 2, y: 30 }] }],
      forks: [
        { name: 'fork', mouth: { x: 2, y: 15 }, direction: 0, width: 5, depth: 14, root: { kind: 'round' } },
      ],
    };
    const step: JobStep = {
      ...TERMS,
      kind: 'fork',
      name: 'fork',
      fork: 'fork',
      cutter: '5 mm endmill',
      web: 0,
      engagement: null,
    };
    const first = planned(part, [step]).setups[0]!.steps[0]!.passes[0]!.moves[0]!;
    // 2 − 2.5 − 0.6 = −1.1 is only 1.1 mm off the bar; 2.5 + 0.3 are wanted: −3.1.
    expect(first).toMatchObject({ kind: 'rapid', to: { x: expect.closeTo(-3.1, 9), y: 15 } });
  });

  test.each([
    [9, 'to'],
    [21, 'from'],
  ] as const)('a slot at Y %s is peeled from its %s end: the loops press on the thick side', (y, end) => {
    const slots: Part['slots'] = [
      { name: 'slot', from: { x: 20, y }, to: { x: 38, y }, width: 7, depth: null, face: 'front' },
    ];
    const step: JobStep = {
      ...TERMS,
      kind: 'slot',
      name: 'slot',
      slot: 'slot',
      cutter: '4 mm endmill',
      web: 0,
      engagement: 1.3,
    };
    const moves = planned({ ...PLATE, slots }, [step]).setups[0]!.steps[0]!.passes[0]!.moves;
    const round = moves.find((m) => m.kind === 'arc');
    expect(round?.kind === 'arc' && round.centre).toEqual({ x: end === 'from' ? 20 : 38, y });
  });
});

describe('what is found', () => {
  test('of travels: what goes beyond them by anything, each axis by itself', () => {
    const drill: JobStep = {
      kind: 'drill',
      name: 'drill',
      cutter: '3.8 mm drill',
      holes: ['a', 'b'],
      peck: 2,
    };
    const hole = (name: string, x: number, y: number) =>
      ({ name, purpose: 'clearance', centre: { x, y }, diameter: 3.8, depth: 2, from: 'front' }) as const;
    const [setupDone] = planned({ ...PLATE, holes: [hole('a', 10, 5), hole('b', 50, 25)] }, [drill]).setups;
    const found = (x: number, y: number, z: number) =>
      travelFindings(setupDone!, { ...standardProfile, travel: { x, y, z } }, 'mm').map((f) => f.message);
    expect(found(40, 20, 20)).toEqual([]);
    expect(found(39.9, 20, 20)).toEqual(['Setup 1 moves 40 mm in X; the machine has 39.9 mm.']);
    expect(found(40, 19.9, 20)).toEqual(['Setup 1 moves 20 mm in Y; the machine has 19.9 mm.']);
    // From 5 over the work down to 2 and the drill's point of 1.14.
    expect(found(40, 20, 8.2)).toEqual([]);
    expect(found(40, 20, 8.1)[0]).toContain('in Z');
    expect(
      travelFindings(
        { ...setupDone!, steps: [] },
        { ...standardProfile, travel: { x: 0, y: 0, z: 0 } },
        'mm',
      ),
    ).toEqual([]);
  });

  test('of what is left: only what touches the part at its own height, and is no speck', () => {
    const want = [slab(rectangle({ x: 0, y: 0 }, { x: 20, y: 10 }), 0, 4)];
    const left = (region: Region, bottom = 0, top = 4) =>
      leftoverFindings([slab(region, bottom, top)], want, 'mm');
    const ear = rectangle({ x: 18, y: 8 }, { x: 22, y: 12 });
    expect(left(ear)).toHaveLength(1);
    expect(left(ear)[0]).toMatchObject({ code: 'not-reached', at: { x: 20, y: 10, z: 0 } });
    // Off the part; above and below it; inside it; a speck.
    expect(left(rectangle({ x: 22, y: 0 }, { x: 30, y: 10 }))).toEqual([]);
    expect(left(ear, 4, 8)).toEqual([]);
    expect(left(ear, -3, 0)).toEqual([]);
    expect(left(ear, 3.9, 8)).toHaveLength(1);
    expect(left(rectangle({ x: 2, y: 2 }, { x: 8, y: 8 }))).toEqual([]);
    expect(left(rectangle({ x: 20, y: 0 }, { x: 20.1, y: 0.15 }))).toEqual([]);
    expect(left(rectangle({ x: 20, y: 0 }, { x: 20.1, y: 0.25 }))).toHaveLength(1);
  });

  test('of a cutter: that it is wider than its opening by more than two hundredths', () => {
    const step = (cutter: string): JobStep => ({
      ...TERMS,
      kind: 'slot',
      name: 'slot',
      slot: 'slot',
      cutter,
      web: 0,
      engagement: null,
    });
    const codes = (width: number) =>
      routeFindings(
        {
          ...PLATE,
          slots: [
            { name: 'slot', from: { x: 20, y: 9 }, to: { x: 38, y: 9 }, width, depth: 2, face: 'front' },
          ],
        },
        { setups: [{ ...setup(VICE), steps: [step('6 mm endmill')] }] },
        standardProfile,
      ).map((f) => f.code);
    expect(codes(5.981)).toEqual([]);
    expect(codes(5.979)).toEqual(['cutter-too-wide']);
  });
});
