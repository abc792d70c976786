import { describe, expect, test } from 'vitest';
import { offset } from '../sketch/shape/offset.ts';
import { type Point, polar } from '../sketch/shape/point.ts';
import { disc, NOTHING, type Path, pathLength, rectangle } from '../sketch/shape/region.ts';
import { type Arc, arc, line, pointAlong, radiusOf, segmentLength } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { holeIn } from '../toolpath/passes/front-hole.ts';
import { unkeptWords } from '../toolpath/passes/front-level.ts';
import { orderCuts } from '../toolpath/passes/front-order.ts';
import type { Cut } from '../toolpath/passes/fronts.ts';
import { engagementAt, peelLoops } from '../toolpath/passes/peel.ts';
import { type CornerTerms, peelCorners } from '../toolpath/passes/peel-corners.ts';
import { withinOpening } from '../toolpath/passes/peel-level.ts';
import { takePen } from '../toolpath/passes/pen.ts';
import { buriedAlong } from '../toolpath/passes/rim.ts';
import { chipFactor, evenly, followFed, loopsFed } from '../toolpath/passes/tooth-load.ts';
import { clearingOf } from './passes-samples.ts';

const degrees = (d: number): number => (d * Math.PI) / 180;
const straight = (x0: number, x1: number, y = 0): Path => ({ segments: [line({ x: x0, y }, { x: x1, y })] });
const block = rectangle({ x: -50, y: -50 }, { x: 50, y: 50 });

describe('how far the rim is buried', () => {
  const radius = 4;
  const along = (path: Path, swept = NOTHING, enough?: number) =>
    buriedAlong(path, { standing: block, swept, radius }, enough);

  test.each([0.4, 1, 2, 4, 6, 7.5])('along a straight edge by %s mm of 8: acos(1 − a / r)', (depth) => {
    // On either side of the block, and either way: the rim that goes ahead, from the outermost place inward.
    const y = 50 + radius - depth;
    for (const path of [straight(-20, 20, y), straight(20, -20, y), straight(-20, 20, -y)])
      expect(along(path)[0]).toBeCloseTo(Math.acos(1 - depth / radius), 1);
  });

  test('in a full slot by half a turn, in the open not at all', () => {
    expect(along(straight(-20, 20))[0]).toBeCloseTo(Math.PI, 1);
    expect(along(straight(-20, 20, 50 + radius + 0.05))).toEqual([0]);
    expect(along(straight(-20, 20, 80))).toEqual([0]);
  });

  test('beside what was swept before only by what that left: a step a buries it by acos(1 − a / r)', () => {
    const swept = rectangle({ x: -60, y: -10 }, { x: 60, y: 0 });
    for (const step of [0.5, 1, 3])
      expect(along(straight(-20, 20, step), swept)[0]).toBeCloseTo(Math.acos(1 - step / radius), 1);
  });

  test('not by what the way itself cut just before, its last six segments and no more', () => {
    // Forth and back over the same place: coming back nothing is left.
    const [there, back] = [line({ x: -10, y: 0 }, { x: 10, y: 0 }), line({ x: 10, y: 0 }, { x: -6, y: 0 })];
    const [first, second] = along({ segments: [there, back] });
    expect(first).toBeCloseTo(Math.PI, 1);
    expect(second).toBe(0);
    // With six short pieces in the open between them it is forgotten.
    const away = Array.from({ length: 7 }, (_, i) => line({ x: 10 + i, y: 90 }, { x: 11 + i, y: 90 }));
    const counted = (between: number): number =>
      along({ segments: [there, ...away.slice(0, between), back] }).at(-1)!;
    expect(counted(5)).toBe(0);
    expect(counted(6)).toBeGreaterThan(3);
  });

  test('is told segment by segment, and no farther than it is enough', () => {
    const path = { segments: [10, 30, 50, 70].map((x) => line({ x, y: 52 }, { x: x + 20, y: 52 })) };
    const all = along(path);
    expect(all).toHaveLength(4);
    expect(all[0]).toBeCloseTo(Math.acos(1 - 2 / radius), 1);
    expect(all[3]).toBe(0);
    const slot = {
      segments: [line({ x: -80, y: 0 }, { x: -60, y: 0 }), ...straight(-40, 40).segments, ...path.segments],
    };
    expect(along(slot, NOTHING, 1)).toHaveLength(2);
    expect(along(slot, NOTHING, 4)).toHaveLength(6);
  });

  test('on an arc round a peg by what the circles leave: by the triangle of their middles', () => {
    // The middle goes round a disc of radius 10 on an orbit of 10 + 4 − a.
    const peg = disc({ x: 0, y: 0 }, 10);
    const orbit = 10 + radius - 1;
    const round = { segments: [arc({ x: orbit, y: 0 }, { x: -orbit, y: 0 }, { x: 0, y: 0 }, true)] };
    const [buried] = buriedAlong(round, { standing: peg, swept: NOTHING, radius });
    const within = Math.acos((orbit ** 2 + radius ** 2 - 100) / (2 * orbit * radius));
    expect(buried).toBeCloseTo(within, 1);
  });
});

