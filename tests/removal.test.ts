import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bar } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { contains, disc, type Region, rectangle } from '../sketch/shape/region.ts';
import { nearestOn, reverseSegment, type Segment } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type Cut, film } from '../toolpath/removal/film.ts';
import {
  barMap,
  cellAt,
  cellMiddle,
  chooseCell,
  copyMap,
  type HeightMap,
  mapVolume,
} from '../toolpath/removal/height-map.ts';
import { fillColumns, fillRegion, wantedColumns } from '../toolpath/removal/raster.ts';
import { section } from '../toolpath/removal/section.ts';
import type { Stroke } from '../toolpath/removal/stroke.ts';
import { sweep } from '../toolpath/removal/sweep.ts';
import { frameOf } from '../toolpath/route/frame.ts';

const bar: Bar = {
  length: 30,
  width: 16,
  thickness: 8,
  material: 'aluminium',
  corner: { x: 2, y: -5 },
  sawn: 0,
};
const front = frameOf(bar, 'front', 'left-near');
const back = frameOf(bar, 'back', 'left-near');
type Size = Pick<Cutter, 'kind' | 'diameter' | 'pointAngle'>;
const mill: Size = { kind: 'endmill', diameter: 4, pointAngle: Math.PI };
const drill: Size = { kind: 'drill', diameter: 4, pointAngle: 2 };
const line = (from: readonly [number, number, number], to: readonly [number, number, number]): Stroke => ({
  kind: 'feed',
  from: { x: from[0], y: from[1], z: from[2] },
  to: { x: to[0], y: to[1], z: to[2] },
});

/** The plain way to sweep: the cutter set down at many places of the motion, cell by cell. */
const stampMany = (map: HeightMap, stroke: Stroke, cutter: Size, steps: number): void => {
  const R = cutter.diameter / 2;
  const k = cutter.kind === 'endmill' ? 0 : 1 / Math.tan(cutter.pointAngle / 2);
  for (let n = 0; n <= steps; n++) {
    const t = n / steps;
    let x = stroke.from.x + (stroke.to.x - stroke.from.x) * t;
    let y = stroke.from.y + (stroke.to.y - stroke.from.y) * t;
    if (stroke.centre !== undefined && stroke.sweep !== undefined) {
      const r = Math.hypot(stroke.from.x - stroke.centre.x, stroke.from.y - stroke.centre.y);
      const angle =
        Math.atan2(stroke.from.y - stroke.centre.y, stroke.from.x - stroke.centre.x) + stroke.sweep * t;
      x = stroke.centre.x + r * Math.cos(angle);
      y = stroke.centre.y + r * Math.sin(angle);
    }
    const z = stroke.from.z + (stroke.to.z - stroke.from.z) * t + bar.thickness;
    for (let i = 0; i < map.top.length; i++) {
      const p = cellMiddle(map, i);
      const d = Math.hypot(p.x - bar.corner.x - x, p.y - bar.corner.y - y);
      if (d > R) continue;
      const h = Math.max(map.bottom[i]!, z + k * d);
      if (h < map.top[i]!) map.top[i] = h;
    }
  }
};

const place = fc.tuple(
  fc.double({ min: -3, max: 33, noNaN: true }),
  fc.double({ min: -3, max: 19, noNaN: true }),
  fc.double({ min: -9, max: 1, noNaN: true }),
);
const straight = fc.tuple(place, place).map(([a, b]) => line(a, b));
const round = fc
  .tuple(
    place,
    fc.double({ min: 0.3, max: 9, noNaN: true }),
    fc.double({ min: -6.2, max: 6.2, noNaN: true }),
    place,
  )
  .filter(([, , sweepAngle]) => Math.abs(sweepAngle) > 0.05)
  .map(([c, r, turn, other]): Stroke => {
    const start = c[2];
    return {
      kind: 'arc',
      centre: { x: c[0], y: c[1] },
      sweep: turn,
      from: { x: c[0] + r * Math.cos(start), y: c[1] + r * Math.sin(start), z: c[2] },
      to: { x: c[0] + r * Math.cos(start + turn), y: c[1] + r * Math.sin(start + turn), z: other[2] },
    };
  });
const anyStroke = fc.oneof(straight, round);
const anyCutter = fc.constantFrom(mill, drill);

