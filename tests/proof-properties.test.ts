import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { indexRegion, nearestApproach, signedWallDistance } from '../gcode/proof/distance.ts';
import { gougeOf, indexSolid } from '../gcode/proof/gouge.ts';
import { prove } from '../gcode/proof/proof.ts';
import type { Motion } from '../gcode/reading/motion.ts';
import { signedDistance } from '../sketch/shape/region.ts';
import { nearestOn, pointAlong, type Segment } from '../sketch/shape/segment.ts';
import { cutPath } from '../toolpath/removal/cut-path.ts';
import { distanceTo } from '../toolpath/removal/path-index.ts';
import { frameOf, toPart } from '../toolpath/route/frame.ts';
import { backProgram, bar, cutters, frontProgram, plate, plateInput } from './proof-plate.ts';

const within = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });

describe('the verdict turns exactly where the geometry says', () => {
  it('a good front program shifted by d gouges by |d| and falls short by |d|', () => {
    fc.assert(
      fc.property(
        within(-0.2, 0.2),
        within(-0.2, 0.2),
        within(0.005, 0.15),
        within(0.005, 0.15),
        (x, y, gouge, excess) => {
          const d = Math.hypot(Math.round(x * 1e4) / 1e4, Math.round(y * 1e4) / 1e4);
          const limit = Math.min(gouge, excess);
          fc.pre(Math.abs(d - limit) > 0.001);
          const text = frontProgram({ shift: { x, y } });
          const input = { ...plateInput(text), tolerance: { gouge, excess }, cell: 0.2 };
          const proof = prove(input);
          expect(Math.abs(proof.gougeMax_mm - d)).toBeLessThan(0.001);
          // Excess is told from 2 walls' worth of samples 0.1 mm apart: within their sagitta of the true largest.
          expect(Math.abs(proof.excessMax_mm - d)).toBeLessThan(0.001);
          expect(proof.verdict).toBe(d <= limit ? 'fits' : 'does not fit');
        },
      ),
      { numRuns: 25, endOnFailure: true },
    );
  });

  it('a path round the end that is off by e gouges by −e or leaves e', () => {
    fc.assert(
      fc.property(within(-0.2, 0.2), (e) => {
        const off = Math.round(e * 1e4) / 1e4;
        fc.pre(Math.abs(off + 0.02) > 2e-4 && Math.abs(off - 0.05) > 2e-4);
        const proof = prove({ ...plateInput(frontProgram({ endRadius: 13 + off })), cell: 0.2 });
        expect(Math.abs(proof.gougeMax_mm - Math.max(0, -off))).toBeLessThan(0.0005);
        expect(Math.abs(proof.excessMax_mm - Math.max(0, off))).toBeLessThan(0.0005);
        expect(proof.verdict).toBe(off >= -0.02 && off <= 0.05 ? 'fits' : 'does not fit');
      }),
      { numRuns: 25, endOnFailure: true },
    );
  });

  it('a floor off by e, from the front or the back', () => {
    fc.assert(
      fc.property(within(-0.2, 0.2), fc.boolean(), (e, front) => {
        const off = Math.round(e * 1e4) / 1e4;
        fc.pre(Math.abs(off + 0.05) > 2e-4 && Math.abs(off - 0.02) > 2e-4);
        const input = front
          ? plateInput(frontProgram({ landDepth: 2 + off }))
          : plateInput(frontProgram(), backProgram({ grooveDepth: 1.5 + off }));
        const proof = prove({ ...input, cell: 0.2 });
        expect(Math.abs(proof.gougeMax_mm - Math.max(0, off))).toBeLessThan(0.0003);
        expect(Math.abs(proof.excessMax_mm - Math.max(0, -off))).toBeLessThan(0.0003);
        expect(proof.verdict).toBe(off >= -0.05 && off <= 0.02 ? 'fits' : 'does not fit');
      }),
      { numRuns: 20, endOnFailure: true },
    );
  });
});

