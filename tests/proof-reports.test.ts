import { describe, expect, it, test } from 'vitest';
import { indexSolid } from '../gcode/proof/gouge.ts';
import { proofJson } from '../gcode/proof/json.ts';
import type { Leftover } from '../gcode/proof/leftover.ts';
import { lowestFeed, passGroups } from '../gcode/proof/passes.ts';
import type { Proof, ProofInput, ProofSetup } from '../gcode/proof/proof.ts';
import { type Reach, reachOf } from '../gcode/proof/reach.ts';
import { excessFindings } from '../gcode/proof/report-excess.ts';
import { faultFindings } from '../gcode/proof/report-faults.ts';
import { watchGouges } from '../gcode/proof/report-gouges.ts';
import type { WallExcess } from '../gcode/proof/walls.ts';
import type { Motion, Reading } from '../gcode/reading/motion.ts';
import type { Bar, Face } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { polygon, rectangle, reverseContour } from '../sketch/shape/region.ts';
import { circle } from '../sketch/shape/segment.ts';
import { cutPath } from '../toolpath/removal/cut-path.ts';
import { barMap } from '../toolpath/removal/height-map.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import { cutters, frontHold } from './proof-plate.ts';

// What the measures come to in words: what is told, of what, how often, and in which figure it is counted.

const bar: Bar = {
  length: 30,
  width: 20,
  thickness: 5,
  material: 'brass',
  corner: { x: 0, y: 0 },
  sawn: 0,
};
const setup = (number: number, face: Face): ProofSetup => ({
  number,
  frame: frameOf(bar, face, 'left-near'),
  hold: frontHold,
  tools: cutters,
  text: '',
});
const input: ProofInput = {
  bar,
  wanted: { slabs: [] },
  setups: [setup(4, 'front'), setup(7, 'back')],
  tolerance: { gouge: 0.02, excess: 0.05 },
};
const wall = (x: number, amount: number, more: Partial<WallExcess> = {}): WallExcess => ({
  slab: 0,
  amount,
  place: { x, y: 20 },
  outward: { x: 0, y: 1 },
  bottom: 1,
  top: 4,
  setup: 0,
  ...more,
});
const left = (kind: Leftover['kind'], amount: number, more: Partial<Leftover> = {}): Leftover => ({
  kind,
  amount,
  at: { x: 3, y: 4, z: 2 },
  area: 12.3,
  face: null,
  ...more,
});
const touches: Reach = { radius: 3, shortfall: () => 0 };
const report = (
  terms: {
    readonly over?: readonly WallExcess[];
    readonly within?: readonly WallExcess[];
    readonly leftovers?: readonly Leftover[];
    readonly reach?: Reach;
    readonly input?: Partial<ProofInput>;
  },
  map = barMap(bar, 0.1),
) =>
  excessFindings({
    input: { ...input, ...terms.input },
    map,
    walls: { over: terms.over ?? [], within: terms.within ?? [] },
    leftovers: terms.leftovers ?? [],
    reach: terms.reach ?? touches,
  });
const words = (made: ReturnType<typeof report>): readonly string[] => made.findings.map((f) => f.message);

