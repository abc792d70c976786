import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readPart } from '../sketch/part/document.ts';
import { armContour } from '../sketch/part/outline.ts';
import type { End, Fork, Hole, Land, Part, Plate, Slot } from '../sketch/part/part.ts';
import { outlineOf, type Solid, solidOf } from '../sketch/part/solid.ts';
import type { Point } from '../sketch/shape/point.ts';
import {
  contains,
  contourArea,
  nearestBoundary,
  pathLength,
  regionArea,
  regionBox,
  worstGap,
} from '../sketch/shape/region.ts';

const volume = (solid: Solid): number =>
  solid.slabs.reduce((sum, s) => sum + regionArea(s.region) * (s.top - s.bottom), 0);

const part = (over: Partial<Part>): Part => ({
  name: 'test',
  unit: 'mm',
  bar: { length: 100, width: 40, thickness: 8, material: 'brass', corner: { x: -30, y: -20 }, sawn: 0 },
  ends: [],
  arms: [],
  plates: [],
  holes: [],
  slots: [],
  forks: [],
  lands: [],
  leastWall: 0.8,
  ...over,
});
const at = (x: number, y: number): Point => ({ x, y });
const box = (name: string, x0: number, y0: number, x1: number, y1: number, cornerRadius = 0): Plate => ({
  name,
  corners: [at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)],
  cornerRadius,
});
const hole = (name: string, x: number, y: number, diameter: number, over: Partial<Hole> = {}): Hole =>
  ({ name, purpose: 'clearance', centre: at(x, y), diameter, depth: null, from: 'front', ...over }) as Hole;
const end = (name: string, x: number, y: number, radius: number): End => ({ name, centre: at(x, y), radius });

describe('outline', () => {
  test('two ends and an arm are two lines and two arcs; area and length as the hull of two discs (closed form)', () => {
    for (const [R, r, d] of [
      [9, 4, 50],
      [6, 6, 30],
      [4, 9, 12],
      [10, 1, 9.5],
    ] as const) {
      const outline = outlineOf(
        part({
          ends: [end('a', 3, 2, R), end('b', 3 + d * 0.6, 2 + d * 0.8, r)],
          arms: [{ name: 'arm', from: 'a', to: 'b' }],
        }),
      );
      expect(outline.contours).toHaveLength(1);
      const contour = outline.contours[0]!;
      expect(contour.segments.map((s) => s.kind)).toEqual(['line', 'arc', 'line', 'arc']);
      expect(worstGap(contour)).toBe(0);
      const beta = Math.asin((R - r) / d);
      expect(contourArea(contour)).toBeCloseTo(
        R * R * (Math.PI / 2 + beta) + r * r * (Math.PI / 2 - beta) + (R + r) * d * Math.cos(beta),
        8,
      );
      expect(pathLength(contour)).toBeCloseTo(
        R * (Math.PI + 2 * beta) + r * (Math.PI - 2 * beta) + 2 * d * Math.cos(beta),
        8,
      );
    }
  });

  test('a plate’s corners are exact arcs: area less (4 − π) r², sides kept', () => {
    const outline = outlineOf(part({ plates: [box('p', 0, 0, 20, 10, 3)] }));
    expect(regionArea(outline)).toBeCloseTo(200 - (4 - Math.PI) * 9, 9);
    expect(outline.contours[0]!.segments.filter((s) => s.kind === 'arc')).toHaveLength(4);
    // As round as it can be: no sides of no length are left.
    const round = outlineOf(part({ plates: [box('p', 0, 0, 10, 10, 5)] }));
    expect(regionArea(round)).toBeCloseTo(25 * Math.PI, 9);
    expect(round.contours[0]!.segments).toHaveLength(4);
  });

  test('an inside corner of a polygon is rounded too: its fillet adds (1 − π/4) r²', () => {
    const corners = [at(0, 0), at(20, 0), at(20, 10), at(10, 10), at(10, 20), at(0, 20)];
    const outline = outlineOf(part({ plates: [{ name: 'L', corners, cornerRadius: 2 }] }));
    expect(regionArea(outline)).toBeCloseTo(300 - 5 * (1 - Math.PI / 4) * 4 + (1 - Math.PI / 4) * 4, 9);
  });

  test('inside radius fills inside corners only, by an arc of that radius', () => {
    const plates = [box('a', 0, 0, 20, 10), box('b', 0, 0, 10, 20)];
    const sharp = outlineOf(part({ plates }));
    const filled = outlineOf(part({ plates, insideRadius: 3 }));
    expect(regionArea(filled) - regionArea(sharp)).toBeCloseTo((1 - Math.PI / 4) * 9, 3);
    const arcs = filled.contours[0]!.segments.flatMap((s) => (s.kind === 'arc' ? [s] : []));
    expect(arcs).toHaveLength(1);
    expect(Math.hypot(arcs[0]!.centre.x - 13, arcs[0]!.centre.y - 13)).toBeLessThan(0.003);
    expect(regionBox(filled)).toEqual(regionBox(sharp));
  });

  test('a bell crank of three unlike ends is three arcs, four lines and the fillet', () => {
    const reading = readPart(
      readFileSync(new URL('../samples/winch-bell-crank.json', import.meta.url), 'utf8'),
    );
    if (!reading.ok) throw new Error(reading.findings[0]!.message);
    const contour = outlineOf(reading.part).contours[0]!;
    const radii = contour.segments.flatMap((s) =>
      s.kind === 'arc' ? [Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y)] : [],
    );
    expect(contour.segments).toHaveLength(8);
    expect(radii.map((r) => r.toFixed(3)).sort()).toEqual(['4.500', '5.000', '5.000', '8.000']);
  });
});

