import { describe, expect, test } from 'vitest';
import { distance, type Point, polar } from '../sketch/shape/point.ts';
import { type Arc, directionAlong, pointAlong, radiusOf, type Segment } from '../sketch/shape/segment.ts';
import { engagementAt, finishingAllowance, leadOf } from '../toolpath/passes/peel.ts';
import { type CornerTerms, peelCorners } from '../toolpath/passes/peel-corners.ts';

// The corners of a square root, peeled: what each round touches, where it begins, how deep it bites.

const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const FROM: Point = { x: 2, y: 1 };
/** 20 mm from there, in a direction of its own. */
const WAY = rad(30);
const TO = polar(FROM, 20, WAY);
const terms = (more: Partial<CornerTerms> = {}): CornerTerms => ({
  from: FROM,
  to: TO,
  width: 10,
  radius: 2,
  engagement: rad(70),
  direction: 'climb',
  corner: 2.4,
  beyond: 0.15,
  ...more,
});
const AT: Point = { x: 15, y: 9 };
const arcsOf = (segments: readonly Segment[]): Arc[] =>
  segments.flatMap((s) => (s.kind === 'arc' ? [s] : []));
/** How far a place is ahead of the last loop's middle, and to the left of it. */
const inSlot = (p: Point): { readonly ahead: number; readonly left: number } => {
  const [x, y] = [p.x - TO.x, p.y - TO.y];
  return { ahead: x * Math.cos(WAY) + y * Math.sin(WAY), left: y * Math.cos(WAY) - x * Math.sin(WAY) };
};
const END = 5 + 0.15;

/** The rim that meets what the round before left, counted place by place on the half that goes ahead. */
const counted = (round: Arc, t: number, before: { middle: Point; reach: number }, radius: number): number => {
  const [at, way] = [pointAlong(round, t), directionAlong(round, t)];
  const COUNT = 2000;
  let inside = 0;
  for (let k = 0; k < COUNT; k++) {
    const turn = -Math.PI / 2 + (Math.PI * (k + 0.5)) / COUNT;
    const u = {
      x: way.x * Math.cos(turn) - way.y * Math.sin(turn),
      y: way.y * Math.cos(turn) + way.x * Math.sin(turn),
    };
    if (distance({ x: at.x + radius * u.x, y: at.y + radius * u.y }, before.middle) > before.reach) inside++;
  }
  return (Math.PI * inside) / COUNT;
};

describe.each(['climb', 'conventional'] as const)('the corners of a square root, %s', (direction) => {
  const own = terms({ direction });
  const segments = peelCorners(own, AT)!;
  const arcs = arcsOf(segments);
  const half = arcs.length / 2;
  const sense = direction === 'climb' ? 1 : -1;

  test('are one chain of rounds and ways, first the corner that the loops end at, then the other in a mirror', () => {
    expect(segments[0]!.from).toEqual(AT);
    segments.forEach((s, k) => {
      expect(s.kind).toBe(k % 2 === 0 ? 'line' : 'arc');
      if (k > 0) expect(distance(segments[k - 1]!.to, s.from)).toBeLessThan(1e-9);
    });
    expect(half).toBeGreaterThan(1);
    expect(Number.isInteger(half)).toBe(true);
    arcs.forEach((a, k) => {
      const { ahead, left } = inSlot(a.centre);
      const side = k < half ? sense : -sense;
      const reach = radiusOf(a) + own.radius;
      expect(ahead + reach).toBeCloseTo(END, 9);
      expect(side * left + reach).toBeCloseTo(END, 9);
      expect(Math.sign(a.sweep)).toBe(sense);
      expect(reach).toBeCloseTo(radiusOf(arcs[(k + half) % arcs.length]!) + own.radius, 9);
    });
  });

  test('end at the radius asked for, each within the limit and all but the last at it', () => {
    expect(radiusOf(arcs[half - 1]!) + own.radius).toBeCloseTo(own.corner, 9);
    for (const side of [0, 1]) {
      let before = { middle: polar(TO, 0, 0), reach: own.width / 2 };
      for (const [k, round] of arcs.slice(side * half, (side + 1) * half).entries()) {
        let most = 0;
        for (let i = 0; i <= 60; i++) most = Math.max(most, counted(round, i / 60, before, own.radius));
        // A conventional cut goes in where the climbing one comes out: the same angles from the other end.
        expect(most).toBeLessThan(own.engagement + 0.02);
        if (k < half - 1) expect(most).toBeGreaterThan(own.engagement - 0.02);
        before = { middle: round.centre, reach: radiusOf(round) + own.radius };
      }
    }
  });

  test('begin and end just inside of the round before', () => {
    let before = { middle: TO, reach: own.width / 2 };
    for (const round of arcs.slice(0, half)) {
      for (const end of [round.from, round.to]) {
        expect(distance(end, before.middle)).toBeCloseTo(before.reach - own.radius, 6);
      }
      expect(Math.abs(round.sweep)).toBeGreaterThan(Math.PI / 2);
      expect(Math.abs(round.sweep)).toBeLessThan(Math.PI / 2 + 2 * rad(135));
      // The quarter that lies in the corner is all on it.
      const middle = inSlot(pointAlong(round, 0.5));
      const centre = inSlot(round.centre);
      expect(middle.ahead - centre.ahead).toBeCloseTo(radiusOf(round) * Math.SQRT1_2, 9);
      expect(Math.abs(middle.left) - Math.abs(centre.left)).toBeCloseTo(radiusOf(round) * Math.SQRT1_2, 9);
      before = { middle: round.centre, reach: radiusOf(round) + own.radius };
    }
  });
});