describe('a wall that stands proud', () => {
  it('is told with its worst place, its heights and how far along it goes, and counts for its setup', () => {
    const made = report({ over: [wall(5, 0.1), wall(5.5, 0.2, { setup: 1 }), wall(8.2, 0.06)] });
    expect(made.findings).toEqual([
      {
        code: 'wall-excess',
        message:
          'The cutters stop 0.200 mm short of a wall at X 5.50, Y 20.00 of the drawing, between Z 1.00 and 4.00.',
        severity: 'error',
        setup: 7,
        at: { x: 5.5, y: 20, z: 2.5 },
      },
      {
        code: 'wall-excess',
        message:
          'The cutters stop 0.060 mm short of a wall at X 8.20, Y 20.00 of the drawing, between Z 1.00 and 4.00.',
        severity: 'error',
        setup: 4,
        at: { x: 8.2, y: 20, z: 2.5 },
      },
    ]);
    expect([made.largest, made.bySetup]).toEqual([0.2, [0.06, 0.2]]);
    const long = report({ over: [5, 5.9, 6.8, 7.7].map((x) => wall(x, 0.1)) });
    expect(words(long)).toEqual([expect.stringContaining('4.00, along about 3 mm of it.')]);
    const corner = report({ over: [wall(5, 0.1), wall(6, 0.1, { place: { x: 5.9, y: 19.1 } })] });
    expect(words(corner)).toEqual([expect.stringContaining('along about 1 mm of it.')]);
  });

  it('that no cutter came near is 2 mm or more, and the last setup’s', () => {
    const made = report({ over: [wall(5, 2, { setup: -1, outward: { x: 0, y: 1 } })] });
    expect(words(made)[0]).toMatch(/^The cutters stop 2 mm or more short/);
    expect(made.findings[0]).not.toHaveProperty('setup');
    expect(made.bySetup).toEqual([0, 2]);
  });

  it('is left to the map where it is seen there, more than three cells thick', () => {
    const inside = { place: { x: 5, y: 10 } };
    expect(words(report({ over: [wall(5, 0.31, inside)] }))).toEqual([]);
    expect(words(report({ over: [wall(5, 0.29, inside)] }))).toHaveLength(1);
    // Off the map, and where nothing stands two cells off the wall.
    expect(words(report({ over: [wall(5, 0.31)] }))).toHaveLength(1);
    const lowered = barMap(bar, 0.1);
    lowered.top.fill(2.4);
    expect(words(report({ over: [wall(5, 0.31, inside)] }, lowered))).toHaveLength(1);
    lowered.top.fill(5);
    lowered.bottom.fill(2.6);
    expect(words(report({ over: [wall(5, 0.31, inside)] }, lowered))).toHaveLength(1);
    lowered.bottom.fill(2.4);
    expect(words(report({ over: [wall(5, 0.31, inside)] }, lowered))).toEqual([]);
  });

  it('is told in twenty stretches at most, the worst first', () => {
    const over = Array.from({ length: 23 }, (_, k) => wall(5 * k, 0.1 + k / 100));
    const told = words(report({ over }));
    expect(told).toHaveLength(20);
    expect(told[0]).toContain('0.320 mm');
    expect(told[19]).toContain('0.130 mm');
  });

  it('within the tolerance is only counted, less what a corner makes unavoidable', () => {
    const within = [wall(5, 0.02), wall(9, 0.04, { setup: 1 }), wall(7, 0.03, { setup: 1 })];
    const made = report({ within });
    expect([made.findings, made.largest, made.bySetup]).toEqual([[], 0.04, [0.02, 0.04]]);
    const reach: Reach = { radius: 3, shortfall: (_, { x }) => (x === 9 ? 0.03 : null) };
    const less = report({ within, reach });
    expect([less.largest, less.bySetup]).toEqual([0.03, [0.02, 0.03]]);
  });
});

describe('a corner no cutter reaches', () => {
  const short = (by: number): Reach => ({ radius: 3, shortfall: () => by });
  it('is told once within two radii, with its area where that is known, as what it is: a note', () => {
    const over = [wall(5, 0.4), wall(10.9, 0.3), wall(11, 0.2)];
    const patch = left('corner', 0.4, { at: { x: 5, y: 14.1, z: 2 }, area: 1.94 });
    const made = report({ over, reach: short(0.4), leftovers: [patch] });
    expect(made.findings).toEqual([
      {
        code: 'corner-not-reached',
        message:
          'No owned cutter reaches into the corner at X 5.00, Y 20.00 of the drawing: 0.40 mm is left there, over about 1.9 mm². File it, or round it to 3.00 mm.',
        severity: 'note',
        at: { x: 5, y: 20, z: 2.5 },
      },
      {
        code: 'corner-not-reached',
        message:
          'No owned cutter reaches into the corner at X 11.00, Y 20.00 of the drawing: 0.20 mm is left there. File it, or round it to 3.00 mm.',
        severity: 'note',
        at: { x: 11, y: 20, z: 2.5 },
      },
    ]);
    expect(made.largest).toBe(0);
  });

  it('is one as long as no more than the tolerance is left of it, and then the rest is the wall’s', () => {
    const codes = (by: number) =>
      report({ over: [wall(5, 0.45)], reach: short(by) }).findings.map((f) => f.code);
    expect(codes(0.41)).toEqual(['corner-not-reached']);
    expect(codes(0.39)).toEqual(['wall-excess']);
    expect(words(report({ over: [wall(5, 0.45)], reach: short(0.39) }))[0]).toContain('stop 0.060 mm short');
  });

  it('is told twenty times at most', () => {
    const over = Array.from({ length: 23 }, (_, k) => wall(7 * k, 0.4));
    expect(report({ over, reach: short(0.4) }).findings).toHaveLength(20);
  });
});