describe('the feed that holds the tooth load', () => {
  test('rises as the chip thins, by 1 / sin φ, up to twice and to the machine', () => {
    expect(chipFactor(degrees(45))).toBeCloseTo(Math.SQRT2, 12);
    expect(chipFactor(degrees(30))).toBeCloseTo(2, 9);
    expect(chipFactor(degrees(12))).toBe(2);
    expect(chipFactor(degrees(130))).toBe(1);
    const feeds = (most: number | undefined) => {
      const pen = takePen(5);
      pen.feedTo({ x: 0, y: 0, z: 0 }, 1);
      const fed = [45, 90, 20].map((d, i) => ({
        segment: line({ x: i, y: 0 }, { x: i + 1, y: 0 }),
        buried: degrees(d),
      }));
      followFed(pen, fed, { feed: 200, plungeFeed: 50, ramp: 0.05, ...(most !== undefined && { most }) });
      return pen
        .moves()
        .slice(1)
        .map((m) => (m.kind === 'feed' ? m.feed : 0));
    };
    expect(feeds(1000)).toEqual([283, 200, 400]);
    expect(feeds(250)).toEqual([250, 200, 250]);
    expect(feeds(undefined)).toEqual([200, 200, 200]);
    expect(feeds(150)).toEqual([200, 200, 200]);
  });

  test('is that of nothing on ways back, of the limit on arcs, and unchanged on what is under a millimetre', () => {
    const o = { x: 0, y: 0 };
    const at = (r: number) => arc({ x: r, y: 0 }, { x: -r, y: 0 }, o, true);
    const fed = evenly([line(o, { x: 1.1, y: 0 }), line(o, { x: 0.9, y: 0 }), at(0.34), at(0.3)], 1.2);
    expect(fed.map((f) => f.buried)).toEqual([0, Math.PI / 2, 1.2, Math.PI / 2]);
  });

  test.each([
    ['climb', 2, 9, 80],
    ['conventional', 2, 9, 80],
    ['climb', 3, 8.5, 60],
    ['conventional', 3, 8.5, 110],
  ] as const)(
    '%s loops of radius %s in %s mm at %i° are told no less than they are buried',
    (direction, radius, width, limit) => {
      const terms = {
        from: { x: 0, y: 0 },
        to: { x: 12, y: 5 },
        width,
        radius,
        engagement: degrees(limit),
        direction,
      };
      const loops = peelLoops(terms)!;
      const fed = loopsFed(loops, radius, terms.engagement);
      expect(fed.reduce((sum, f) => sum + segmentLength(f.segment), 0)).toBeCloseTo(
        loops.reduce((sum, s) => sum + segmentLength(s), 0),
        6,
      );
      let swept = thicken({ segments: [loops[0]!] }, 1e-3);
      let heavy = 0;
      const arcs = fed.filter((f): f is { segment: Arc; buried: number } => f.segment.kind === 'arc');
      expect(arcs[0]!.buried).toBe(terms.engagement);
      // What is gone before a loop: the whole round that the one before it cleared.
      let [own, before]: [Point | null, Point | null] = [null, null];
      for (const { segment, buried } of arcs) {
        if (own === null || Math.hypot(own.x - segment.centre.x, own.y - segment.centre.y) > 1e-6)
          [before, own] = [own, segment.centre];
        if (before === null) continue;
        swept = disc(before, radiusOf(segment));
        const [found] = buriedAlong({ segments: [segment] }, { standing: offset(block, 50), swept, radius });
        expect(found!).toBeLessThan(buried + 0.09);
        if (buried > degrees(31)) heavy++;
      }
      expect(heavy).toBeGreaterThan(3);
    },
  );
});

