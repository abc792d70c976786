import { describe, expect, it } from 'vitest';
import { NOTHING, type Path, type Region, rectangle } from '../sketch/shape/region.ts';
import { line } from '../sketch/shape/segment.ts';
import type { Clearing } from '../toolpath/passes/area.ts';
import type { Lap } from '../toolpath/passes/laps.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { runLap, runLaps } from '../toolpath/passes/runs.ts';
import type { Workpiece } from '../toolpath/passes/workpiece.ts';
import { clearingOf, walledBy } from './passes-samples.ts';

// From one lap to the next at one level: when the cutter stays down and how it gets there. A cutter of 4 mm, laps 1.5 mm
// apart, a block from X 0 on whose top is at 0, and a ramp of one in a hundred.

const at = (x: number, y: number) => ({ x, y });
const way = (...places: readonly (readonly [number, number])[]): Path => ({
  segments: places.slice(1).map(([x, y], k) => line(at(...places[k]!), at(x, y))),
});
const BLOCK = rectangle(at(0, -20), at(60, 20));
const blockOf = (top: number): Workpiece => ({ stock: [{ bottom: -6, top, region: BLOCK }], wanted: [] });
const clearing = (more: Partial<Clearing> = {}): Clearing =>
  clearingOf(
    { target: BLOCK, keep: NOTHING, plate: BLOCK },
    {
      ...{ radius: 2, allowance: 0, stepover: 1.5, direction: 'climb' },
    },
    { entry: { feed: 200, plungeFeed: 60, ramp: Math.atan(0.01) }, ...more },
  );

interface Given {
  readonly from?: readonly [number, number, number] | null;
  readonly top?: number;
  readonly walls?: Region;
  readonly more?: Partial<Clearing>;
}
const run = (lap: Path, { from = [10, 0, -1], top = 0, walls = NOTHING, more = {} }: Given = {}) => {
  const pen = takePen(5);
  if (from !== null) pen.feedTo({ x: from[0], y: from[1], z: from[2] }, 1);
  const before = pen.moves().length;
  const level = { pen, clearing: clearing(more), z: -1, above: 0, keepOut: walledBy(walls) };
  runLap(level, blockOf(top), lap);
  return pen
    .moves()
    .slice(before)
    .map((m) =>
      m.kind === 'rapid' || m.kind === 'feed'
        ? `${m.kind} ${[m.to.x, m.to.y, m.to.z].map((v) => Number(v.toFixed(2)) + 0).join(' ')}`
        : m.kind,
    );
};
const stays = (lap: Path, given: Given = {}): boolean => run(lap, given).every((m) => !m.startsWith('rapid'));
const NEAR = way([11.5, 0], [30, 0]);

describe('to the next lap the cutter stays down', () => {
  it('where it begins within a stepover and a fifth', () => {
    expect(run(NEAR)).toEqual(['feed 11.5 0 -1', 'feed 30 0 -1']);
    expect(stays(way([11.79, 0], [30, 0]))).toBe(true);
    expect(stays(way([11.81, 0], [30, 0]))).toBe(false);
    expect(stays(NEAR, { from: null })).toBe(false);
    // One that is closed is begun where it is nearest, one that begins in the air where it bites.
    const round = { segments: rectangle(at(11.5, -9), at(30, 9)).contours[0]!.segments };
    expect(run(round)[0]).toBe('feed 11.5 0 -1');
    expect(run(way([-20, 0], [20, 0]), { from: [-3, 0, -1] })).toEqual(['feed -2 0 -1', 'feed 20 0 -1']);
  });

  it('not from below the level, and from above only to sink into the work where nothing stands higher', () => {
    expect(stays(NEAR, { from: [10, 0, -1.1] })).toBe(false);
    const sunk = run(NEAR, { from: [10, 0, 0] });
    expect(sunk.slice(0, 2)).toEqual(['feed 11.5 0 0', 'feed 30 0 -0.17']);
    expect(sunk.at(-1)).toBe('feed 30 0 -1');
    expect(stays(NEAR, { from: [10, 0, 0.5] })).toBe(true);
    expect(stays(NEAR, { from: [10, 0, 0], top: 0.1 })).toBe(false);
    expect(stays(NEAR, { from: [10, 0, 0], top: -1 })).toBe(false);
    // Over nothing at all it comes by rapid.
    expect(stays(way([-8.5, 0], [-30, 0]), { from: [-10, 0, 0] })).toBe(false);
  });

  it('not where a wall lies beside the way there, nor a bridge on the level', () => {
    for (const x of [10.3, 10.75, 11.2]) {
      const wall = (y: number) => rectangle(at(x - 0.05, y), at(x + 0.05, y + 3));
      expect(stays(NEAR, { walls: wall(1.99) })).toBe(false);
      expect(stays(NEAR, { walls: wall(2.04) })).toBe(true);
    }
    const bridge = (z: number) => ({
      ...{ at: at(50, 0), outward: at(0, 1), length: 2, z, strip: rectangle(at(48, -5), at(52, 5)) },
    });
    expect(stays(NEAR, { more: { bridges: [bridge(-0.5)] } })).toBe(false);
    expect(stays(NEAR, { more: { bridges: [bridge(-1)] } })).toBe(true);
  });
});