describe('what is left', () => {
  it('counts for the last setup that had its face up, else for the last', () => {
    const floor = (face: Face) => report({ leftovers: [left('floor', 0.1, { face })] });
    expect([floor('front').findings[0]!.setup, floor('front').bySetup]).toEqual([4, [0.1, 0]]);
    expect([floor('back').findings[0]!.setup, floor('back').bySetup]).toEqual([7, [0, 0.1]]);
    const fronts = [setup(1, 'front'), setup(2, 'front')];
    const turned = report({ leftovers: [left('floor', 0.1, { face: 'back' })], input: { setups: fronts } });
    expect(turned.findings[0]!.setup).toBe(2);
    const again = report({ leftovers: [left('floor', 0.1, { face: 'front' })], input: { setups: fronts } });
    expect(again.findings[0]!.setup).toBe(2);
    expect(report({ leftovers: [left('web', 0.8)] }).bySetup).toEqual([0, 0.8]);
  });

  it('over the tolerance is told, within it only counted; a web always', () => {
    const at = 'at X 3.00, Y 4.00 of the drawing';
    const told = (kind: Leftover['kind'], amount: number) => report({ leftovers: [left(kind, amount)] });
    expect(words(told('floor', 0.051))).toEqual([
      `The surface ${at} is 0.051 mm too high, over about 12 mm².`,
    ]);
    expect(words(told('material', 0.06))).toEqual([
      `Material stands 0.06 mm proud of the part ${at}, over about 12 mm².`,
    ]);
    expect(words(told('web', 0.03))).toEqual([
      `A web 0.03 mm thick still stands ${at}, over about 12 mm²: nothing releases it.`,
    ]);
    for (const kind of ['floor', 'material'] as const) {
      expect([told(kind, 0.05).findings, told(kind, 0.05).largest]).toEqual([[], 0.05]);
    }
    expect([told('corner', 0.4).findings, told('corner', 0.4).largest]).toEqual([[], 0]);
  });

  it('is told worst first, a bridge of several patches once', () => {
    const bridge = (x: number) => ({
      at: { x, y: 0 },
      outward: { x: 0, y: -1 },
      length: 4,
      width: 3,
      height: 1,
    });
    const at = (x: number) => ({ at: { x, y: 1, z: 0.5 } });
    const leftovers = [
      left('bridge', 0.9, at(4)),
      left('bridge', 1, at(6)),
      left('web', 2),
      left('bridge', 0.8, at(21)),
    ];
    const made = report({ leftovers, input: { bridges: [bridge(20), bridge(5)] } });
    expect(words(made)).toEqual([
      expect.stringContaining('A web 2.00 mm'),
      'A bridge 1.00 mm thick is left for the saw and the file at X 6.00, Y 1.00 of the drawing.',
      'A bridge 0.80 mm thick is left for the saw and the file at X 21.00, Y 1.00 of the drawing.',
    ]);
    expect(made.largest).toBe(2);
    expect(words(report({ leftovers: [left('bridge', 1), left('bridge', 1)] }))).toHaveLength(2);
  });
});

