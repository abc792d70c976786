import { describe, expect, test } from 'vitest';
import { planPart, writePrograms } from '../gcode/chain.ts';
import { writtenPasses } from '../gcode/survival/written-passes.ts';
import { solidOf } from '../sketch/part/solid.ts';
import { type Region, rectangle } from '../sketch/shape/region.ts';
import { arc, line } from '../sketch/shape/segment.ts';
import { bitesAlong } from '../toolpath/passes/bites.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { runLap } from '../toolpath/passes/runs.ts';
import { followThrough } from '../toolpath/passes/through.ts';
import type { Workpiece } from '../toolpath/passes/workpiece.ts';
import { barMap, chooseCell } from '../toolpath/removal/height-map.ts';
import { sweep } from '../toolpath/removal/sweep.ts';
import { clearingOf } from './passes-samples.ts';
import { sampleText } from './samples.ts';

const radius = 3;
const block = rectangle({ x: 0, y: -10 }, { x: 20, y: 10 });
const across = { segments: [line({ x: -10, y: 0 }, { x: 40, y: 0 })] };

describe('where a cutter takes something', () => {
  test('is from where its rim comes to the work to where it has gone through it', () => {
    const [bite, ...more] = bitesAlong(across, { radius, standing: block });
    expect(more).toEqual([]);
    expect(bite!.from).toBeGreaterThan(6.7);
    expect(bite!.from).toBeLessThan(7.3);
    // The far edge of the block is met by the middle of the rim last of all but the flanks, at right angles to the way.
    expect(bite!.to).toBeGreaterThan(29.9);
    expect(bite!.to).toBeLessThan(30.3);
  });

  test('is nowhere along a wall that is cut to size, and all along one that is a twentieth too thick', () => {
    const beside = { segments: [line({ x: 0, y: 13 }, { x: 20, y: 13 })] };
    expect(bitesAlong(beside, { radius, standing: block })).toEqual([]);
    const thick = rectangle({ x: 0, y: -10 }, { x: 20, y: 10.05 });
    expect(bitesAlong(beside, { radius, standing: thick })).toHaveLength(1);
  });

  test('is nowhere that its own way has been', () => {
    const there = line({ x: -10, y: 0 }, { x: 30, y: 0 });
    const back = { segments: [there, line(there.to, there.from)] };
    const bites = bitesAlong(back, { radius, standing: block });
    expect(bites).toHaveLength(1);
    expect(bites[0]!.to).toBeLessThan(31);
  });

  test('is all of it where the cutter goes down, not only what lies ahead', () => {
    const away = { segments: [line({ x: 22, y: 0 }, { x: 40, y: 0 })] };
    expect(bitesAlong(away, { radius, standing: block })).toHaveLength(1);
  });

  test('is known round the far side of a corner', () => {
    const round = { segments: [arc({ x: 20, y: 13 }, { x: 23, y: 10 }, { x: 20, y: 10 }, false)] };
    expect(bitesAlong(round, { radius, standing: block })).toEqual([]);
    const peg = rectangle({ x: 22, y: 11.5 }, { x: 23, y: 12.5 });
    expect(bitesAlong(round, { radius, standing: peg })).toHaveLength(1);
  });
});

describe('through what is gone', () => {
  const entry = { feed: 100, plungeFeed: 50, ramp: 0.05 };
  const feeds = (terms: typeof entry & { through?: number }): readonly (readonly [number, number])[] => {
    const pen = takePen(5);
    pen.goTo({ x: -10, y: 0 }, null, -1);
    followThrough(pen, across, bitesAlong(across, { radius, standing: block }), terms);
    return pen.moves().flatMap((m) => (m.kind === 'feed' ? [[m.to.x, m.feed] as const] : []));
  };

  test('the cutter goes at the fastest feed, back at its own before it comes to the work', () => {
    const [run, cut, rest] = feeds({ ...entry, through: 800 });
    expect(run![1]).toBe(800);
    expect(run![0]).toBeLessThan(-3.4);
    expect(cut![1]).toBe(100);
    expect(cut![0]).toBeGreaterThan(20);
    expect(rest).toEqual([40, 800]);
  });

  test('a hand turns on evenly', () => {
    expect(feeds(entry)).toEqual([[40, 100]]);
  });

  test('it goes down beside the work at that feed, and at its own where something may stand', () => {
    const [far, way] = [rectangle({ x: 0, y: 30 }, { x: 9, y: 39 }), across.segments[0]!];
    const terms = { radius, stepover: 2, allowance: 0, direction: 'climb' } as const;
    const clearing = clearingOf({ plate: block, keep: far, target: block }, terms, {
      entry: { ...entry, through: 800 },
    });
    const work = (...regions: readonly Region[]) => ({
      stock: regions.map((region) => ({ bottom: -3, top: 0, region })),
      wanted: [],
    });
    const feedDown = (standing: Workpiece): number => {
      const pen = takePen(5);
      const level = { pen, clearing, z: -1, above: 0, keepOut: clearing.keepOut(-1) };
      runLap(level, work(block), { segments: [way] }, standing);
      const down = pen.moves().find((m) => m.kind === 'feed');
      expect(down!.to.z).toBe(-1);
      return down!.feed;
    };
    expect(feedDown(work(block))).toBe(800);
    const begun = rectangle({ x: -10, y: 0 }, { x: -3, y: 1 });
    expect(feedDown(work(block, begun))).toBe(100);
  });

  test('nothing but films is cut at that feed in the chain', () => {
    let fast = 0;
    let down = 0;
    for (const name of ['vent-latch-lever', 'damper-yoke', 'shutter-link']) {
      const made = planPart(sampleText(name));
      if (!made.ok) throw new Error(`${name} is refused`);
      const { part, plan, profile } = made;
      const map = barMap(part.bar, chooseCell(part.bar, solidOf(part)));
      for (const pass of writtenPasses(plan, writePrograms(part, plan, profile), profile)) {
        for (const { stroke, feed } of pass.motions) {
          const { volume } = sweep(map, stroke, pass.cutter, pass.frame);
          if (stroke.kind === 'rapid' || feed < profile.feed.most) continue;
          fast++;
          if (stroke.to.z < stroke.from.z) down++;
          expect(volume, `${name}, ${pass.step}`).toBeLessThan(0.05);
        }
      }
    }
    expect(fast).toBeGreaterThan(3);
    // Beside the work it goes down as fast as through what is gone.
    expect(down).toBeGreaterThan(3);
  });
});
