import { describe, expect, it } from 'vitest';
import type { Bar } from '../../sketch/part/part.ts';
import type { Cutter } from '../../toolpath/machine/cutter.ts';
import { barMap, mapVolume } from '../../toolpath/removal/height-map.ts';
import type { Stroke } from '../../toolpath/removal/stroke.ts';
import { sweep } from '../../toolpath/removal/sweep.ts';
import { type Frame, frameOf } from '../../toolpath/route/frame.ts';

// Closed forms of solid geometry: prism and stadium, ring sector, cylinder and cone (any geometry handbook), and
// Pappus's second theorem for the ring: area of the section times the length of its centroid's path.

const bar: Bar = {
  length: 60,
  width: 40,
  thickness: 10,
  material: 'brass',
  corner: { x: -3.3, y: 1.7 },
  sawn: 0,
};
const front = frameOf(bar, 'front', 'left-near');
const back = frameOf(bar, 'back', 'left-near');
type Size = Pick<Cutter, 'kind' | 'diameter' | 'pointAngle'>;
const endmill = (diameter: number): Size => ({ kind: 'endmill', diameter, pointAngle: Math.PI });
const drill: Size = { kind: 'drill', diameter: 6, pointAngle: (118 * Math.PI) / 180 };

interface Case {
  readonly name: string;
  readonly cutter: Size;
  readonly strokes: readonly Stroke[];
  readonly volume: number;
  /** Length of the edge seen from above, mm: what a cell's coarseness can get wrong. */
  readonly edge: number;
  /** Height over that edge, mm. */
  readonly height: number;
}

const R = 3;
const line = (x0: number, y0: number, z0: number, x1: number, y1: number, z1: number): Stroke => ({
  kind: 'feed',
  from: { x: x0, y: y0, z: z0 },
  to: { x: x1, y: y1, z: z1 },
});
const slopeLength = Math.hypot(23, 11);
/**
 * A flat end coming down a ramp from the surface. Over a place at `off` from the line, with half-chord w = √(R² − off²),
 * the depth grows evenly from 0 at −w to d at L − w and stays d to L + w: ∫ (L/2 + 2w) d over |off| ≤ R.
 */
const rampVolume = (length: number, depth: number): number => depth * (length * R + Math.PI * R * R);

const cases: readonly Case[] = [
  {
    name: 'a straight cut is a stadium prism: (2 R L + π R²) d',
    cutter: endmill(6),
    strokes: [line(12, 10.3, -2, 35, 21.3, -2)],
    volume: 2 * (2 * R * slopeLength + Math.PI * R * R),
    edge: 2 * slopeLength + 2 * Math.PI * R,
    height: 2,
  },
  {
    name: 'a quarter arc is a ring sector with round ends: (2 R r θ + π R²) d',
    cutter: endmill(6),
    strokes: [
      {
        kind: 'arc',
        from: { x: 40, y: 20, z: -1.5 },
        to: { x: 30, y: 30, z: -1.5 },
        centre: { x: 30, y: 20 },
        sweep: Math.PI / 2,
      },
    ],
    volume: 1.5 * (2 * R * 10 * (Math.PI / 2) + Math.PI * R * R),
    edge: (Math.PI / 2) * 20 + 2 * Math.PI * R,
    height: 1.5,
  },
  {
    name: 'a full circle is a ring (Pappus): 2 π r · 2 R d',
    cutter: endmill(6),
    strokes: [
      {
        kind: 'arc',
        from: { x: 40, y: 20, z: -2.5 },
        to: { x: 40, y: 20, z: -2.5 },
        centre: { x: 30, y: 20 },
        sweep: -2 * Math.PI,
      },
    ],
    volume: 2.5 * 2 * Math.PI * 10 * 2 * R,
    edge: 2 * Math.PI * 20,
    height: 2.5,
  },
  {
    name: 'a circle smaller than the cutter is a cylinder: π (r + R)² d',
    cutter: endmill(6),
    strokes: [
      {
        kind: 'arc',
        from: { x: 32, y: 20, z: -2 },
        to: { x: 32, y: 20, z: -2 },
        centre: { x: 30, y: 20 },
        sweep: 2 * Math.PI,
      },
    ],
    volume: 2 * Math.PI * 25,
    edge: 2 * Math.PI * 5,
    height: 2,
  },
  {
    name: 'a ramp from the surface: (R L + π R²) d',
    cutter: endmill(6),
    strokes: [line(15, 12, 0, 40, 17, -2)],
    volume: rampVolume(Math.hypot(25, 5), 2),
    edge: 2 * Math.hypot(25, 5) + 2 * Math.PI * R,
    height: 2,
  },
  {
    name: 'a drilled blind hole is a cylinder on a cone: π R² (h + p / 3)',
    cutter: drill,
    strokes: [line(30.03, 20.06, 5, 30.03, 20.06, -6)],
    volume: (() => {
      const p = R / Math.tan((59 * Math.PI) / 180);
      return Math.PI * R * R * (6 - p + p / 3);
    })(),
    edge: 2 * Math.PI * R,
    height: 6,
  },
  {
    name: 'a spot mark is a cone alone: π (h tan ½α)² h / 3',
    cutter: { kind: 'spot', diameter: 6, pointAngle: Math.PI / 2 },
    strokes: [line(20, 20, 3, 20, 20, -2)],
    volume: (Math.PI * 4 * 2) / 3,
    edge: 2 * Math.PI * 2,
    height: 1,
  },
  {
    name: 'a V groove of a pointed cutter: h² L + π h³ / 3 for a right-angled point',
    cutter: { kind: 'spot', diameter: 6, pointAngle: Math.PI / 2 },
    strokes: [line(15, 15, -2, 40, 22, -2)],
    volume: 4 * Math.hypot(25, 7) + (Math.PI * 8) / 3,
    edge: 2 * Math.hypot(25, 7) + 4 * Math.PI,
    height: 1,
  },
];

