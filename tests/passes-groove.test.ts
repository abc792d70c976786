import { describe, expect, it } from 'vitest';
import { union } from '../sketch/shape/boolean.ts';
import { NOTHING, type Region, rectangle } from '../sketch/shape/region.ts';
import { leadRound } from '../toolpath/passes/front-lead.ts';
import { roundsFor } from '../toolpath/passes/fronts.ts';
import { peelGroove } from '../toolpath/passes/groove.ts';

// A way into a round, and a groove peeled about its middle: places, steps and ends worked by hand.

const at = (x: number, y: number) => ({ x, y });

describe('a way into a round', () => {
  const round = { segments: rectangle(at(0, 0), at(40, 20)).contours[0]!.segments };
  const swept = (by: number) => rectangle(at(by, by), at(40 - by, 20 - by));

  it('comes nearer and nearer along its longest side, by a share of the limit or 0.07, and then goes once about', () => {
    for (const [engagement, by, length] of [
      [0.5, 1, 1 / Math.tan(0.04)],
      [1.5, 1, 1 / Math.tan(0.07)],
      [1.5, 0.1, 0.1 / Math.tan(0.07)],
      [0.1, 1, 0.9 * 120],
    ] as const) {
      const { segments } = leadRound(round, swept(by), engagement);
      const count = Math.max(8, Math.ceil(length / 0.4));
      const lead = segments.slice(0, count);
      expect(lead[0]!.from).toEqual(at(by, by));
      const gone = lead.at(-1)!.to;
      if (length < 40) {
        expect(gone.x).toBeCloseTo(length, 6);
        expect(gone.y).toBeCloseTo(0, 9);
        for (const [i, s] of lead.entries()) expect(s.to.y).toBeCloseTo(by * (1 - (i + 1) / count), 6);
      }
      const rest = segments.slice(count);
      expect(rest.reduce((sum, s) => sum + Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y), 0)).toBeCloseTo(
        120,
        6,
      );
      expect(Math.hypot(rest[0]!.from.x - gone.x, rest[0]!.from.y - gone.y)).toBeLessThan(1e-9);
    }
    // Turned, so that its second side is the longest.
    const tall = { segments: rectangle(at(0, 0), at(20, 40)).contours[0]!.segments };
    expect(leadRound(tall, rectangle(at(1, 1), at(19, 39)), 0.5).segments[0]!.from).toEqual(at(19, 1));
  });

  it('has corners rounded by twice the radius and then by seven tenths each, to 0.03 mm', () => {
    const rounds = roundsFor(3);
    expect(rounds).toHaveLength(16);
    expect(rounds.slice(0, 3)).toEqual([6, 4.2, 2.94].map((r) => expect.closeTo(r, 9)));
    expect(rounds.at(-1)).toBe(0.03);
  });
});

describe('a groove', () => {
  const walls = rectangle(at(0, 0), at(20, 10));
  const terms = { radius: 2, orbit: 1, engagement: 1.2, direction: 'climb' } as const;
  const about = rectangle(at(-20, -20), at(40, 30));

  it('is peeled about its middle, from its hole once round the part, in even steps', () => {
    for (const direction of ['climb', 'conventional'] as const) {
      const [run, ...more] = peelGroove(walls, 2.2, about, NOTHING, { ...terms, direction }, 0.8)!;
      expect(more).toEqual([]);
      const rounds = run!.loops.flatMap((s) => (s.kind === 'arc' ? [s] : []));
      expect(run!.loops.length).toBe(2 * rounds.length - 1);
      for (const r of rounds) {
        expect(Math.sign(r.sweep)).toBe(direction === 'climb' ? 1 : -1);
        const { x, y } = r.centre;
        const away = Math.hypot(Math.max(0, -x, x - 20), Math.max(0, -y, y - 10));
        expect(away).toBeCloseTo(3.2, 1);
      }
      const gaps = rounds
        .slice(1)
        .map((r, k) => Math.hypot(r.centre.x - rounds[k]!.centre.x, r.centre.y - rounds[k]!.centre.y));
      const step = Math.max(...gaps);
      expect(Math.min(...gaps.slice(0, -1))).toBeGreaterThan(0.9 * step);
      expect(gaps.reduce((a, b) => a + b, 0)).toBeCloseTo(60 + 2 * Math.PI * 3.2, 0);
      expect(run!.opening.at(-1)!.to.x).toBeCloseTo(run!.loops[0]!.from.x, 1);
      expect(run!.at).toEqual(rounds[0]!.centre);
    }
  });

  it('is so many stretches as what bars its way leaves, and none where the limit cannot be kept', () => {
    const barred = rectangle(at(8, -9), at(12, 0));
    // One bar across it leaves one stretch, that begins and ends a loop's reach beside it; two leave two.
    const ends = (...bars: Region[]) =>
      peelGroove(walls, 2.2, about, union(bars), terms, 0.8)!.map(({ middle: { segments } }) =>
        [segments[0]!.from, segments.at(-1)!.to].flatMap((p) =>
          [p.x, p.y].map((v) => Math.round(v * 100) / 100),
        ),
      );
    expect(ends(barred)).toEqual([[13, -3.2, 7, -3.2]]);
    expect(ends(barred, rectangle(at(4, 10), at(9, 19)))).toEqual([
      [13, -3.2, 10, 13.2],
      [3, 13.2, 7, -3.2],
    ]);
    expect(peelGroove(walls, 2.2, about, NOTHING, { ...terms, engagement: 0.05 }, 0.8)).toBeNull();
    expect(peelGroove(walls, 2.2, rectangle(at(100, 100), at(110, 110)), NOTHING, terms, 0.8)).toEqual([]);
  });
});