describe('volumes in closed form', () => {
  const block = [box('block', 0, -10, 40, 10)];
  const full = 40 * 20 * 8;

  test('a through hole, a blind one from either face, a counterbore', () => {
    const holes = [
      hole('a', 5, 0, 4),
      hole('b', 15, 0, 4, { depth: 3 }),
      hole('c', 25, 0, 4, { depth: 5, from: 'back' }),
      hole('d', 34, 0, 4, { purpose: 'counterbored', boreDiameter: 8, boreDepth: 3 } as Partial<Hole>),
    ];
    const taken = Math.PI * 4 * (8 + 3 + 5 + 5) + Math.PI * 16 * 3;
    const solid = solidOf(part({ plates: block, holes }));
    expect(volume(solid)).toBeCloseTo(full - taken, 1);
    expect(solid.slabs.map((s) => [s.bottom, s.top])).toEqual([
      [0, 5],
      [5, 8],
    ]);
  });

  test('a slot, a round-rooted and a square-rooted fork', () => {
    const slots: Slot[] = [{ name: 's', from: at(20, -3), to: at(20, 5), width: 4, depth: 2, face: 'front' }];
    const fork = (name: string, over: Partial<Fork>): Fork => ({
      name,
      mouth: at(0, 0),
      direction: 0,
      width: 5,
      depth: 12,
      root: { kind: 'round' },
      ...over,
    });
    const forks = [
      fork('f', {}),
      fork('g', {
        mouth: at(40, 2),
        direction: Math.PI,
        width: 6,
        depth: 8,
        root: { kind: 'square', cornerRadius: 1.5 },
      }),
    ];
    const slot = (8 * 4 + Math.PI * 4) * 2;
    const round = (9.5 * 5 + (Math.PI * 2.5 ** 2) / 2) * 8;
    const square = (8 * 6 - 2 * (1 - Math.PI / 4) * 1.5 ** 2) * 8;
    expect(volume(solidOf(part({ plates: block, slots, forks })))).toBeCloseTo(
      full - slot - round - square,
      1,
    );
  });

  test('a square root without radius and one as round as can be', () => {
    const f = (cornerRadius: number): Fork => ({
      name: 'f',
      mouth: at(0, 0),
      direction: 0,
      width: 5,
      depth: 12,
      root: { kind: 'square', cornerRadius },
    });
    expect(volume(solidOf(part({ plates: block, forks: [f(0)] })))).toBeCloseTo(full - 60 * 8, 1);
    expect(volume(solidOf(part({ plates: block, forks: [f(2.5)] })))).toBeCloseTo(
      full - (9.5 * 5 + (Math.PI * 6.25) / 2) * 8,
      1,
    );
  });

  test('lands: the later one holds; a thin body between thick ends', () => {
    const lands: Land[] = [
      { name: 'all', shape: { kind: 'whole' }, top: 6, bottom: 0 },
      {
        name: 'body',
        shape: {
          kind: 'polygon',
          corners: [at(10, -20), at(30, -20), at(30, 20), at(10, 20)],
          cornerRadius: 0,
        },
        top: 6,
        bottom: 3.5,
      },
      { name: 'boss', shape: { kind: 'disc', centre: at(20, 0), radius: 4 }, top: 8, bottom: 2 },
    ];
    const solid = solidOf(part({ plates: block, lands }));
    const expected = 20 * 20 * 6 + (20 * 20 - 16 * Math.PI) * 2.5 + 16 * Math.PI * 6;
    expect(volume(solid)).toBeCloseTo(expected, 1);
    expect(solid.slabs.map((s) => [s.bottom, s.top])).toEqual([
      [0, 2],
      [2, 3.5],
      [3.5, 6],
      [6, 8],
    ]);
  });

  test('a blind depth is measured from the part’s own surface, front or back', () => {
    const lands: Land[] = [
      {
        name: 'thin',
        shape: {
          kind: 'polygon',
          corners: [at(10, -20), at(50, -20), at(50, 20), at(10, 20)],
          cornerRadius: 0,
        },
        top: 6,
        bottom: 2,
      },
    ];
    const base = 10 * 20 * 8 + 30 * 20 * 4;
    const front = solidOf(part({ plates: block, lands, holes: [hole('h', 20, 0, 4, { depth: 1 })] }));
    const back = solidOf(
      part({ plates: block, lands, holes: [hole('h', 20, 0, 4, { depth: 1.5, from: 'back' })] }),
    );
    expect(volume(front)).toBeCloseTo(base - 4 * Math.PI * 1, 1);
    expect(front.slabs.map((s) => s.bottom)).toEqual([0, 2, 5, 6]);
    expect(volume(back)).toBeCloseTo(base - 4 * Math.PI * 1.5, 1);
    expect(back.slabs.map((s) => s.bottom)).toEqual([0, 2, 3.5, 6]);
  });

  test('where lands lie over each other, a blind depth is measured from the later one', () => {
    const lands: Land[] = [
      { name: 'low', shape: { kind: 'whole' }, top: 5, bottom: 0 },
      { name: 'boss', shape: { kind: 'disc', centre: at(20, 0), radius: 6 }, top: 7, bottom: 0 },
    ];
    const solid = solidOf(part({ plates: block, lands, holes: [hole('h', 20, 0, 4, { depth: 3 })] }));
    expect(volume(solid)).toBeCloseTo(40 * 20 * 5 + Math.PI * 36 * 2 - Math.PI * 4 * 3, 1);
    expect(solid.slabs.map((s) => s.bottom)).toEqual([0, 4, 5]);
  });

  test('heights with nothing in them have no slab, like ones are joined', () => {
    const whole: Land = { name: 'w', shape: { kind: 'whole' }, top: 5, bottom: 1 };
    expect(solidOf(part({ plates: block, lands: [whole] })).slabs.map((s) => [s.bottom, s.top])).toEqual([
      [1, 5],
    ]);
    // Two heights at which nothing comes of the change.
    const idle: Land = {
      name: 'i',
      shape: { kind: 'disc', centre: at(20, 0), radius: 3 },
      top: 3,
      bottom: 2,
    };
    expect(
      solidOf(part({ plates: block, lands: [idle, whole] })).slabs.map((s) => [s.bottom, s.top]),
    ).toEqual([
      [1, 2],
      [2, 3],
      [3, 5],
    ]);
  });
});