it('of gouges the worst within 5 mm and of each kind is told, twelve at most, none within the tolerance', () => {
  const block: Solid = { slabs: [{ bottom: 0, top: 5, region: rectangle({ x: 0, y: 0 }, { x: 99, y: 9 }) }] };
  const flat = { face: 'front', zero: { x: 0, y: 0, z: 0 } } as const;
  const watched = (places: readonly (readonly [number, number, number])[]) => {
    const watch = watchGouges(indexSolid(block), setup(4, 'front'), 0.02);
    const said = places.map(([x, y, z], k) => {
      const at = { x, y, z };
      const motion: Motion = {
        kind: 'feed',
        from: at,
        to: at,
        feed: 1,
        tool: 1,
        speed: 1,
        line: k,
        label: -1,
      };
      return watch.meet(cutPath(motion, cutters[0]!, flat, { setup: 0, pass: 0 }));
    });
    const told = watch.findings([{ step: 'edge', label: '', kind: 'rough' }]);
    return {
      said,
      told: told.map((f) => [f.code, Number(/on line (\d+)/.exec(f.message)![1])]),
      deepest: watch.deepest(),
    };
  };
  const { said, told, deepest } = watched([
    [10, 5, 4.9],
    [14.9, 5, 4.8],
    [20, 5, 4.85],
    [30, 5, 4.99],
    [40, 5, 6],
    [12, -2.95, 1],
  ]);
  expect(said).toEqual([true, true, true, true, false, true]);
  expect(told).toEqual([
    ['gouge-floor', 1],
    ['gouge-floor', 2],
    ['gouge-wall', 5],
  ]);
  expect(deepest).toBeCloseTo(0.2, 9);
  expect(watched(Array.from({ length: 14 }, (_, k) => [5 + 6 * k, 5, 4.5])).told).toHaveLength(12);
  expect(watched([[30, 5, 4.99]])).toMatchObject({ told: [], said: [true] });
  // Of more than can be kept the deepest is not forgotten.
  const many = Array.from({ length: 6000 }, () => [10, 5, 4.9] as const);
  expect(watched([[30, 5, 4.5], ...many]).told).toEqual([
    ['gouge-floor', 0],
    ['gouge-floor', 1],
  ]);
});

describe('a text', () => {
  const ending = { count: 3, labels: [], stops: [], faults: [], workOffset: 'G54', ended: true, dwell: 0 };
  const codes = (more: Partial<typeof ending> | object): readonly string[] =>
    faultFindings(setup(4, 'front'), { ...ending, ...more }).map((f) => f.code);
  test('must end and must move something, and each fault of its own is told with its line', () => {
    expect(codes({})).toEqual([]);
    expect(codes({ ended: false })).toEqual(['no-end']);
    expect(codes({ count: 0 })).toEqual(['no-motion']);
    const fault = { code: 'no-end', message: 'It stops here.', line: 9, severity: 'warning' } as const;
    expect(codes({ ended: false, faults: [fault] })).toEqual(['no-end']);
    expect(codes({ ended: false, faults: [{ ...fault, code: 'other' }] })).toEqual(['other', 'no-end']);
    expect(faultFindings(setup(4, 'front'), { ...ending, faults: [fault] })).toEqual([
      { code: 'no-end', message: 'Line 9: It stops here.', severity: 'warning', setup: 4 },
    ]);
    expect(faultFindings(setup(4, 'front'), { ...ending, ended: false, count: 0 })).toEqual([
      {
        code: 'no-end',
        message: 'The program does not end with M30 or M2: it may have been cut short.',
        severity: 'error',
        setup: 4,
      },
      { code: 'no-motion', message: 'The program moves nothing.', severity: 'error', setup: 4 },
    ]);
  });
});

