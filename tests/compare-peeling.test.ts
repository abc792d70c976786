import { expect, test } from 'vitest';
import { planPart } from '../gcode/chain.ts';
import { comparePeeling } from '../gcode/compare-peeling.ts';
import { sampleText } from './samples.ts';

/** A fork cut down its middle and peeled with a smaller cutter, from the survey of both written programs. */

const lever = (route?: object) => {
  const planned = planPart(JSON.stringify({ ...JSON.parse(sampleText('vent-latch-lever')), route }));
  if (!planned.ok) throw new Error('refused');
  return planned;
};

test('where the cutter is as wide as the fork the smaller one is compared, with less force, and both fit', () => {
  const found = comparePeeling(lever(), 'fork', 60);
  if (typeof found === 'string') throw new Error(found);
  expect(found.now).toBe('plain');
  expect(found.plain.cutter).not.toBe(found.peeled.cutter);
  expect(found.peeled.engagement).toBe(60);
  expect(found.plain.fits && found.peeled.fits).toBe(true);
  expect(found.peeled.usual).toBeLessThan(0.7 * found.plain.usual);
  expect(found.peeled.most).toBeLessThan(found.plain.most);
  expect(found.peeled.usual).toBeGreaterThan(0);
  // It is dear: said, and not hidden.
  expect(found.peeled.seconds).toBeGreaterThan(2 * found.plain.seconds);
  for (const way of [found.plain, found.peeled]) {
    expect(way.times.length).toBe(way.forces.length);
    expect(way.times.every((t, i) => i === 0 || t >= way.times[i - 1]!)).toBe(true);
    expect(way.seconds).toBeGreaterThan(way.times.at(-1)! - 1e-9);
    expect(Math.max(...way.forces)).toBe(way.most);
  }
  // The release goes with the same cutter, so that the web is peeled as well.
  expect(Object.keys(found.adjust)).toEqual(['fork', 'release fork']);
  const taken = comparePeeling(lever({ adjust: found.adjust }), 'fork', 60);
  if (typeof taken === 'string') throw new Error(taken);
  expect(taken.now).toBe('peeled');
  expect(taken.peeled.most).toBeCloseTo(found.peeled.most, 6);
  expect(taken.plain.most).toBeCloseTo(found.plain.most, 6);
}, 60_000);

test('what cannot be peeled is said', () => {
  expect(comparePeeling(lever(), 'outline', 60)).toMatch(/no job step that could be peeled/);
  const planned = lever();
  const few = { ...planned.profile, cutters: planned.profile.cutters.filter((c) => c.diameter >= 4) };
  expect(comparePeeling({ ...planned, profile: few }, 'fork', 60)).toMatch(/No endmill in the drawer/);
});