describe('the corners of a square root', () => {
  const terms = (limit: number): CornerTerms => ({
    from: { x: 0, y: 0 },
    to: { x: 20, y: 0 },
    width: 10,
    radius: 2,
    engagement: degrees(limit),
    direction: 'climb',
    corner: 2.5,
    beyond: 0.1,
  });
  /** What each round of the first corner clears, mm from its middle. */
  const reaches = (limit: number): readonly number[] | null =>
    peelCorners(terms(limit), { x: 20, y: 5 })?.flatMap((s) => (s.kind === 'arc' ? [radiusOf(s) + 2] : [])) ??
    null;

  test('are cut by rounds that shrink to the corner’s own, the same in both', () => {
    const all = reaches(60)!;
    expect(all.length % 2).toBe(0);
    const half = all.slice(0, all.length / 2);
    expect(all.slice(all.length / 2)).toEqual(half.map((r) => expect.closeTo(r, 9)));
    expect(half.at(-1)).toBeCloseTo(2.5, 6);
    for (const [i, r] of half.slice(1).entries()) expect(r).toBeLessThan(half[i]!);
  });

  test.each([45, 60, 90])('are never buried deeper than %i°, and all but the last as deep', (limit) => {
    const half = reaches(limit)!.slice(0, reaches(limit)!.length / 2);
    const middle = (reach: number): Point => ({ x: -reach, y: -reach });
    let before = { reach: 5, at: { x: -5.1, y: -5.1 } };
    const depths = half.map((reach) => {
      let most = 0;
      for (let k = 0; k <= 720; k++) {
        const at = polar(middle(reach), reach - 2, -Math.PI / 2 + (k * Math.PI * 1.5) / 720);
        const d = Math.hypot(at.x - before.at.x, at.y - before.at.y);
        if (d + 2 <= before.reach || at.x > -2 + 1e-9 || at.y > -2 + 1e-9) continue;
        most = Math.max(most, engagementAt(middle(reach), before.at, at, 2, before.reach));
      }
      before = { reach, at: middle(reach) };
      return most;
    });
    for (const depth of depths) expect(depth).toBeLessThan(degrees(limit + 1));
    for (const depth of depths.slice(0, -1)) expect(depth).toBeGreaterThan(degrees(limit - 3));
  });

  test('are refused where a round would be less than a hundredth smaller than the one before', () => {
    let [low, high] = [1, 60];
    for (let k = 0; k < 30; k++) {
      const middle = (low + high) / 2;
      if (reaches(middle) === null) low = middle;
      else high = middle;
    }
    const half = reaches(high)!;
    const rounds = [5, ...half.slice(0, half.length / 2)];
    const shares = rounds.slice(1, -1).map((r, i) => (rounds[i]! - r) / (rounds[i]! - 2));
    expect(Math.min(...shares)).toBeGreaterThan(0.0099);
    expect(Math.min(...shares)).toBeLessThan(0.0104);
  });
});

describe('cuts one after another', () => {
  const cut = (front: number, x0: number, x1: number, y = 0, before = block): Cut => ({
    path: straight(x0, x1, y),
    front,
    buried: [1],
    before,
  });
  const order = (cuts: readonly Cut[], start: Point | null = { x: 0, y: 0 }) =>
    orderCuts(cuts, 2, start).map((o) => cuts.indexOf(o.cut));

  test('the nearest to where the cutter is, from the end of one to the beginning of the next', () => {
    expect(order([cut(0, 30, 20), cut(0, 5, 12), cut(0, 13, 40)])).toEqual([1, 2, 0]);
    expect(order([cut(0, 30, 20), cut(0, 5, 12), cut(0, 13, 40)], { x: 29, y: 0 })).toEqual([0, 2, 1]);
    // From nowhere the first front comes first.
    expect(order([cut(3, 0, 5), cut(1, 60, 65), cut(2, 30, 35)], null)[0]).toBe(1);
  });

  test('none before an earlier front that its rim could meet, however near it is', () => {
    // 3.9 mm apart with a cutter of 2 mm radius they touch; 4.1 mm apart they do not.
    expect(order([cut(1, 0, 5), cut(0, 40, 8.9)])).toEqual([1, 0]);
    expect(order([cut(1, 0, 5), cut(0, 40, 9.1)])).toEqual([0, 1]);
    expect(order([cut(1, 0, 5, 0), cut(0, 5, 0, 3.9)])).toEqual([1, 0]);
    expect(order([cut(1, 0, 5, 0), cut(0, 5, 0, 4.1)])).toEqual([0, 1]);
  });

  test('straight over what is cleared, and lifted where something stands or is still to be cut beside the way', () => {
    const stay = (cuts: readonly Cut[]) => orderCuts(cuts, 2, { x: 0, y: 0 }).map((o) => o.stay);
    const half = rectangle({ x: -50, y: -50 }, { x: 20, y: 50 });
    expect(stay([cut(0, 5, 10), cut(0, 15, 18)])).toEqual([true, true]);
    expect(stay([cut(0, 5, 10), cut(0, 25, 30, 0, half)])).toEqual([true, false]);
    expect(stay([cut(0, 5, 10), cut(0, 20.005, 30, 0, half)])).toEqual([true, true]);
    expect(stay([cut(0, 5, 10), cut(0, 20.05, 30, 0, half)])).toEqual([true, false]);
    // An earlier front far off is still to be cut; beside the way it keeps the cutter from staying down.
    expect(stay([cut(1, 0, 5), cut(0, 40, 12)])).toEqual([true, true]);
    expect(orderCuts([cut(0, 5, 10)], 2, null)[0]!.stay).toBe(false);
  });
});