describe('how near the smallest endmill comes', () => {
  const notch = polygon([
    { x: 0, y: 0 },
    { x: 40, y: 0 },
    { x: 40, y: 10 },
    { x: 20, y: 10 },
    { x: 20, y: 30 },
    { x: 0, y: 30 },
  ]);
  const wanted: Solid = { slabs: [{ bottom: 0, top: 4, region: { contours: [notch] } }] };
  const [six, five, drill] = [cutters[0]!, cutters[1]!, cutters[2]!];
  it('to a square corner is r (√2 − 1), to a wall all the way', () => {
    expect(reachOf(wanted, [six]).shortfall(0, { x: 20, y: 10 })).toBeCloseTo(3 * (Math.SQRT2 - 1), 2);
    expect(reachOf(wanted, [six, five, drill]).shortfall(0, { x: 20, y: 10 })).toBeCloseTo(
      2.5 * (Math.SQRT2 - 1),
      2,
    );
    expect(reachOf(wanted, [six]).shortfall(0, { x: 30, y: 10 })).toBe(0);
    expect(reachOf(wanted, [five, six]).radius).toBe(2.5);
  });
  it('is not known without one, nor in a hole that it does not go into', () => {
    expect([reachOf(wanted, [drill]).radius, reachOf(wanted, []).shortfall(0, { x: 20, y: 10 })]).toEqual([
      null,
      null,
    ]);
    const holed = (r: number): Solid => {
      const hole = { segments: [circle({ x: 10, y: 10 }, r, false)] };
      const outline = rectangle({ x: 0, y: 0 }, { x: 40, y: 20 }).contours;
      return { slabs: [{ bottom: 0, top: 4, region: { contours: [...outline, hole] } }] };
    };
    expect(reachOf(holed(2.9), [six]).shortfall(0, { x: 12.9, y: 10 })).toBeNull();
    expect(reachOf(holed(3), [six]).shortfall(0, { x: 13, y: 10 })).toBe(0);
  });
  it('is the better of both faces', () => {
    const pocket = rectangle({ x: 10, y: 5 }, { x: 30, y: 15 }).contours.map(reverseContour);
    const outline = rectangle({ x: 0, y: 0 }, { x: 40, y: 20 });
    const blind = (top: boolean): Solid => {
      const open = { contours: [...outline.contours, ...pocket] };
      const [low, high] = top ? [outline, open] : [open, outline];
      return {
        slabs: [
          { bottom: 0, top: 2, region: low },
          { bottom: 2, top: 4, region: high },
        ],
      };
    };
    for (const top of [true, false]) {
      expect(reachOf(blind(top), [six]).shortfall(top ? 1 : 0, { x: 20, y: 5 })).toBe(0);
      expect(reachOf(blind(top), [six]).shortfall(top ? 1 : 0, { x: 10, y: 5 })).toBeCloseTo(
        3 * (Math.SQRT2 - 1),
        2,
      );
    }
  });
});

describe('passes that nothing names', () => {
  const motion = (kind: Motion['kind'], z0: number, z1: number, across: boolean, tool = 1): Motion => ({
    kind,
    from: { x: 0, y: 0, z: z0 },
    to: { x: across ? 9 : 0, y: 0, z: z1 },
    feed: 1,
    tool,
    speed: 1,
    line: 1,
    label: -1,
  });
  const groups = (...motions: Motion[]) =>
    passGroups({ motions, labels: [] } as unknown as Reading).map((g) => [g.first, g.end, g.lowest, g.step]);
  const [down, along, up] = [
    (z: number) => motion('feed', 9, z, false),
    (z: number) => motion('feed', z, z, true),
    (z: number) => motion('rapid', z, 9, false),
  ];
  it('begin where a cutter leaves one level by a rapid for another, or is called for', () => {
    expect(groups(down(-1), along(-1), up(-1), down(-2), along(-2))).toEqual([
      [0, 2, -1, 'cutter 1'],
      [2, 5, -2, 'cutter 1'],
    ]);
    expect(groups(down(-1), along(-1), up(-1), down(-1), along(-1))).toEqual([[0, 5, -1, 'cutter 1']]);
    expect(groups(down(-1), along(-1), up(-1), down(-0.5), along(-0.5))).toHaveLength(2);
    expect(groups(down(-1), along(-1), motion('feed', -1, -1, true, 2))).toEqual([
      [0, 2, -1, 'cutter 1'],
      [2, 3, -1, 'cutter 2'],
    ]);
    // Rapids at the start lead to the first level.
    expect(groups(up(5), motion('rapid', 9, 1, false), down(-1), along(-1))).toEqual([
      [0, 4, -1, 'cutter 1'],
    ]);
    expect(groups(up(5), motion('rapid', 9, 9, true))).toEqual([[0, 2, null, 'cutter 1']]);
  });
  it('are as low as their feeds, not their rapids', () => {
    expect(lowestFeed([motion('rapid', 9, -7, false)], null)).toBeNull();
    expect(lowestFeed([motion('feed', -3, -1, true), motion('feed', -1, -2, true)], null)).toBe(-3);
    expect(lowestFeed([motion('feed', -3, -1, true)], -4)).toBe(-4);
    expect(lowestFeed([motion('feed', 0, -5, true)], -4)).toBe(-5);
  });
});

