import { describe, expect, it } from 'vitest';
import type { Point } from '../sketch/shape/point.ts';
import { disc, NOTHING, rectangle, regionArea, regionBox } from '../sketch/shape/region.ts';
import { type Arc, arc, line, type Segment } from '../sketch/shape/segment.ts';
import type { Clearing } from '../toolpath/passes/area.ts';
import type { BridgeLift } from '../toolpath/passes/bridges.ts';
import {
  bridgeLevels,
  frontMemory,
  frontsOf,
  gentleFinish,
  groundAt,
  shortOfBridge,
  unkeptWords,
} from '../toolpath/passes/front-level.ts';
import {
  canPeel,
  engagementAt,
  finishingAllowance,
  leadOf,
  mostStep,
  orbitOf,
  type PeelTerms,
  peelLoops,
  peelOpening,
  peelStep,
} from '../toolpath/passes/peel.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { evenly, followFed, loopsFed, MOST_FACTOR } from '../toolpath/passes/tooth-load.ts';
import { endmill, walledBy } from './passes-samples.ts';

// Cutting under a limit of engagement: its steps, leads, levels and feeds from closed forms, and what is said where the
// limit cannot be kept.

const at = (x: number, y: number): Point => ({ x, y });
const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const deg = (angle: number): number => Math.round((angle * 180 * 100) / Math.PI) / 100;
const round = (v: number): number => Math.round(v * 1e4) / 1e4 + 0;

describe('loops', () => {
  it('go round on what the opening is wider than the cutter, a tenth of its radius at least', () => {
    expect(orbitOf({ width: 10, radius: 2 })).toBe(3);
    expect([4.39, 4.4, 4.5].map((width) => canPeel({ width, radius: 2 }))).toEqual([false, true, true]);
  });

  it('lie no farther apart than the cutter is wide, nine tenths of their own width, and a cusp of 0.012 mm', () => {
    // The chord of a circle of 5 mm with a rise of 0.012.
    expect(mostStep({ width: 10, radius: 2 })).toBeCloseTo(2 * Math.sqrt(25 - 4.988 ** 2), 9);
    expect(mostStep({ width: 4.5, radius: 2 })).toBeCloseTo(0.45, 9);
    expect(mostStep({ width: 2, radius: 0.1 })).toBeCloseTo(0.2, 9);
  });

  it('begin inside each other: by half the step over the orbit, at most a right angle', () => {
    expect([leadOf(2, 2), leadOf(1, 4), leadOf(3, 0)].map(deg)).toEqual([30, 90, 0]);
  });

  it('bury the rim by what two circles of one size say, more on the side they come from than on the other', () => {
    const buried = (x: number, y: number, reach?: number) =>
      deg(engagementAt(at(0, 0), at(-1, 0), at(x, y), 2, reach));
    // cos = (5² − 4² − 2²) / (2 · 4 · 2)
    expect(buried(3, 0)).toBe(deg(Math.acos(5 / 16)));
    const side = Math.acos((25 - 10 - 4) / (4 * Math.sqrt(10)));
    const turn = Math.PI / 2 - Math.atan2(3, 1);
    expect(buried(0, 3)).toBe(deg(side - turn));
    expect(buried(0, -3)).toBe(deg(side + turn));
    expect(buried(-3, 0)).toBe(0);
    // All within a larger reach is gone, and of a smaller one less.
    expect(buried(3, 0, 6)).toBe(0);
    expect(buried(3, 0, 4.5)).toBe(deg(Math.acos((4.5 ** 2 - 20) / 16)));
  });

  it('leave on a wall what a finishing lap takes within the limit', () => {
    expect(finishingAllowance(rad(60), 2, Number.POSITIVE_INFINITY)).toBeCloseTo(1, 9);
    expect(finishingAllowance(rad(60), 2, 0)).toBeCloseTo(0, 9);
    expect(finishingAllowance(rad(60), 2, 3)).toBeCloseTo(5 - Math.sqrt(19), 9);
  });

  const terms = (more: Partial<PeelTerms> = {}): PeelTerms => ({
    ...{ from: at(1, 2), to: at(2, 2), width: 10, radius: 2, engagement: Math.PI, direction: 'climb' },
    ...more,
  });
  const places = (segments: readonly Segment[] | null) =>
    segments?.map((s) =>
      [s.kind === 'arc' ? Math.sign(s.sweep) : 0, s.from.x, s.from.y, s.to.x, s.to.y].map(round),
    );

  it('are half rounds and a little more, one after another, and ways back', () => {
    // Steps of at most 0.69 mm: two of half a millimetre; their leads are asin (0.5 / 6).
    const [c, s] = [3 * Math.cos(Math.asin(0.5 / 6)), 3 * (0.5 / 6)].map((v) => v);
    const lap = (x: number, turn: 1 | -1) => [turn, x - s!, 2 - turn * c!, x - s!, 2 + turn * c!].map(round);
    for (const turn of [1, -1] as const) {
      const direction = turn > 0 ? 'climb' : 'conventional';
      expect(places(peelLoops(terms({ direction })))).toEqual([
        [turn, 1, 2 - turn * 3, 1, 2 + turn * 3],
        [0, 1, 2 + turn * 3, ...lap(1.5, turn).slice(1, 3)],
        lap(1.5, turn),
        [0, ...lap(1.5, turn).slice(3), ...lap(2, turn).slice(1, 3)],
        lap(2, turn),
      ]);
    }
    expect(peelLoops(terms({ to: at(1, 2) }))).toEqual([]);
    expect(peelLoops(terms({ width: 4.39 }))).toBeNull();
  });

  it('are none where they would lie closer than two hundredths', () => {
    const least = (limit: number) => peelStep(terms({ engagement: rad(limit) }));
    expect(least(8)).toBeNull();
    expect(least(20)).toBeGreaterThan(0.02);
    expect(peelLoops(terms({ engagement: rad(8) }))).toBeNull();
  });

  it('are opened from a hole by a round that grows without a corner, and one whole', () => {
    for (const turn of [1, -1] as const) {
      const direction = turn > 0 ? 'climb' : 'conventional';
      const y = (v: number) => round(2 + turn * v);
      const whole = [
        [turn, 1, y(-3), 1, y(3)],
        [turn, 1, y(3), 1, y(-3)],
      ];
      expect(places(peelOpening(terms({ direction }), 1.2))).toEqual([
        [turn, 1, y(-1.2), 1, y(1.2)],
        [turn, 1, y(1.2), 1, y(-3)],
        ...whole,
      ]);
      expect(places(peelOpening(terms({ direction }), 3))).toEqual(whole);
      expect((peelOpening(terms({ direction }), 1.2)![1] as Arc).centre.y).toBeCloseTo(2 - turn * 0.9, 9);
    }
    // A slot of no length is begun as if it went along X.
    expect(places(peelOpening(terms({ to: at(1, 2) }), 3))![0]).toEqual([1, 1, -1, 1, 5]);
    expect(peelOpening(terms({ engagement: rad(2) }), 1.2)).toBeNull();
    expect(peelOpening(terms({ engagement: rad(40) }), 1.2)!.length).toBeGreaterThan(6);
  });
});

