import { describe, expect, it } from 'vitest';
import type { Slab } from '../sketch/part/solid.ts';
import { type Path, rectangle, regionArea } from '../sketch/shape/region.ts';
import { line } from '../sketch/shape/segment.ts';
import { type CentreLineCut, cutCentreLine } from '../toolpath/passes/centre-line.ts';
import type { Pass } from '../toolpath/passes/pass.ts';
import { EVERYWHERE } from '../toolpath/passes/scene.ts';
import { endmill } from './passes-samples.ts';

// A cutter of 5 mm down a slot of its own width, move by move: its ramp is one in a hundred, so that a way of 10 mm
// forth and back sinks it by 0.2.

const RAMP = Math.atan(0.01);
const BAR = rectangle({ x: 0, y: -10 }, { x: 60, y: 10 });
const slab = (bottom: number, top: number, region = BAR): Slab => ({ bottom, top, region });
const way = (from: number, to: number): Path => ({ segments: [line({ x: from, y: 0 }, { x: to, y: 0 })] });
const cut = (path: Path, stock: readonly Slab[], more: Partial<CentreLineCut> = {}) =>
  cutCentreLine(
    { stock, wanted: [] },
    {
      ...{
        path,
        open: true,
        floor: -4,
        cutter: endmill(5),
        terms: { stepDown: 2, levels: { kind: 'equal' } },
      },
      ...{ entry: { feed: 150, plungeFeed: 60, ramp: RAMP }, clearHeight: 5, underside: null, kind: 'rough' },
      ...more,
    },
  );
const told = ({ moves }: Pass): string[] =>
  moves.map((m) =>
    m.kind === 'rapid' || m.kind === 'feed' ? `${m.kind} ${m.to.x} ${m.to.z.toFixed(2)}` : m.kind,
  );
const [HIGH, LOW] = [slab(-2, 0), slab(-6, -2)];

describe('an open slot', () => {
  it('is cut inward from the open at each level, lifted at its root and begun again outside', () => {
    for (const stock of [
      [LOW, HIGH],
      [HIGH, LOW],
    ]) {
      const { passes } = cut(way(-3.1, 12), stock, { underside: -6, kind: 'release' });
      expect(passes.map((p) => [p.kind, p.z, p.web])).toEqual([
        ['release', -2, 4],
        ['release', -4, 2],
      ]);
      expect(passes.map(told)).toEqual([
        ['rapid -3.1 5.00', 'rapid -3.1 -1.50', 'feed -3.1 -2.00', 'feed 12 -2.00', 'rapid 12 5.00'],
        ['rapid -3.1 5.00', 'rapid -3.1 -3.50', 'feed -3.1 -4.00', 'feed 12 -4.00', 'rapid 12 5.00'],
      ]);
    }
  });

  it('is ramped into from just over the bar where that reaches to its beginning', () => {
    const { passes } = cut(way(4, 14), [slab(-6, 0)], { floor: -0.1 });
    expect(passes.map(told)).toEqual([
      [
        'rapid 4 5.00',
        'rapid 4 0.50',
        'feed 4 0.05',
        'feed 11.5 -0.03',
        'feed 4 -0.10',
        'feed 14 -0.10',
        'rapid 14 5.00',
      ],
    ]);
    expect(passes[0]!.web).toBeNull();
  });

  it('goes straight down over what lies lower, just clear of where it has something to cut', () => {
    const stock = [slab(-6, -5), slab(-5, 0, rectangle({ x: 10, y: -10 }, { x: 60, y: 10 }))];
    expect(told(cut(way(4, 20), stock, { floor: -2 }).passes[0]!)).toEqual([
      ...['rapid 7 5.00', 'rapid 7 -1.50', 'feed 7 -2.00', 'feed 20 -2.00', 'rapid 20 5.00'],
    ]);
  });

  it('tells no web where it goes through', () => {
    const { passes } = cut(way(-3.1, 12), [slab(-4, 0)], { floor: -4.2, underside: -4 });
    expect(passes.map((p) => p.web!.toFixed(1))).toEqual(['2.6', '1.2', '0.0']);
  });

  it('begins at the highest that stands in its way, and at no shaving of it', () => {
    const boss = (length: number): Slab => slab(0, 2, rectangle({ x: 20, y: 0 }, { x: 20 + length, y: 0.1 }));
    const levels = (stock: readonly Slab[]) => cut(way(-3.1, 30), stock).passes.map((p) => p.z);
    expect(levels([HIGH, LOW, boss(0.06)])).toEqual([0, -2, -4]);
    expect(levels([boss(0.06), HIGH, LOW])).toEqual([0, -2, -4]);
    expect(levels([HIGH, LOW, boss(0.04)])).toEqual([-2, -4]);
    expect(levels([HIGH, LOW, slab(0, 2, rectangle({ x: 20, y: 2.6 }, { x: 30, y: 9 }))])).toEqual([-2, -4]);
    expect(levels([slab(-6, -4)])).toEqual([]);
  });

  it('is gone from the work as wide as the cutter, down to its floor', () => {
    const { work } = cut(way(-3.1, 12), [slab(-6, 0)]);
    const lost = (s: Slab): string => (1200 - regionArea(s.region)).toFixed(2);
    expect(work.stock.map((s) => [s.bottom, s.top, lost(s)])).toEqual([
      [-6, -4, '0.00'],
      [-4, -2, (12 * 5 + (Math.PI * 6.25) / 2).toFixed(2)],
      [-2, 0, (12 * 5 + (Math.PI * 6.25) / 2).toFixed(2)],
    ]);
  });
});

describe('a closed slot', () => {
  it('is ramped forth and back, cut from end to end, and back again a level lower', () => {
    const { passes } = cut(way(10, 20), [slab(-6, 0)], {
      ...{ open: false, floor: -0.6, terms: { stepDown: 0.3, levels: { kind: 'equal' } } },
    });
    expect(passes.map(told)).toEqual([
      [
        ...['rapid 10 5.00', 'rapid 10 0.50', 'feed 10 0.05'],
        ...['feed 20 -0.04', 'feed 10 -0.12', 'feed 20 -0.21', 'feed 10 -0.30', 'feed 20 -0.30'],
      ],
      ['feed 10 -0.38', 'feed 20 -0.45', 'feed 10 -0.52', 'feed 20 -0.60', 'feed 10 -0.60', 'rapid 10 5.00'],
    ]);
  });

  it('is no pass where nothing stands', () => {
    const work = { stock: [slab(-6, -5)], wanted: [] };
    const { passes } = cut(way(10, 20), work.stock, { open: false });
    expect(passes).toEqual([]);
    expect(cut(way(10, 20), [slab(-6, 0, EVERYWHERE)], { open: false }).passes).toHaveLength(2);
  });
});
