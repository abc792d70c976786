import { describe, expect, it } from 'vitest';
import { type Ahead, mostBitten } from '../gcode/proof/engagement.ts';
import { watchEngagement } from '../gcode/proof/engagement-watch.ts';
import type { Bar, Face } from '../sketch/part/part.ts';
import type { Point, Point3 } from '../sketch/shape/point.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { type CutPath, cutPath } from '../toolpath/removal/cut-path.ts';
import { newRecord, recordPath } from '../toolpath/removal/cut-record.ts';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import { cutters } from './proof-plate.ts';

// How much of the rim of a 6 mm cutter lies in the material, motion by motion, beside what the map and the record say.

const bar: Bar = {
  length: 60,
  width: 40,
  thickness: 6,
  material: 'brass',
  corner: { x: 0, y: 0 },
  sawn: 0,
};
const [mill, , drill] = [cutters[0]!, cutters[1]!, cutters[2]!];
const p = (x: number, y: number, z: number): Point3 => ({ x, y, z });
interface How {
  readonly face?: Face;
  readonly cutter?: Cutter;
  readonly kind?: 'feed' | 'rapid';
  readonly centre?: Point;
  readonly sweep?: number;
}
/** Heights as the part has them. */
const path = (
  from: Point3,
  to: Point3,
  { face = 'front', cutter = mill, kind = 'feed', ...round }: How = {},
) => {
  const up = (v: Point3): Point3 => (face === 'front' ? v : { ...v, y: -v.y, z: -v.z });
  const { centre, sweep } = round;
  const turned = face === 'front' ? 1 : -1;
  const motion =
    centre && sweep !== undefined
      ? { kind: 'arc' as const, centre: { x: centre.x, y: turned * centre.y }, sweep: turned * sweep }
      : { kind };
  return cutPath(
    { ...motion, from: up(from), to: up(to), line: 7 },
    cutter,
    { face, zero: p(0, 0, 0) },
    { setup: 0, pass: 0 },
  );
};
const whole = (): HeightMap => barMap(bar, 0.5);
/** Cells over a rectangle get other heights, from and to. */
const cut = (map: HeightMap, x: number, y: number, x1: number, y1: number, to: readonly [number, number]) => {
  for (let i = 0; i < map.top.length; i++) {
    const px = ((i % map.columns) + 0.5) * map.cell;
    const py = (Math.floor(i / map.columns) + 0.5) * map.cell;
    if (px > x && px < x1 && py > y && py < y1) [map.bottom[i], map.top[i]] = to;
  }
  return map;
};
const bitten = (one: CutPath, map = whole(), more: Partial<Ahead> = {}) =>
  mostBitten(one, { map, record: newRecord(bar), before: undefined, descent: [], ...more });
const degrees = (one: CutPath, map = whole(), more: Partial<Ahead> = {}): number =>
  ((bitten(one, map, more)?.angle ?? Number.NaN) * 180) / Math.PI;