describe('the feed', () => {
  const fed = (buried: number, entry: object) => {
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: 0 }, 1);
    const terms = { feed: 100, plungeFeed: 1, ramp: 1, ...entry };
    followFed(pen, [{ segment: line(at(0, 0), at(9, 0)), buried }], terms);
    const last = pen.moves().at(-1)!;
    return last.kind === 'feed' ? last.feed : 0;
  };

  it('rises by one over the sine, to twice at most, and no faster than the machine, in whole millimetres', () => {
    expect([90, 60, 45, 30, 10, 0].map((d) => fed(rad(d), { most: 900 }))).toEqual([
      100, 115, 141, 200, 200, 200,
    ]);
    expect(fed(rad(30), { most: 130.4 })).toBe(130);
    expect(fed(rad(30), { most: 50 })).toBe(100);
    expect(fed(rad(30), {})).toBe(100);
    expect(MOST_FACTOR).toBe(2);
  });

  it('stays as it is on what is shorter than a millimetre', () => {
    const buried = (length: number) => evenly([line(at(0, 0), at(length, 0))], 1)[0]!.buried;
    expect([0.99, 1, 2].map(buried)).toEqual([Math.PI / 2, 0, 0]);
  });

  it('of a loop that hardly cuts is one throughout; of one that does its ends are apart', () => {
    const loop = (x: number) => arc(at(x, -4), at(x, 4), at(x, 0), true);
    const light = loopsFed([loop(0), loop(0.05)], 3, 1);
    expect(light).toHaveLength(2);
    expect(light[1]!.segment).toEqual(loop(0.05));
    expect(light[1]!.buried).toBeLessThan(rad(30));
    expect(light[1]!.buried).toBeGreaterThan(rad(10));
    const heavy = loopsFed([loop(0), loop(1)], 3, 1);
    expect(heavy.length).toBeGreaterThan(2);
    // In looks of 7.5° each, from that before the first over 30° to that behind the last; a piece under 1 mm is none.
    const pieces = (x: number, orbit = 4) => {
      const big = (middle: number) => arc(at(middle, -orbit), at(middle, orbit), at(middle, 0), true);
      return loopsFed([big(0), big(x)], 3, 1)
        .slice(1)
        .map(({ segment, buried }) => [
          Math.round(deg((segment as Arc).sweep) / 7.5),
          Math.round(deg(buried)),
        ]);
    };
    // Counted on the rim at each look: over 30° from the second or before to the 18th, 20th, 21st and 22nd.
    expect(pieces(0.5)).toEqual([
      [19, 44],
      [5, 30],
    ]);
    expect(pieces(0.8)).toEqual([
      [21, 56],
      [3, 30],
    ]);
    expect(pieces(1)).toEqual([
      [22, 63],
      [2, 30],
    ]);
    expect(pieces(2)).toEqual([[24, 90]]);
    // On larger loops both ends count: from the 5th to the 17th, and from the 4th to the 18th.
    expect(pieces(0.5, 12)).toEqual([
      [4, 30],
      [14, 37],
      [6, 30],
    ]);
    expect(pieces(0.6, 12)).toEqual([
      [3, 30],
      [16, 41],
      [5, 30],
    ]);
  });
});