// An independent account of the same part: plain distances, no contours, no clipping.
const inHull = (a: End, b: End, p: Point): boolean => {
  // The hull of two discs is every disc between them; the best one is found by trying and halving.
  let [low, high] = [0, 1];
  const gap = (t: number): number =>
    Math.hypot(
      p.x - a.centre.x - t * (b.centre.x - a.centre.x),
      p.y - a.centre.y - t * (b.centre.y - a.centre.y),
    ) -
    (a.radius + t * (b.radius - a.radius));
  for (let i = 0; i < 30; i++) {
    const [m, n] = [low + (high - low) / 3, high - (high - low) / 3];
    if (gap(m) < gap(n)) high = n;
    else low = m;
  }
  return gap(low) < 0;
};
const toSegment = (p: Point, a: Point, b: Point): number => {
  const l2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const t =
    l2 === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / l2));
  return Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
};
/** A rectangle with rounded corners. */
const inPlate = (plate: Pick<Plate, 'corners' | 'cornerRadius'>, p: Point): boolean => {
  const [a, , c] = plate.corners as [Point, Point, Point];
  const r = plate.cornerRadius;
  const dx = Math.max(a.x + r - p.x, p.x - (c.x - r), 0);
  const dy = Math.max(a.y + r - p.y, p.y - (c.y - r), 0);
  return r === 0 ? p.x > a.x && p.x < c.x && p.y > a.y && p.y < c.y : Math.hypot(dx, dy) < r;
};
const inLand = (land: Land, p: Point): boolean => {
  if (land.shape.kind === 'whole') return true;
  if (land.shape.kind === 'disc')
    return Math.hypot(p.x - land.shape.centre.x, p.y - land.shape.centre.y) < land.shape.radius;
  return inPlate(land.shape, p);
};
const inFork = (fork: Fork, p: Point): boolean => {
  const [c, s] = [Math.cos(fork.direction), Math.sin(fork.direction)];
  const u = (p.x - fork.mouth.x) * c + (p.y - fork.mouth.y) * s;
  const v = Math.abs(-(p.x - fork.mouth.x) * s + (p.y - fork.mouth.y) * c);
  const r = fork.root.kind === 'round' ? fork.width / 2 : fork.root.cornerRadius;
  if (v >= fork.width / 2 || u >= fork.depth) return false;
  const [du, dv] = [u - (fork.depth - r), v - (fork.width / 2 - r)];
  return du <= 0 || dv <= 0 || Math.hypot(du, dv) < r;
};
const surfaces = (p: Part, q: Point): [number, number] => {
  const land = [...p.lands].reverse().find((l) => inLand(l, q));
  return land === undefined ? [0, p.bar.thickness] : [land.bottom, land.top];
};
const isMaterial = (p: Part, q: Point, z: number): boolean => {
  const inOutline =
    p.ends.some((e) => Math.hypot(q.x - e.centre.x, q.y - e.centre.y) < e.radius) ||
    p.arms.some((arm) =>
      inHull(p.ends.find((e) => e.name === arm.from)!, p.ends.find((e) => e.name === arm.to)!, q),
    ) ||
    p.plates.some((plate) => inPlate(plate, q));
  if (!inOutline) return false;
  const [bottom, top] = surfaces(p, q);
  if (z < bottom || z > top) return false;
  if (p.forks.some((f) => inFork(f, q))) return false;
  const reached = (centre: Point, depth: number | null, face: 'front' | 'back'): boolean => {
    if (depth === null) return true;
    const [low, high] = surfaces(p, centre);
    return face === 'front' ? z > high - depth : z < low + depth;
  };
  for (const s of p.slots) {
    const middle = at((s.from.x + s.to.x) / 2, (s.from.y + s.to.y) / 2);
    if (toSegment(q, s.from, s.to) < s.width / 2 && reached(middle, s.depth, s.face)) return false;
  }
  for (const h of p.holes) {
    const d = Math.hypot(q.x - h.centre.x, q.y - h.centre.y);
    if (d < h.diameter / 2 && reached(h.centre, h.depth, h.from)) return false;
    if (h.purpose === 'counterbored' && d < h.boreDiameter / 2 && reached(h.centre, h.boreDepth, h.from))
      return false;
  }
  return true;
};