describe('the sweep', () => {
  it('agrees with the cutter set down at very many places, on any line, ramp, arc and helix', () => {
    fc.assert(
      fc.property(anyStroke, anyCutter, (stroke, cutter) => {
        const swept = barMap(bar, 0.5);
        sweep(swept, stroke, cutter, front);
        const stamped = barMap(bar, 0.5);
        const steps = 600;
        stampMany(stamped, stroke, cutter, steps);
        const travel = Math.hypot(
          (stroke.sweep ?? 0) * 9,
          stroke.to.x - stroke.from.x,
          stroke.to.y - stroke.from.y,
        );
        const fall = Math.abs(stroke.to.z - stroke.from.z);
        // Setting down at places cuts no lower than sweeping, and is at most a step's worth higher away from edges;
        // where the cutter's edge just grazes a cell's middle, the places may miss it altogether.
        let lower = 0;
        let higher = 0;
        for (let i = 0; i < swept.top.length; i++) {
          if (swept.top[i]! > stamped.top[i]! + 2e-3) lower++;
          if (stamped.top[i]! - swept.top[i]! > 0.02 + (2 * (travel + fall)) / steps) higher++;
        }
        expect(lower).toBe(0);
        expect(higher).toBeLessThanOrEqual(6);
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });

  it('of a flat end at one height is just the cells whose middles lie within the radius of its way', () => {
    const level = anyStroke.map((s): Stroke => ({ ...s, to: { ...s.to, z: s.from.z } }));
    fc.assert(
      fc.property(level, (stroke) => {
        const map = barMap(bar, 0.25);
        sweep(map, stroke, mill, front);
        const { x, y } = bar.corner;
        const shift = (p: { x: number; y: number }) => ({ x: p.x + x, y: p.y + y });
        const ends = { from: shift(stroke.from), to: shift(stroke.to) };
        const way: Segment =
          stroke.centre && stroke.sweep
            ? { kind: 'arc', ...ends, centre: shift(stroke.centre), sweep: stroke.sweep }
            : { kind: 'line', ...ends };
        const left = Math.max(0, bar.thickness + stroke.from.z);
        const sunk = left < bar.thickness - 1e-4;
        const wrong = map.top.filter((z, i) => {
          const off = nearestOn(way, cellMiddle(map, i)).distance - mill.diameter / 2;
          return Math.abs(off) > 1e-6 && Math.abs(z - (off < 0 && sunk ? left : bar.thickness)) > 1e-4;
        });
        expect(wrong.length).toBe(0);
      }),
      { numRuns: 200 },
    );
  });

  it('that follows another passes over what is cut already, and cuts the same to the last bit', () => {
    /** Some of them straight up, most by rapids that are spared a little. */
    const linked = fc.tuple(anyStroke, fc.constantFrom(0, 0, 0, 0.5, 4), fc.boolean());
    const chain = fc.array(linked, { minLength: 2, maxLength: 8 }).map((strokes) => {
      let from = strokes[0]![0].from;
      return strokes.map(([s, rise, rapid]): Stroke => {
        if (rise > 0) {
          const start = from;
          from = { ...start, z: start.z + rise };
          return { kind: rapid ? 'rapid' : 'feed', from: start, to: from };
        }
        const by = { x: from.x - s.from.x, y: from.y - s.from.y, z: 0 };
        const to = { x: s.to.x + by.x, y: s.to.y + by.y, z: s.to.z };
        const moved: Stroke = {
          ...s,
          from,
          to,
          ...(s.centre ? { centre: { x: s.centre.x + by.x, y: s.centre.y + by.y } } : {}),
        };
        from = to;
        return moved;
      });
    });
    fc.assert(
      fc.property(chain, anyCutter, fc.constantFrom(front, back), (strokes, cutter, frame) => {
        const [plain, brief] = [barMap(bar, 0.25), barMap(bar, 0.25)];
        let follows = false;
        strokes.forEach((stroke) => {
          const spare = stroke.kind === 'rapid' ? { spare: { radius: 0.02, tip: 0.01 } } : {};
          const a = sweep(plain, stroke, cutter, frame, spare);
          const b = sweep(brief, stroke, cutter, frame, { ...spare, follows });
          follows = stroke.kind !== 'rapid';
          expect({ ...b, volume: 0, deepestAt: 0 }).toEqual({ ...a, volume: 0, deepestAt: 0 });
          expect(b.volume).toBeCloseTo(a.volume, 6);
        });
        expect(brief.top).toEqual(plain.top);
        expect(brief.bottom).toEqual(plain.bottom);
      }),
      { numRuns: 200 },
    );
  });

  it("a cone coming down a ramp of slope m leaves flanks of slope √(k² − m²), k being the cone's own", () => {
    const map = barMap(bar, 0.25);
    const ramp = line([5, 8, -1], [25, 8, -5]);
    sweep(map, ramp, drill, front);
    const k = 1 / Math.tan(drill.pointAngle / 2);
    const m = 4 / 20;
    for (const off of [0.125, 0.625, 1.125]) {
      for (const along of [8.125, 12.125, 16.125]) {
        const i = cellAt(map, bar.corner.x + 5 + along, bar.corner.y + 8 + off);
        const depth = -1 - m * along + off * Math.sqrt(k * k - m * m);
        expect(map.top[i]).toBeCloseTo(bar.thickness + depth, 5);
      }
    }
  });

  it('cuts the same from the back as from the front, mirrored', () => {
    fc.assert(
      fc.property(anyStroke, anyCutter, (stroke, cutter) => {
        const a = barMap(bar, 0.5);
        const b = barMap(bar, 0.5);
        sweep(a, stroke, cutter, front);
        sweep(b, stroke, cutter, back);
        let unlike = 0;
        for (let row = 0; row < a.rows; row++) {
          for (let column = 0; column < a.columns; column++) {
            const i = row * a.columns + column;
            const j = (a.rows - 1 - row) * a.columns + column;
            if (Math.abs(a.top[i]! - a.bottom[i]! - (b.top[j]! - b.bottom[j]!)) > 1e-4) unlike++;
          }
        }
        // A middle that lies on the very edge may fall to either side by rounding.
        expect(unlike).toBeLessThanOrEqual(1);
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });

  it('says how much it took, how deep at most, and the thinnest it left', () => {
    const map = barMap(bar, 0.1);
    const first = sweep(map, line([5, 8, -3], [20, 8, -3]), mill, front);
    expect(first.deepest).toBeCloseTo(3, 5);
    expect(first.thinnest).toBeCloseTo(5, 5);
    expect(first.opened).toBe(0);
    const second = sweep(map, line([5, 8, -3], [20, 8, -3]), mill, front);
    expect(second.cells).toBe(0);
    expect(second.thinnest).toBe(Number.POSITIVE_INFINITY);
    // Turned over, y runs the other way: 16 wide, so the same middle line.
    const under = sweep(map, line([5, 8, -4.5], [20, 8, -4.5]), mill, back);
    expect(under.thinnest).toBeCloseTo(0.5, 5);
    const through = sweep(map, line([5, 8, -5], [20, 8, -5]), mill, back);
    expect(through.opened).toBe(through.cells);
    expect(through.volume).toBeCloseTo(0.5 * (15 * 4 + Math.PI * 4), 0);
  });

  it('leaves what a cutter raised and narrowed by the spare would only rub', () => {
    const map = barMap(bar, 0.1);
    const spare = { radius: 0.02, tip: 0.01 };
    expect(sweep(map, line([5, 8, -0.009], [9, 8, -0.009]), mill, front, { spare }).cells).toBe(0);
    expect(sweep(map, line([5, 8, -0.02], [9, 8, -0.02]), mill, front, { spare }).cells).toBeGreaterThan(0);
  });
});

describe('the map', () => {
  it('holds the bar with its sawn ends', () => {
    const map = barMap({ ...bar, sawn: 1.5 }, 0.1);
    expect(mapVolume(map)).toBeCloseTo(33 * 16 * 8, 2);
    expect(cellAt(map, 0.51, -4.99)).toBe(0);
    expect(cellAt(map, 0.49, -4.99)).toBe(-1);
  });

  it('chooses a cell by the smallest radius and the size of the bar', () => {
    const wanted = (region: Region) => ({ slabs: [{ bottom: 0, top: 8, region }] });
    expect(chooseCell(bar, wanted(rectangle({ x: 2, y: -5 }, { x: 32, y: 11 })))).toBe(0.1);
    expect(chooseCell(bar, wanted(disc({ x: 9, y: 0 }, 0.9)))).toBeCloseTo(0.06, 9);
    const big = { ...bar, length: 1000, width: 160 };
    const map = barMap(big, chooseCell(big, wanted(disc({ x: 9, y: 0 }, 5))));
    expect(map.top.length).toBeLessThan(4_050_000);
  });

  it('shows a section through both sides along any line', () => {
    const map = barMap(bar, 0.1);
    sweep(map, line([5, 8, -3], [20, 8, -3]), mill, front);
    sweep(map, line([10, 0, -2], [10, 16, -2]), mill, back);
    const cut = section(map, { x: bar.corner.x - 1, y: 3 }, { x: 33, y: 3 });
    expect(cut[0]).toEqual({ s: 0, top: 0, bottom: 0 });
    const atX = (x: number) =>
      cut.reduce((a, b) => (Math.abs(b.s - (x + 1)) < Math.abs(a.s - (x + 1)) ? b : a));
    expect(atX(1).top).toBeCloseTo(8, 5);
    expect(atX(6).top).toBeCloseTo(5, 5);
    expect(atX(6).bottom).toBe(0);
    expect(atX(10).top - atX(10).bottom).toBeCloseTo(3, 5);
    expect(cut.at(-1)!.s).toBeCloseTo(34 - bar.corner.x, 9);
  });

  it('rasters a region by the middles of its cells, exactly as the region says', () => {
    const region: Region = {
      contours: [
        ...rectangle({ x: 3, y: -4 }, { x: 25.3, y: 9.07 }).contours,
        {
          segments: [
            { ...disc({ x: 12, y: 2 }, 3.3).contours[0]!.segments[0]!, sweep: -2 * Math.PI } as never,
          ],
        },
      ],
    };
    const map = barMap(bar, 0.23);
    const filled = new Uint8Array(map.top.length);
    fillRegion(map, region, (a, b) => filled.fill(1, a, b + 1));
    let wrong = 0;
    for (let i = 0; i < filled.length; i++) {
      if ((filled[i] === 1) !== contains(region, cellMiddle(map, i))) wrong++;
    }
    expect(wrong).toBe(0);
    const columns = wantedColumns(map, { slabs: [{ bottom: 1, top: 5, region }] }, 0.4);
    expect(columns.top[cellAt(map, 5, 0)]).toBe(5);
    expect(columns.nearWall[cellAt(map, 15.3, 2)]).toBe(1);
    expect(columns.nearWall[cellAt(map, 16, 2)]).toBe(0);
  });

  it('knows what is wanted after a change from the cells about it alone', () => {
    const map = barMap(bar, 0.23);
    const solid = (radius: number): Solid => {
      const hole = disc({ x: 12, y: 2 }, radius).contours.map((c) => ({
        segments: c.segments.map(reverseSegment).reverse(),
      }));
      const around = rectangle({ x: 3, y: -4 }, { x: 25.3, y: 9.07 }).contours;
      const region: Region = { contours: [...around, ...hole] };
      return {
        slabs: [
          { bottom: 0, top: 5, region: { contours: around } },
          { bottom: 5, top: 7, region },
        ],
      };
    };
    const box = { i0: 24, i1: 64, j0: 11, j1: 50 };
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 3.2, noNaN: true }), (radius) => {
        const columns = wantedColumns(map, solid(2), 0.4);
        fillColumns(columns, map, solid(radius), 0.4, box);
        expect(columns).toEqual(wantedColumns(map, solid(radius), 0.4));
      }),
      { numRuns: 20 },
    );
  });
});

const sameHeights = (a: Float32Array, b: Float32Array): boolean => a.every((h, i) => h === b[i]);

describe('the film', () => {
  const cutsOf = fc.array(
    fc.array(
      fc
        .tuple(anyStroke, anyCutter, fc.constantFrom(front, back))
        .map(([stroke, cutter, frame]): Cut => ({ stroke, cutter, frame })),
      { minLength: 1, maxLength: 3 },
    ),
    { minLength: 1, maxLength: 12 },
  );

  it('shows after any number of passes, asked in any order, what cutting them straight through gives', () => {
    fc.assert(
      fc.property(
        cutsOf,
        fc.array(fc.nat(1000), { minLength: 1, maxLength: 6 }),
        fc.constantFrom(1, 40_000, 1e9),
        (passes, asked, memory) => {
          const start = barMap(bar, 0.5);
          const untouched = copyMap(start);
          const reel = film(start, passes, memory);
          for (const ask of asked) {
            const count = ask % (passes.length + 1);
            const direct = copyMap(start);
            for (const pass of passes.slice(0, count)) {
              for (const cut of pass) sweep(direct, cut.stroke, cut.cutter, cut.frame);
            }
            const shown = reel.after(count);
            expect(sameHeights(shown.top, direct.top)).toBe(true);
            expect(sameHeights(shown.bottom, direct.bottom)).toBe(true);
            shown.top.fill(0);
          }
          expect(sameHeights(start.top, untouched.top)).toBe(true);
        },
      ),
      { numRuns: 60, endOnFailure: true },
    );
  });

  it('refuses a pass it does not have', () => {
    expect(() => film(barMap(bar, 0.5), []).after(1)).toThrow(RangeError);
  });
});