test('a sharp corner ends with the cutter all but in it', () => {
  const arcs = arcsOf(peelCorners(terms({ corner: 0 }), AT)!);
  expect(radiusOf(arcs.at(-1)!)).toBeCloseTo(0.008, 9);
});

test('corners no sharper than the loops are none, a wider angle takes fewer rounds, and too small a one is refused', () => {
  expect(peelCorners(terms({ corner: 5 }), AT)).toEqual([]);
  const rounds = (degrees: number): number =>
    arcsOf(peelCorners(terms({ engagement: rad(degrees) }), AT)!).length;
  expect(rounds(50)).toBeGreaterThan(rounds(70));
  expect(rounds(70)).toBeGreaterThan(rounds(100));
  expect(peelCorners(terms({ engagement: rad(3) }), AT)).toBeNull();
});

describe('one place of a round', () => {
  test('is in the material from where it points outward to where it meets the older round', () => {
    // The older round is as large, its middle 1 mm back on the way: at the front the cutter is as deep as that.
    const [orbit, radius] = [4, 3];
    for (let k = -8; k <= 8; k++) {
      const angle = (k * Math.PI) / 20;
      const at = polar({ x: 0, y: 0 }, orbit, angle);
      const round: Arc = {
        kind: 'arc',
        from: at,
        to: polar({ x: 0, y: 0 }, orbit, angle + 1),
        centre: { x: 0, y: 0 },
        sweep: 1,
      };
      const before = { middle: { x: -1, y: 0 }, reach: orbit + radius };
      const found = engagementAt({ x: 0, y: 0 }, before.middle, at, radius);
      expect(Math.abs(found - counted(round, 0, before, radius))).toBeLessThan(0.005);
    }
  });

  test('is free inside the older round, and begins as far round as the step asks', () => {
    expect(engagementAt({ x: 0, y: 0 }, { x: -1, y: 0 }, { x: -4, y: 0 }, 3)).toBe(0);
    expect(engagementAt({ x: 0, y: 0 }, { x: 0, y: 0 }, { x: 4, y: 0 }, 3, 7)).toBe(0);
    // The places where two rounds of one size cross lie over the middle between theirs.
    expect(4 * Math.sin(leadOf(4, 1))).toBeCloseTo(0.5, 12);
    expect(leadOf(1, 5)).toBeCloseTo(Math.PI / 2, 12);
  });
});

test('what a finishing lap may find: along a straight wall r (1 − cos φ), in a sharp corner as much, in a round less', () => {
  expect(finishingAllowance(rad(60), 3, Number.POSITIVE_INFINITY)).toBeCloseTo(1.5, 12);
  // In a wide round the wall is nearly straight.
  expect(finishingAllowance(rad(60), 3, 1e6)).toBeCloseTo(1.5, 5);
  expect(finishingAllowance(rad(60), 3, 0)).toBeCloseTo(0, 12);
  // The rim meets the older round, smaller by that much, at just the angle.
  const [orbit, angle] = [4, rad(70)];
  const left = finishingAllowance(angle, 3, orbit);
  expect(Math.hypot(orbit + 3 * Math.cos(angle), 3 * Math.sin(angle))).toBeCloseTo(orbit + 3 - left, 12);
});