const fronts = (engagement = rad(70), groove: number | null = null): Clearing['pattern'] => ({
  ...{ kind: 'fronts', engagement, groove },
});
const bridge = (z: number): BridgeLift => ({
  ...{ at: at(0, 0), outward: at(0, -1), length: 4, z, strip: rectangle(at(0, 0), at(4, 4)) },
});
const clearing = (more: Partial<Clearing>): Clearing =>
  ({ cutter: endmill(6), pattern: fronts(), bridges: [], ...more }) as unknown as Clearing;

describe('levels of fronts', () => {
  it('have one more at each top of bridges between them', () => {
    const levels = (tops: readonly number[], pattern = fronts()) =>
      bridgeLevels([-1, -2, -3], 0, clearing({ pattern, bridges: tops.map(bridge) }));
    expect(levels([])).toEqual([-1, -2, -3]);
    expect(levels([-2.4, -2.4])).toEqual([-1, -2, -2.4, -3]);
    expect(levels([-2.7, -0.5, -2.4])).toEqual([-0.5, -1, -2, -2.4, -2.7, -3]);
    expect(levels([-2, 0, -3, 1])).toEqual([-1, -2, -3]);
    expect(levels([-2.4], { kind: 'laps' })).toEqual([-1, -2, -3]);
  });

  it('keep off the bridges whose tops they lie under', () => {
    const work = { stock: [{ bottom: -6, top: -1, region: disc(at(0, 0), 5) }], wanted: [] };
    const ground = (z: number) =>
      groundAt(work, clearing({ bridges: [bridge(-3)] }), NOTHING, walledBy(NOTHING), z);
    expect(regionArea(ground(-4).barred)).toBeCloseTo(16, 6);
    expect(ground(-3).barred.contours).toEqual([]);
    expect(regionArea(ground(-4).standing)).toBeCloseTo(25 * Math.PI, 2);
    expect(ground(-1).standing).toBe(NOTHING);
  });

  it('turn back before a bridge by what keeps the rim out of its fillet', () => {
    expect(shortOfBridge(0.2, fronts(rad(50)))).toBeCloseTo(0.3 / Math.tan(rad(40)), 9);
    expect(shortOfBridge(0.2, fronts(rad(120)))).toBeCloseTo(0.3 / Math.tan(1.2), 9);
    expect(shortOfBridge(0.2, { kind: 'laps' })).toBe(0);
    const short = gentleFinish(clearing({ pattern: fronts(rad(50)), bridges: [bridge(-3)] }), 0.2);
    expect(regionBox(short.bridges[0]!.strip)!.min.x).toBeCloseTo(-0.3 / Math.tan(rad(40)), 6);
    const plain = clearing({ pattern: { kind: 'laps' }, bridges: [bridge(-3)] });
    expect(gentleFinish(plain, 0.2)).toBe(plain);
  });

  it('are not those of another pattern', () => {
    const ground = { target: NOTHING, standing: NOTHING, keepOut: walledBy(NOTHING), barred: NOTHING };
    expect(() => frontsOf(frontMemory(), ground, clearing({ pattern: { kind: 'laps' } }), 0)).toThrow(
      new RangeError('only fronts are planned as fronts'),
    );
  });
});

describe('that a limit is not kept is said', () => {
  const peel = { kind: 'peel', engagement: rad(44.6) } as unknown as Clearing['pattern'];
  const left = (...places: (Point | null)[]) =>
    ({ known: places.map((p) => ({ plan: { left: p } })), unpeeled: false }) as never;

  it('of fronts with the first place where they leave something', () => {
    expect(unkeptWords(left(null, at(3, 4), at(5, 6)), clearing({}))).toEqual({
      at: at(3, 4),
      why: 'there is no room for the 6 mm endmill to go round, and it is buried by more than the 70° that are stated; a smaller cutter, a wider bar or a larger angle would do',
    });
    expect(unkeptWords(left(null), clearing({}))).toBeNull();
    expect(unkeptWords(left(at(3, 4)), clearing({ pattern: { kind: 'laps' } }))).toBeNull();
  });

  it('of loops that would lie too close', () => {
    expect(unkeptWords({ known: [], unpeeled: true }, clearing({ pattern: peel }))).toEqual({
      at: null,
      why: 'the 6 mm endmill would have to go round in loops too close to be cut to be buried by no more than the 45° that are stated, and cuts it by laps; a smaller cutter or a larger angle would do',
    });
    expect(unkeptWords(left(at(3, 4)), clearing({ pattern: peel }))).toBeNull();
    expect(unkeptWords({ known: [], unpeeled: true }, clearing({}))).toBeNull();
  });
});