const between = (min: number, max: number) =>
  fc.integer({ min: Math.round(min * 100), max: Math.round(max * 100) }).map((n) => n / 100);
const place = fc.record({ x: between(-15, 45), y: between(-12, 12) });
const depth = fc.option(between(0.5, 6), { nil: null });
const face = fc.constantFrom('front' as const, 'back' as const);
const plateShape = fc
  .record({
    x: between(-15, 35),
    y: between(-12, 5),
    w: between(3, 25),
    h: between(3, 14),
    share: fc.constantFrom(0, 0.3, 0.9),
  })
  .map(({ x, y, w, h, share }) => {
    const { corners } = box('', x, y, x + w, y + h);
    return { corners, cornerRadius: (share * Math.min(w, h)) / 2 };
  });
const anyPart: fc.Arbitrary<Part> = fc
  .record({
    radii: fc.array(between(3, 10), { minLength: 2, maxLength: 3 }),
    centres: fc.tuple(place, place),
    plates: fc.array(plateShape, { maxLength: 2 }),
    holes: fc.array(
      fc.record({
        centre: place,
        diameter: between(1, 6),
        depth,
        from: face,
        bore: fc.option(fc.tuple(between(0.5, 4), between(0.5, 3))),
      }),
      { maxLength: 3 },
    ),
    slots: fc.array(fc.record({ from: place, to: place, width: between(1, 5), depth, face }), {
      maxLength: 2,
    }),
    forks: fc.array(
      fc.record({
        mouth: place,
        direction: between(-3, 3),
        width: between(2, 6),
        more: between(0.1, 8),
        root: fc.constantFrom(null, 0.25, 0.5),
      }),
      { maxLength: 2 },
    ),
    lands: fc.array(
      fc.record({
        shape: fc.oneof(
          fc.constant({ kind: 'whole' as const }),
          fc.record({ kind: fc.constant('disc' as const), centre: place, radius: between(2, 15) }),
          plateShape.map((s) => ({ kind: 'polygon' as const, ...s })),
        ),
        bottom: between(0, 5),
        thick: between(0.5, 3),
      }),
      { maxLength: 3 },
    ),
  })
  .map((g) => {
    const ends = [
      end('e0', 0, 0, g.radii[0]!),
      end('e1', 32 + g.centres[0].x / 5, g.centres[0].y, g.radii[1]!),
    ];
    if (g.radii.length > 2) ends.push(end('e2', g.centres[1].x, 26, g.radii[2]!));
    return part({
      ends,
      arms: ends.slice(1).map((e) => ({ name: `to ${e.name}`, from: 'e0', to: e.name })),
      plates: g.plates.map((p, i) => ({ name: `p${i}`, ...p })),
      holes: g.holes.map(
        ({ bore, ...h }, i) =>
          ({
            name: `h${i}`,
            ...h,
            ...(bore === null
              ? { purpose: 'reamed' }
              : { purpose: 'counterbored', boreDiameter: h.diameter + bore[0], boreDepth: bore[1] }),
          }) as Hole,
      ),
      slots: g.slots.map((s, i) => ({ name: `s${i}`, ...s })),
      forks: g.forks.map(({ root, more, ...f }, i) => ({
        name: `f${i}`,
        ...f,
        depth: f.width / 2 + more,
        root: root === null ? { kind: 'round' } : { kind: 'square', cornerRadius: root * f.width },
      })),
      lands: g.lands.map(({ thick, ...l }, i) => ({ name: `l${i}`, ...l, top: l.bottom + thick })),
    });
  });