const removed = (c: Case, cell: number, frame: Frame): number => {
  const map = barMap(bar, cell);
  const before = mapVolume(map);
  const sum = c.strokes.reduce((v, s) => v + sweep(map, s, c.cutter, frame).volume, 0);
  expect(before - mapVolume(map)).toBeCloseTo(sum, 2);
  return sum;
};

describe('removed volume against closed forms', () => {
  for (const c of cases) {
    it(c.name, () => {
      for (const frame of [front, back]) {
        // A lattice of cells misses an edge by a random part of a cell: errors add like the root of their number.
        const bound = (cell: number): number => 3 * c.height * cell * Math.sqrt(c.edge * cell);
        for (const cell of [0.4, 0.2, 0.1, 0.05]) {
          expect(Math.abs(removed(c, cell, frame) - c.volume)).toBeLessThan(bound(cell));
        }
        expect(Math.abs(removed(c, 0.1, frame) / c.volume - 1)).toBeLessThan(0.003);
      }
    });
  }

  it('a helix down one turn, and the ring it makes with a level turn after it', () => {
    const centre = { x: 30, y: 20 };
    const helix: Stroke = {
      kind: 'arc',
      from: { x: 38, y: 20, z: 0 },
      to: { x: 38, y: 20, z: -3 },
      centre,
      sweep: 2 * Math.PI,
    };
    const level: Stroke = { ...helix, from: { ...helix.from, z: -3 } };
    const map = barMap(bar, 0.1);
    const first = sweep(map, helix, endmill(6), front).volume;
    const second = sweep(map, level, endmill(6), front).volume;
    const ring = 2 * Math.PI * 8 * 2 * R * 3;
    expect((first + second) / ring).toBeCloseTo(1, 3);
    // A place at angle φ is covered while the path's angle is within δ of it (law of cosines). Its depth is
    // (φ + δ)/2π of the pitch, and all of it within δ of the helix's ends; the mean over φ is (2δ + π − δ²/π) / 2π.
    let share = 0;
    let area = 0;
    const steps = 4000;
    for (let k = 0; k < steps; k++) {
      const p = 5 + (6 * (k + 0.5)) / steps;
      const reach = Math.acos((p * p + 8 * 8 - R * R) / (2 * p * 8));
      share += ((2 * reach + Math.PI - reach ** 2 / Math.PI) / (2 * Math.PI)) * p;
      area += p;
    }
    expect(first / ring).toBeCloseTo(share / area, 3);
  });
});