describe('else it is lifted', () => {
  it('and sinks on a ramp from just over what stands there, or straight down beside it', () => {
    const far = run(way([40, 0], [50, 0]));
    expect(far.slice(0, 5)).toEqual([
      'rapid 10 0 5',
      'rapid 40 0 5',
      'rapid 40 0 0.5',
      'feed 40 0 0.05',
      'feed 50 0 -0.04',
    ]);
    expect(far.slice(-2)).toEqual(['feed 40 0 -1', 'feed 50 0 -1']);
    expect(run(way([-2.6, 0], [50, 0]), { from: null })).toEqual([
      ...['rapid -2.6 0 5', 'rapid -2.6 0 -0.5', 'feed -2.6 0 -1', 'feed 50 0 -1'],
    ]);
  });

  it('and goes round what is closed from where its ramp has ended, once about', () => {
    const moves = run({ segments: rectangle(at(20, 0), at(30, 10)).contours[0]!.segments }, { from: null });
    // 105 mm of ramp are two rounds of 40 mm and 25 more.
    expect(moves.slice(0, 3)).toEqual(['rapid 20 0 5', 'rapid 20 0 0.5', 'feed 20 0 0.05']);
    expect(moves.slice(-5)).toEqual([
      'feed 20 10 -1',
      ...['20 0', '30 0', '30 10', '25 10'].map((p) => `feed ${p} -1`),
    ]);
  });

  it('and begins over a bridge as high as that is, before it on a ramp forth and back, and then goes round', () => {
    const bridge = (from: number, to: number) => ({
      ...{
        at: at(from, 0),
        outward: at(0, -1),
        length: 2,
        z: -0.5,
        strip: rectangle(at(from, -5), at(to, 5)),
      },
    });
    const over = run(way([-2.6, 0], [50, 0]), { from: null, more: { bridges: [bridge(-9, 10)] } });
    expect(over.slice(0, 5)).toEqual([
      ...['rapid -2.6 0 5', 'rapid -2.6 0 0', 'feed -2.6 0 -0.5', 'feed 10 0 -0.5', 'feed 35 0 -0.75'],
    ]);
    const before = run(way([20, 0], [60, 0]), { from: null, more: { bridges: [bridge(30, 40)] } });
    expect(before.slice(0, 5)).toEqual([
      'rapid 20 0 5',
      'rapid 20 0 0.5',
      'feed 20 0 0.05',
      'feed 30 0 -0.04',
      'feed 20 0 -0.13',
    ]);
    expect(before).toContain('feed 30 0 -0.5');
    expect(before.at(-1)).toBe('feed 60 0 -1');
  });
});

describe('laps', () => {
  it('are run ring by ring, the farthest from the walls first, of each the nearest next', () => {
    const lap = (ring: number, y: number): Lap => ({ path: way([30, y], [40, y]), closed: false, ring });
    const pen = takePen(5);
    const level = { pen, clearing: clearing(), z: -1, above: 0, keepOut: walledBy(NOTHING) };
    const ran = runLaps(level, blockOf(0), [lap(0, 9), lap(1, -12), lap(0, -8), lap(1, 12), lap(2, 5)]);
    expect(ran.map(({ path }) => path.segments[0]!.from.y)).toEqual([5, 12, -12, -8, 9]);
    expect(runLaps(level, blockOf(0), [])).toEqual([]);
  });

  it('go fast through what those before them took, and at their feed into what may stand still', () => {
    const feeds = (laps: readonly Path[], through?: number) => {
      const pen = takePen(5);
      const entry = { feed: 200, plungeFeed: 60, ramp: Math.atan(0.5), ...(through && { through }) };
      const level = { pen, clearing: clearing({ entry }), z: -1, above: 0, keepOut: walledBy(NOTHING) };
      const thin: Workpiece = { stock: [{ bottom: -6, top: -0.9, region: BLOCK }], wanted: [] };
      runLaps(
        level,
        thin,
        laps.map((path) => ({ path, closed: false, ring: 0 })),
      );
      const last = pen
        .moves()
        .filter((m) => m.kind === 'feed')
        .at(-1);
      return last?.kind === 'feed' ? last.feed : 0;
    };
    const once = way([-2.6, 0], [50, 0]);
    expect(feeds([once], 800)).toBe(200);
    expect(feeds([once, way([50, 1], [20, 1])], 800)).toBe(200);
    expect(feeds([once, way([50, 0.001], [5, 0.001])], 800)).toBe(800);
    expect(feeds([once, way([50, 0.001], [5, 0.001])])).toBe(200);
    expect(feeds([once, way([50, 0.001], [5, 0.001])], 200)).toBe(200);
  });
});