describe('random parts against an account by plain distances', () => {
  test('every place is material or not as it says, but within 0.02 mm of a wall', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        anyPart,
        fc.array(fc.tuple(between(-25, 55), between(-25, 40), between(0, 8)), {
          minLength: 60,
          maxLength: 60,
        }),
        (p, points) => {
          const solid = solidOf(p);
          for (const slab of solid.slabs)
            for (const c of slab.region.contours) expect(worstGap(c)).toBeLessThan(1e-6);
          const heights = [0, p.bar.thickness, ...solid.slabs.flatMap((s) => [s.bottom, s.top])];
          for (const [x, y, zRaw] of points) {
            const q = at(x + 0.0031, y + 0.0017);
            const z = zRaw + 0.0023;
            if (heights.some((h) => Math.abs(h - z) < 0.005)) continue;
            const slab = solid.slabs.find((s) => s.bottom < z && z < s.top);
            const near = slab === undefined ? null : nearestBoundary(slab.region, q);
            if (near !== null && near.distance < 0.02) continue;
            looked++;
            expect(slab !== undefined && contains(slab.region, q), `${q.x}, ${q.y}, ${z}`).toBe(
              isMaterial(p, q, z),
            );
          }
        },
      ),
      { numRuns: 150 },
    );
    expect(looked).toBeGreaterThan(5000);
  });

  /** From 0 to 1, as good as at random, and always the same for a place. */
  const scattered = (a: number, b: number): number => {
    const wild = Math.sin(a * 12.9898 + b * 78.233) * 43758.5453;
    return wild - Math.floor(wild);
  };

  test('volume equals a count of cells', () => {
    fc.assert(
      fc.property(anyPart, (p) => {
        const solid = solidOf(p);
        const step = 0.5;
        let count = 0;
        for (const { bottom, top } of solid.slabs) {
          for (let x = -25 + step / 2; x < 60; x += step) {
            for (let y = -25 + step / 2; y < 40; y += step) {
              // Somewhere in the cell, so that a long wall along the cells is not counted a whole row wrong.
              const place = at(x + step * (scattered(x, y) - 0.5), y + step * (scattered(y, x) - 0.5));
              if (isMaterial(p, place, (bottom + top) / 2)) count += step * step * (top - bottom);
            }
          }
        }
        const walls = solid.slabs.reduce(
          (sum, s) => sum + s.region.contours.reduce((l, c) => l + pathLength(c), 0) * (s.top - s.bottom),
          0,
        );
        // The count errs at the walls alone, by much less than half a cell on the whole.
        expect(Math.abs(volume(solid) - count)).toBeLessThan(0.5 + walls * step * 0.1);
      }),
      { numRuns: 4 },
    );
  });
});