it('a report is written with rounded figures, places as lists, and nothing that is not a number', () => {
  const proof: Proof = {
    verdict: 'fits',
    gougeMax_mm: 0.00126,
    excessMax_mm: Number.POSITIVE_INFINITY,
    resolution_mm: 0.1,
    findings: [
      {
        code: 'a',
        message: 'one',
        severity: 'note',
        setup: 2,
        at: { x: 1.00004, y: -0.00001, z: 3.12346 },
        feature: 'edge',
      },
      { code: 'b', message: 'two', severity: 'error', feature: '' },
    ],
    setups: [
      {
        number: 1,
        stock_mm: { min: [-0.00001, 1.23456, 2], max: [3, 4, 5.00001] },
        tools: [],
        gougeMax_mm: 0.123456,
        excessMax_mm: 0.00004,
        rapidsInStock: 1,
        jawHits: 2,
        cutLength_mm: 12.345678,
        rapidLength_mm: 1.234,
        time_s: 61.26,
        passes: [
          { step: 's', z_mm: -1.00004, kind: 'rough', webLeft_mm: 0.123456 },
          {
            step: 's',
            z_mm: -2,
            kind: 'release',
            webLeft_mm: null,
            engagement: {
              most_deg: 61.26,
              entry_deg: 12.34,
              at_mm: [1.23456, 2, 3],
              line: 9,
              limit_deg: 60.04,
            },
          },
          { step: 's', z_mm: -2, kind: 'finish', webLeft_mm: null, engagement: null },
          {
            step: 's',
            z_mm: -2,
            kind: 'finish',
            webLeft_mm: 0,
            engagement: { most_deg: 1, entry_deg: 0, at_mm: [1, 2, 3], line: 9, limit_deg: null },
          },
        ],
      },
    ],
  };
  expect(proofJson(proof)).toEqual({
    verdict: 'fits',
    gougeMax_mm: 0.0013,
    excessMax_mm: 0,
    resolution_mm: 0.1,
    findings: [
      { code: 'a', message: 'one', severity: 'note', setup: 2, at: [1, 0, 3.1235], feature: 'edge' },
      { code: 'b', message: 'two', severity: 'error', setup: null, at: null },
    ],
    setups: [
      {
        number: 1,
        stock_mm: { min: [0, 1.2346, 2], max: [3, 4, 5] },
        tools: [],
        gougeMax_mm: 0.1235,
        excessMax_mm: 0,
        rapidsInStock: 1,
        jawHits: 2,
        cutLength_mm: 12.35,
        rapidLength_mm: 1.23,
        time_s: 61.3,
        passes: [
          { step: 's', z_mm: -1, kind: 'rough', webLeft_mm: 0.1235 },
          {
            step: 's',
            z_mm: -2,
            kind: 'release',
            webLeft_mm: null,
            engagement: { most_deg: 61.3, entry_deg: 12.3, at_mm: [1.2346, 2, 3], line: 9, limit_deg: 60 },
          },
          { step: 's', z_mm: -2, kind: 'finish', webLeft_mm: null, engagement: null },
          {
            step: 's',
            z_mm: -2,
            kind: 'finish',
            webLeft_mm: 0,
            engagement: { most_deg: 1, entry_deg: 0, at_mm: [1, 2, 3], line: 9, limit_deg: null },
          },
        ],
      },
    ],
  });
});