describe('half the rim', () => {
  it('is in full material, exactly, whichever way and face the cut goes', () => {
    for (const face of ['front', 'back'] as const) {
      expect(degrees(path(p(20, 20, 3), p(30, 20, 3), { face }))).toBeCloseTo(180, 9);
      expect(degrees(path(p(20, 20, 3), p(14, 12, 3), { face }))).toBeCloseTo(180, 9);
    }
  });

  it('is looked for a step at a time, of 0.2 mm, of a twelfth of the radius, and of 6° round an arc', () => {
    // Off the end of the bar nothing stands, and the first look with all of the half in it is told.
    const into = (cutter: Cutter) => bitten(path(p(-9.13, 20, 3), p(0.87, 20, 3), { cutter }))!.at.x;
    expect(into(mill)).toBeCloseTo(0.07, 9);
    expect(degrees(path(p(-9.13, 20, 3), p(0.87, 20, 3)))).toBeCloseTo(180, 9);
    expect(into({ ...mill, diameter: 1.2 })).toBeCloseTo(0.02, 2);
    const round = path(p(20, 20.5, 3), p(20, 19.5, 3), { centre: { x: 20, y: 20 }, sweep: Math.PI });
    const at = bitten(round)!.at;
    expect(Math.atan2(at.y - 20, at.x - 20) - Math.PI / 2).toBeCloseTo((6 * Math.PI) / 180, 9);
    const wide = path(p(20, 30, 3), p(20, 10, 3), { centre: { x: 20, y: 20 }, sweep: Math.PI });
    const far = bitten(wide)!.at;
    expect(Math.atan2(far.y - 20, far.x - 20) - Math.PI / 2).toBeCloseTo(Math.PI / 158, 9);
  });

  it('is none of a way too short to say, of a plunge, or of a drill', () => {
    expect(bitten(path(p(20, 20, 3), p(20.019, 20, 3)))).toBeNull();
    expect(bitten(path(p(20, 20, 3), p(20.021, 20, 3)))).not.toBeNull();
    expect(bitten(path(p(20, 20, 9), p(20, 20, 3)))).toBeNull();
    expect(bitten(path(p(20, 20, 3), p(30, 20, 3), { cutter: drill }))).toBeNull();
  });

  it('is told with its place, the height of the tip and the line', () => {
    const found = bitten(path(p(20, 20, 5), p(22, 20, 3)))!;
    expect([found.at.x, found.at.y, found.tip, found.line].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([
      20.2, 20, 4.8, 7,
    ]);
  });

  it('but for what the start of the very arc has passed is met at once, and less of it further on', () => {
    // About a point 0.5 away nothing of the way is done at the first look; at the next ones the cutter has been about.
    const tight = { centre: { x: 20, y: 20 }, sweep: Math.PI };
    const sinking = path(p(20, 20.5, 6), p(20, 19.5, 3), tight);
    expect(degrees(sinking)).toBeCloseTo(180, 9);
    const late = path(p(20, 20.5, 3), p(20, 19.5, 3), tight);
    const map = cut(whole(), 0, 20.5, 60, 40, [0, 0]);
    expect(degrees(late, map)).toBeLessThan(degrees(sinking));
  });
});

describe('what the map says', () => {
  it('counts above the tip, from both faces, by more than 0.002 mm', () => {
    const along = (z: number, face: Face = 'front') => path(p(20, 20, z), p(21, 20, z), { face });
    const lower = (top: number) => cut(whole(), 0, 0, 60, 40, [0, top]);
    expect(degrees(along(3), lower(3.003))).toBeCloseTo(180, 9);
    expect(degrees(along(3), lower(3.001))).toBe(0);
    expect(degrees(along(3), lower(2))).toBe(0);
    const raised = (bottom: number) => cut(whole(), 0, 0, 60, 40, [bottom, 6]);
    expect(degrees(along(3, 'back'), raised(2.997))).toBeCloseTo(180, 9);
    expect(degrees(along(3, 'back'), raised(2.999))).toBe(0);
    expect(degrees(along(3, 'back'), raised(4))).toBe(0);
    // A roof over a hollow, thicker and thinner than the cut.
    expect(degrees(along(3), raised(5.9))).toBeCloseTo(180, 9);
    expect(degrees(along(3), raised(5.9985))).toBe(0);
    expect(degrees(along(3, 'back'), lower(0.1))).toBeCloseTo(180, 9);
    expect(degrees(along(3), cut(whole(), 0, 0, 60, 40, [5, 5]))).toBe(0);
  });

  it('is asked of all four cells about a place; where they differ the record tells', () => {
    // The half before Y 20 is gone by the map, and by the record nothing is.
    const along = path(p(20, 20, 3), p(21, 20, 3));
    const half = cut(whole(), 0, 0, 60, 20, [0, 3]);
    // Between the middles of cells on both sides of Y 20 the record is asked, and says that it stands.
    const unsure = (Math.asin(0.25 / 3) * 180) / Math.PI;
    expect(Math.abs(degrees(along, half) - 90 - unsure)).toBeLessThan(0.6);
    const record = newRecord(bar);
    recordPath(record, path(p(-9, 17, 3), p(69, 17, 3)));
    expect(Math.abs(degrees(along, half, { record }) - 90)).toBeLessThan(0.6);
    const other = cut(whole(), 0, 20, 60, 40, [0, 3]);
    const above = newRecord(bar);
    recordPath(above, path(p(-9, 23, 3), p(69, 23, 3)));
    expect(Math.abs(degrees(along, other, { record: above }) - 90)).toBeLessThan(0.6);
    expect(Math.abs(degrees(along, other) - 90 - unsure)).toBeLessThan(0.6);
  });

  it('ends at the bar', () => {
    // Along the near side by 1 mm: arccos (1 − 1 / 3), and beyond the far side by as much.
    const side = (Math.acos(2 / 3) * 180) / Math.PI;
    expect(Math.abs(degrees(path(p(20, -2, 3), p(30, -2, 3))) - side)).toBeLessThan(0.6);
    expect(Math.abs(degrees(path(p(20, 42, 3), p(30, 42, 3))) - side)).toBeLessThan(0.6);
    expect(Math.abs(degrees(path(p(-2, 30, 3), p(-2, 20, 3))) - side)).toBeLessThan(0.6);
  });
});

describe('the floor of the way down', () => {
  const along = path(p(20, 20, 3), p(30, 20, 3));
  const floor = (height: number, x = 60) => cut(whole(), 0, 0, x, 40, [0, 3 + height]);
  /** The record knows of a floor where a cutter of 40 mm has been. */
  const record = (height: number) => {
    const made = newRecord(bar);
    recordPath(
      made,
      path(p(20, 20, 3 + height), p(30, 20, 3 + height), { cutter: { ...mill, diameter: 40 } }),
    );
    return made;
  };
  const down = path(p(20, 20, 6), p(30, 20, 4), {});
  it('is its own up to an eighth of the diameter, where the way down has been', () => {
    const of = (height: number, descent: readonly CutPath[]) =>
      degrees(along, floor(height), { record: record(height), descent });
    expect(of(0.7, [])).toBeCloseTo(180, 9);
    expect(of(0.7, [down])).toBeLessThan(120);
    expect(of(0.74, [down])).toBe(of(0.7, [down]));
    expect(of(0.76, [down])).toBeCloseTo(180, 9);
    // Only where it has been: it lies 0.011 beside, and 0.009.
    const beside = (y: number) => path(p(0, y, 6), p(50, y, 4), {});
    expect(of(0.7, [beside(26.02)])).toBeCloseTo(180, 9);
    expect(of(0.7, [beside(25.99)])).toBeLessThan(180);
    expect(of(0.7, [beside(20)])).toBe(0);
    expect(of(0.7, [beside(39), beside(20)])).toBe(0);
  });
});

describe('of a pass', () => {
  const watched = (...paths: readonly CutPath[]) => {
    const watch = watchEngagement(whole(), newRecord(bar));
    watch.begin(true, 60);
    for (const one of paths) watch.meet(one);
    const most = watch.most();
    return most && { ...most, most_deg: Math.round(most.most_deg), entry_deg: Math.round(most.entry_deg) };
  };
  it('the way down is told apart from the way along, the most of each', () => {
    const [ramp, flat] = [path(p(20, 20, 6), p(25, 20, 3)), path(p(25, 20, 3), p(30, 20, 3))];
    expect(watched(ramp)).toMatchObject({ most_deg: 0, entry_deg: 180, limit_deg: 60, line: 7 });
    expect(watched(ramp, flat)).toMatchObject({ most_deg: 180, entry_deg: 180, at_mm: [25.2, 20, 3] });
    expect(watched(flat)).toMatchObject({ most_deg: 180, entry_deg: 0 });
    // Of two alike the first is told.
    expect(watched(flat, path(p(30, 10, 3), p(35, 10, 3)))?.at_mm).toEqual([25.2, 20, 3]);
    const side = path(p(20, -2, 3), p(30, -2, 3));
    expect(watched(side, flat)?.most_deg).toBe(180);
    expect(watched(flat, side)).toMatchObject({ most_deg: 180, at_mm: [25.2, 20, 3] });
    expect(watched(path(p(20, 20, 9), p(20, 20, 3)))).toBeNull();
    expect(watched(path(p(20, 20, 3), p(30, 20, 3), { kind: 'rapid' }))).toBeNull();
  });

  it('turned over, the place has the height of the part', () => {
    expect(watched(path(p(20, 20, 3), p(30, 20, 2.9), { face: 'back' }))?.at_mm[2]).toBeCloseTo(2.998, 9);
    expect(watched(path(p(20, 20, 2), p(30, 20, 2), { face: 'back' }))?.at_mm).toEqual([20.2, 20, 2]);
  });

  it('begins anew, and is not followed where it is not asked for', () => {
    const watch = watchEngagement(whole(), newRecord(bar));
    watch.meet(path(p(20, 30, 3), p(25, 30, 3)));
    expect(watch.most()).toBeNull();
    watch.begin(false, null);
    watch.meet(path(p(20, 20, 6), p(25, 20, 3)));
    expect(watch.most()).toBeNull();
    watch.begin(true, null);
    watch.meet(path(p(25, 20, 3), p(20, 20, 1)));
    watch.meet(path(p(20, -2, 3), p(30, -2, 3)));
    expect(watch.most()).toMatchObject({ limit_deg: null, line: 7 });
    watch.begin(true, 9);
    expect(watch.most()).toBeNull();
    watch.meet(path(p(20, -2, 3), p(30, -2, 3)));
    expect(watch.most()).toMatchObject({ limit_deg: 9, entry_deg: 0 });
  });

  it('a way down ends where the cutter rises or goes in the air', () => {
    // By a ramp of 0.5 mm whose floor is its own to level; after a lift it is not.
    const map = cut(whole(), 0, 0, 60, 40, [0, 3.5]);
    const watched = (...between: readonly CutPath[]): number => {
      const record = newRecord(bar);
      recordPath(record, path(p(20, 20, 3.5), p(30, 20, 3.5), { cutter: { ...mill, diameter: 40 } }));
      const watch = watchEngagement(map, record);
      watch.begin(true, null);
      for (const one of [path(p(10, 20, 6), p(50, 20, 3.5)), ...between]) watch.meet(one);
      watch.meet(path(p(20, 20, 3), p(30, 20, 3)));
      return Math.round(watch.most()!.most_deg);
    };
    expect(watched()).toBe(0);
    expect(watched(path(p(50, 20, 3.5), p(50, 20, 9)))).toBe(180);
    expect(watched(path(p(50, 20, 3.5), p(20, 20, 3.5), { kind: 'rapid' }))).toBe(180);
    expect(watched(path(p(50, 20, 3.5), p(20, 20, 3.5)))).toBe(0);
  });
});
