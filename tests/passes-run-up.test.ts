import { describe, expect, test } from 'vitest';
import { planPart } from '../gcode/chain.ts';
import { difference, intersection } from '../sketch/shape/boolean.ts';
import { pathLength, rectangle, regionArea, signedDistance } from '../sketch/shape/region.ts';
import { arc, line } from '../sketch/shape/segment.ts';
import { thicken } from '../sketch/shape/thicken.ts';
import { lowCrossing } from '../toolpath/passes/crossing.ts';
import { withoutOverrun } from '../toolpath/passes/overrun.ts';
import { withShortRunUp } from '../toolpath/passes/run-up.ts';
import { startOf } from '../toolpath/passes/track.ts';
import { stockBetween, type Workpiece } from '../toolpath/passes/workpiece.ts';
import { AIR, FEED_FROM } from '../toolpath/route/clearances.ts';
import { clearingOf } from './passes-samples.ts';

describe('a way to the cut', () => {
  // Round the corner of a block that stays, and then along its side, where something is to be cut.
  const block = rectangle({ x: -40, y: -20 }, { x: 0, y: 0 });
  const standing = rectangle({ x: 0.2, y: -20 }, { x: 30, y: 0 });
  const radius = 6;
  const path = {
    segments: [
      line({ x: -20, y: 6.2 }, { x: 0, y: 6.2 }),
      arc({ x: 0, y: 6.2 }, { x: 6.2, y: 0 }, { x: 0, y: 0 }, false),
      line({ x: 6.2, y: 0 }, { x: 6.2, y: -20 }),
    ],
  };

  test('round a corner is no longer than it must be, and begins clear of all that stands', () => {
    const short = withShortRunUp(path, { radius, standing, keepOut: block });
    expect(pathLength(short)).toBeLessThan(pathLength(path) - 19);
    expect(signedDistance(standing, startOf(short))).toBeGreaterThan(radius + AIR / 2);
    expect(signedDistance(block, startOf(short))).toBeGreaterThan(radius);
    const lost = difference(thicken(path, radius), thicken(short, radius));
    expect(regionArea(intersection(lost, standing))).toBeLessThan(1e-3);
  });

  test('stays as it is where it begins on the work, or where it comes to it at once', () => {
    const onIt = { segments: [line({ x: 6.2, y: -3 }, { x: 6.2, y: -20 })] };
    expect(withShortRunUp(onIt, { radius, standing, keepOut: block })).toBe(onIt);
    const soon = { segments: [line({ x: 6.2, y: 6.6 }, { x: 6.2, y: -20 })] };
    expect(withShortRunUp(soon, { radius, standing, keepOut: block })).toBe(soon);
  });
});

const bar = rectangle({ x: 0, y: 0 }, { x: 60, y: 20 });
const plate: Workpiece = { stock: [{ bottom: -10, top: 0, region: bar }], wanted: [] };
const pocket = {
  target: rectangle({ x: 0, y: 8 }, { x: 20, y: 12 }),
  keep: { contours: [] },
  plate: bar,
};
const terms = { radius: 2, allowance: 0, stepover: 1, direction: 'climb' as const };

describe('what a lap cuts beyond its area', () => {
  const clearing = clearingOf(pocket, terms, { area: pocket.target });
  const ran = [{ path: { segments: [line({ x: -3, y: 10 }, { x: 23, y: 10 })] } }];

  test('is known to be gone, down to its depth and no deeper', () => {
    const after = withoutOverrun(plate, clearing, ran, -4);
    const beyond = rectangle({ x: 22, y: 9 }, { x: 24, y: 11 });
    expect(regionArea(intersection(stockBetween(after, -4, 1e6), beyond))).toBeLessThan(1e-6);
    expect(regionArea(intersection(stockBetween(after, -10, -4), beyond))).toBeCloseTo(4, 6);
  });

  test('is not looked after where nothing stands beyond', () => {
    const small: Workpiece = { ...plate, stock: [{ bottom: -10, top: 0, region: pocket.target }] };
    expect(withoutOverrun(small, clearing, ran, -4)).toBe(small);
  });
});

describe('crossing low', () => {
  const clearing = clearingOf(pocket, terms);
  /** A channel so wide cut 4 deep along the whole bar. */
  const channelled = (half: number): Workpiece => ({
    ...plate,
    stock: [
      { bottom: -10, top: -4, region: bar },
      {
        bottom: -4,
        top: 0,
        region: difference(bar, rectangle({ x: -1, y: 10 - half }, { x: 61, y: 10 + half })),
      },
    ],
  });
  const from = { x: 5, y: 10, z: -4 };
  const to = { x: 50, y: 10 };

  test('is done just over the floor where the usual clearance is kept', () => {
    expect(lowCrossing(channelled(2 + AIR + 0.05), clearing, from, to, -4)).toBe(-4 + FEED_FROM);
  });

  test('is not done nearer to what stands, nor to where something stands higher, nor from nowhere', () => {
    expect(lowCrossing(channelled(2 + AIR - 0.05), clearing, from, to, -4)).toBeUndefined();
    expect(lowCrossing(channelled(5), clearing, from, to, -3)).toBeUndefined();
    expect(lowCrossing(channelled(5), clearing, null, to, -4)).toBeUndefined();
    expect(lowCrossing(plate, clearing, from, to, -4)).toBeUndefined();
  });
});

test('a fork is released no deeper than its web, also where the bar goes on before its mouth', () => {
  const made = planPart(
    JSON.stringify({
      format: 'leverwright-part',
      version: 1,
      name: 'lever in a frame',
      unit: 'mm',
      bar: { length: 70, width: 46, thickness: 9, material: 'acetal', corner: [-21, -23] },
      ends: [
        { name: 'big', centre: [0, 0], radius: 9 },
        { name: 'small', centre: [28, 0], radius: 9 },
      ],
      arms: [{ from: 'big', to: 'small' }],
      forks: [{ name: 'fork', mouth: [-9, 0], direction: 0, width: 3, depth: 14, root: 'round' }],
      lands: [
        {
          name: 'body',
          area: {
            rectangle: [
              [10, -100],
              [18, 100],
            ],
          },
          top: 9,
          bottom: 5.4,
        },
      ],
    }),
  );
  if (!made.ok) throw new Error('refused');
  const release = made.plan.setups.flatMap((s) => s.steps).find(({ step }) => step.kind === 'release')!;
  expect(release.passes.length).toBeGreaterThan(1);
  expect(release.passes.at(-1)!.z).toBeGreaterThan(-2);
});