test('an arm’s contour runs anticlockwise whichever end comes first', () => {
  fc.assert(
    fc.property(between(1, 9), between(1, 9), place, (ra, rb, c) => {
      const [a, b] = [end('a', 0, 0, ra), end('b', c.x, c.y, rb)];
      fc.pre(Math.hypot(c.x, c.y) > Math.abs(ra - rb) + 0.01);
      const [one, other] = [armContour(a, b), armContour(b, a)];
      expect(contourArea(one)).toBeGreaterThan(Math.PI * Math.max(ra, rb) ** 2);
      expect(contourArea(other)).toBeCloseTo(contourArea(one), 8);
    }),
  );
});

describe('the samples', () => {
  test('shutter link in closed form: a stadium less its slot and two pins', () => {
    const reading = readPart(readFileSync(new URL('../samples/shutter-link.json', import.meta.url), 'utf8'));
    if (!reading.ok) throw new Error(reading.findings[0]!.message);
    const area = 72 * 12 + Math.PI * 36 - (20 * 5 + Math.PI * 2.5 ** 2) - 2 * Math.PI * 2 ** 2;
    expect(volume(solidOf(reading.part))).toBeCloseTo(area * 4, 6);
  });

  const folder = new URL('../samples/', import.meta.url);
  for (const file of readdirSync(folder).filter((f) => f.endsWith('.json') && !f.endsWith('.schema.json'))) {
    test(`${file}: volume equals a count of cells, one slab for each height`, () => {
      const reading = readPart(readFileSync(new URL(file, folder), 'utf8'));
      if (!reading.ok) throw new Error(reading.findings[0]!.message);
      const solid = solidOf(reading.part);
      expect(solid.slabs[0]!.bottom).toBe(0);
      expect(solid.slabs.at(-1)!.top).toBeCloseTo(reading.part.bar.thickness, 9);
      const { insideRadius: _, ...sharp } = reading.part;
      let count = 0;
      // Cells that fit the extent, so that the count errs at round and slanting walls only.
      const extent = regionBox(outlineOf(reading.part))!;
      const [w, h] = [extent.max.x - extent.min.x, extent.max.y - extent.min.y];
      const [columns, rows] = [Math.ceil(w / 0.17), Math.ceil(h / 0.17)];
      const plain = solidOf(sharp);
      for (const { bottom, top } of plain.slabs) {
        for (let i = 0; i < columns; i++) {
          for (let j = 0; j < rows; j++) {
            const q = at(extent.min.x + ((i + 0.5) * w) / columns, extent.min.y + ((j + 0.5) * h) / rows);
            if (isMaterial(sharp, q, (bottom + top) / 2))
              count += (w / columns) * (h / rows) * (top - bottom);
          }
        }
      }
      expect(Math.abs(volume(plain) / count - 1)).toBeLessThan(0.006);
      expect(volume(solid)).toBeGreaterThanOrEqual(volume(plain) - 1e-6);
    });
  }
});
