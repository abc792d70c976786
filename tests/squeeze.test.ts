import { describe, expect, test } from 'vitest';
import { barMap, type HeightMap } from '../toolpath/removal/height-map.ts';
import { closeJaws } from '../toolpath/survival/grip.ts';
import { ELASTIC } from '../toolpath/survival/materials.ts';
import { squeeze } from '../toolpath/survival/squeeze.ts';
import { squeezeFindings } from '../toolpath/survival/squeeze-route.ts';

const bar = {
  length: 40,
  width: 12,
  thickness: 8,
  material: 'low-carbon steel',
  corner: { x: 0, y: -6 },
  sawn: 0,
} as const;
const steel = ELASTIC['low-carbon steel'];
const setupOf = (grip: number) => ({
  number: 1,
  frame: { face: 'front', zero: { x: 0, y: -6, z: 8 } } as const,
  hold: { kind: 'vice', jaws: { from: -5, to: 45 }, grip, parallels: null, gripped: 'the sides' } as const,
});

const squeezed = (map: HeightMap, grip: number, clamp: number) => {
  const setup = setupOf(grip);
  const gap = { name: 'fork', near: { x: 0.5, y: -3 }, far: { x: 0.5, y: 3 }, z: 6 };
  return squeeze(map, setup, closeJaws(map, setup)!, steel, clamp, [gap], 1)!;
};

/** A slot 5 mm wide and 15 mm long from the left end, down to a web. */
const forked = (web: number): HeightMap => {
  const map = barMap(bar, 0.25);
  for (let r = 0; r < map.rows; r++) {
    for (let c = 0; c < map.columns; c++) {
      const [x, y] = [map.x0 + (c + 0.5) * map.cell, map.y0 + (r + 0.5) * map.cell];
      if (x < 15 && Math.abs(y) < 2.5) map.top[r * map.columns + c] = web;
    }
  }
  return map;
};

describe('What the jaws do to what they hold', () => {
  test('a solid bar gripped over its whole height gets narrower by F w / (E A) and a little less, and grows by Poisson’s share', () => {
    const { shortens, bow } = squeezed(barMap(bar, 0.25), 8, 8000);
    // Hooke: 8000 N over 40 × 8 mm². The fixed jaw keeps the face from spreading, which makes it a little stiffer.
    const free = (8000 * 12) / (steel.young * 40 * 8);
    expect(shortens / free).toBeGreaterThan(0.9);
    expect(shortens / free).toBeLessThan(1.01);
    // Poisson: it grows in height by ν σ h / E, all of it upward or half to each side.
    const grows = (steel.poisson * 8000 * 8) / (40 * 8) / steel.young;
    expect(bow).toBeGreaterThan(0.4 * grows);
    expect(bow).toBeLessThan(1.5 * grows);
  });

  test('twice the clamping force distorts twice as much', () => {
    const [one, two] = [4000, 8000].map((clamp) => squeezed(forked(0), 3, clamp));
    expect(two!.gaps[0]!.closes / one!.gaps[0]!.closes).toBeCloseTo(2, 3);
  });

  test('a fork is closed by the jaws, and a web left under it holds the tines apart', () => {
    const [open, thin, thick] = [0, 0.5, 1.5].map((web) => squeezed(forked(web), 3, 8000).gaps[0]!.closes);
    expect(open).toBeGreaterThan(0.004);
    expect(thin!).toBeLessThan(0.7 * open!);
    expect(thick!).toBeLessThan(thin!);
  });

  test('nothing in the jaws is nothing', () => {
    const map = barMap(bar, 0.25);
    const setup = setupOf(3);
    const jaws = closeJaws(map, setup)!;
    const away = { ...setup, hold: { ...setup.hold, jaws: { from: 100, to: 120 } } };
    expect(squeeze(map, away, jaws, steel, 8000)).toBeNull();
  });

  test('is said where a fork is cut while they hold it closed, with the clamp that would do', () => {
    const found = { bow: 0.001, gaps: [{ name: 'fork', closes: 0.08 }], shortens: 0.03 };
    const at = (setup: number, work: 'cut' | 'released', closes: number) => ({
      ...{ setup, work, closes },
      step: work === 'cut' ? 'fork' : 'release fork',
      fork: 'fork',
    });
    const squeezes = (...forks: readonly ReturnType<typeof at>[]) => [
      { setup: 1, before: null, after: found, forks: forks.filter((f) => f.setup === 1) },
      {
        ...{ setup: 2, before: { ...found, bow: 0.05 }, after: found },
        forks: forks.filter((f) => f.setup === 2),
      },
    ];
    const firm = new Map([[2, 40]]);
    const codes = (...forks: readonly ReturnType<typeof at>[]) =>
      squeezeFindings(squeezes(...forks), 0.02, firm).map((f) => `${f.setup} ${f.code}`);
    // By the moment at which it is cut, and not by what the setup leaves in the end.
    expect(codes(at(1, 'cut', 0.004))).toEqual(['2 jaws-bow-work']);
    expect(codes(at(2, 'cut', 0.08))).toEqual(['2 jaws-close-fork', '2 jaws-bow-work']);
    // Cut and released in one setup, it is said once, by what is worse.
    expect(codes(at(2, 'cut', 0.03), at(2, 'released', 0.08))).toEqual([
      '2 jaws-close-fork',
      '2 jaws-bow-work',
    ]);
    const cut = squeezes(at(2, 'cut', 0.08));
    const [said] = squeezeFindings(cut, 0.02, firm, 8000);
    expect(said!.message).toContain('no more than about 2000 N');
    // At a quarter of the clamp a hold of 4.9 is less than 2: nobody is told to slacken the vice then.
    for (const hold of [new Map([[2, 4.9]]), new Map<number, number>()]) {
      for (const { message } of squeezeFindings(cut, 0.02, hold, 8000)) {
        expect(message).not.toMatch(/no more than/);
        expect(message).toContain('would not hold');
      }
    }
    // Nor is a vice of no force a vice, even where nothing pulls.
    const idle = new Map([[2, Number.POSITIVE_INFINITY]]);
    const soft = { bow: 7, gaps: [{ name: 'fork', closes: 7 }], shortens: 1 };
    const collapsed = [{ setup: 2, before: null, after: soft, forks: [at(2, 'cut', 7)] }];
    for (const f of squeezeFindings(collapsed, 0.02, idle, 8000)) expect(f.message).not.toMatch(/about 0 N/);
    // A web that is released while the jaws hold the fork closed is as bad.
    const later = squeezeFindings(squeezes(at(1, 'cut', 0.004), at(2, 'released', 0.08)), 0.02, firm);
    expect(later[0]!.message).toContain('while its web is released');
  });
});