describe('a hole to begin by', () => {
  test('is in the roomiest place, within a hundredth, and no larger than three fifths of the cutter', () => {
    const room = rectangle({ x: 0, y: 0 }, { x: 30, y: 7 });
    const found = holeIn(room, room, 2)!;
    expect(found.at.y).toBeCloseTo(3.5, 1);
    expect(found.radius).toBeCloseTo(1.2, 9);
    const inner = rectangle({ x: 5, y: 0 }, { x: 25, y: 7 });
    const narrow = holeIn(rectangle({ x: 0, y: 0 }, { x: 30, y: 1.6 }), inner, 2)!;
    expect(narrow.at.y).toBeCloseTo(0.8, 1);
    expect(narrow.radius).toBeCloseTo(0.98 * 0.8, 1);
  });

  test('is none where there is less than a tenth of the cutter’s radius, or nothing left', () => {
    const strip = (width: number) => rectangle({ x: 0, y: 0 }, { x: 30, y: width });
    expect(holeIn(strip(0.38), strip(0.38), 2)).toBeNull();
    expect(holeIn(strip(0.46), strip(0.46), 2)).not.toBeNull();
    expect(holeIn(NOTHING, strip(5), 2)).toBeNull();
    expect(holeIn(strip(5), NOTHING, 2)).toBeNull();
  });

  test('is near what is left, though there be more room elsewhere', () => {
    const room = rectangle({ x: 0, y: 0 }, { x: 60, y: 20 });
    const { at } = holeIn(room, rectangle({ x: 2, y: 2 }, { x: 8, y: 8 }), 2)!;
    expect(at.x).toBeLessThan(10.1);
    expect(at.y).toBeLessThan(10.1);
  });
});

describe('an opening that is peeled', () => {
  const terms = { radius: 2, stepover: 1, allowance: 0, direction: 'climb' } as const;
  const area = rectangle({ x: 0, y: 0 }, { x: 20, y: 6 });
  const base = clearingOf({ target: area, keep: block, plate: block }, terms, { area });
  const peel = {
    kind: 'peel' as const,
    from: { x: 3, y: 3 },
    to: { x: 17, y: 3 },
    width: 6,
    open: false,
    engagement: degrees(60),
    root: { kind: 'round' as const },
  };

  test('has laps along its walls only within it; others are left as they are', () => {
    const laps = [{ path: straight(-10, 30, 2), closed: false, ring: 0 }];
    expect(withinOpening(laps, base, 0)).toBe(laps);
    const [lap, ...more] = withinOpening(laps, { ...base, pattern: peel }, 0);
    expect(more).toEqual([]);
    expect(pathLength(lap!.path)).toBeCloseTo(16, 1);
  });

  test('says so where it could not be peeled, by its limit', () => {
    const memory = { known: [], unpeeled: true };
    expect(unkeptWords(memory, { ...base, pattern: peel })?.why).toMatch(
      /^the 4 mm endmill .* 60° .* by laps/,
    );
    expect(unkeptWords({ ...memory, unpeeled: false }, { ...base, pattern: peel })).toBeNull();
    expect(unkeptWords(memory, base)).toBeNull();
  });

  test('comes about the middle of its own loops', () => {
    const loops = peelLoops({ ...peel, radius: 2, direction: 'climb' })!;
    const arcs = loops.filter((s): s is Arc => s.kind === 'arc');
    expect(arcs[0]!.centre).toEqual({ x: 3, y: 3 });
    expect(arcs.at(-1)!.centre.x).toBeCloseTo(17, 9);
    for (const a of arcs)
      expect(Math.hypot(pointAlong(a, 0.5).x - a.centre.x, pointAlong(a, 0.5).y - 3)).toBeCloseTo(1, 9);
  });
});