const point = fc.record({ x: within(-10, 10), y: within(-10, 10) });
const segment: fc.Arbitrary<Segment> = fc.oneof(
  fc.tuple(point, point).map(([from, to]): Segment => ({ kind: 'line', from, to })),
  fc
    .tuple(point, within(0.2, 8), within(-3.1, 3.1), within(0.1, 2 * Math.PI), fc.boolean())
    .map(([centre, r, start, size, left]): Segment => {
      const sweep = left ? size : -size;
      const at = (t: number) => ({ x: centre.x + r * Math.cos(t), y: centre.y + r * Math.sin(t) });
      return { kind: 'arc', from: at(start), to: at(start + sweep), centre, sweep };
    }),
);

describe('distances between lines and arcs', () => {
  it('are the least over densely sampled places, never more, and 0 only where they meet', () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        const wall = indexRegion({ contours: [{ segments: [b] }] });
        const found = nearestApproach(a, wall, 100)!;
        let sampled = Number.POSITIVE_INFINITY;
        for (let k = 0; k <= 1000; k++) {
          sampled = Math.min(sampled, nearestOn(b, pointAlong(a, k / 1000)).distance);
        }
        expect(found.distance).toBeLessThanOrEqual(sampled + 1e-7);
        // A sample lies within half a thousandth of the longest path, 51 mm, of any place.
        expect(sampled - found.distance).toBeLessThan(0.03);
        expect(nearestOn(a, found.onPath).distance).toBeLessThan(1e-6);
        expect(nearestOn(b, found.onWall).distance).toBeLessThan(1e-6);
      }),
      { numRuns: 500 },
    );
  });

  it('from a place agree with the kernel of the sketch', () => {
    fc.assert(
      fc.property(segment, point, (s, p) => {
        expect(distanceTo(s, p.x, p.y)).toBeCloseTo(nearestOn(s, p).distance, 7);
      }),
      { numRuns: 500 },
    );
  });

  it('to the plate are those of its regions', () => {
    const slabs = indexSolid(plate);
    fc.assert(
      fc.property(within(-5, 55), within(-5, 25), fc.nat(2), (x, y, k) => {
        const expected = signedDistance(plate.slabs[k]!.region, { x, y });
        expect(signedWallDistance(slabs[k]!.wall, { x, y })).toBeCloseTo(expected, 9);
      }),
      { numRuns: 200 },
    );
  });
});

describe('a gouge', () => {
  const slabs = indexSolid(plate);
  const place = fc.record({ x: within(-6, 56), y: within(-6, 26), z: within(-7, 1) });

  it('of any ramp, line or plunge is the largest over its places of the lesser of sideways and down', () => {
    fc.assert(
      fc.property(place, place, fc.constantFrom('front', 'back'), fc.boolean(), (from, to, face, level) => {
        const frame = frameOf(bar, face as 'front' | 'back', 'left-near');
        const end = level ? { ...to, z: from.z } : to;
        const motion: Motion = {
          kind: 'feed',
          from,
          to: end,
          feed: 1,
          tool: 2,
          speed: 1,
          line: 1,
          label: -1,
        };
        const cutter = cutters[1]!;
        const found = gougeOf(cutPath(motion, cutter, frame, { setup: 0, pass: 0 }), slabs)?.amount ?? 0;
        let sampled = 0;
        const steps = 400;
        for (let k = 0; k <= steps; k++) {
          const t = k / steps;
          const p = toPart(frame, {
            x: from.x + (end.x - from.x) * t,
            y: from.y + (end.y - from.y) * t,
            z: from.z + (end.z - from.z) * t,
          });
          for (const slab of plate.slabs) {
            const down = face === 'front' ? slab.top - p.z : p.z - slab.bottom;
            const side = cutter.diameter / 2 - signedDistance(slab.region, p);
            sampled = Math.max(sampled, Math.min(down, side));
          }
        }
        const error = 0.0006 + 0.011 * found;
        expect(found).toBeGreaterThan(sampled - error);
        const step = Math.hypot(end.x - from.x, end.y - from.y, end.z - from.z) / steps;
        expect(found).toBeLessThan(sampled + step + 1e-6);
      }),
      { numRuns: 150, endOnFailure: true },
    );
  });
});
