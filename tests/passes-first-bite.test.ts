import { expect, test } from 'vitest';
import { NOTHING, pathLength, rectangle } from '../sketch/shape/region.ts';
import { line } from '../sketch/shape/segment.ts';
import { firstBite, fromFirstBite, withShortRunUp } from '../toolpath/passes/run-up.ts';
import { endOf, startOf } from '../toolpath/passes/track.ts';

// A cutter of 6 mm comes along X to a block whose near face stands at X 0.

const room = {
  radius: 3,
  standing: rectangle({ x: 0, y: -10 }, { x: 20, y: 10 }),
  keepOut: NOTHING,
};
const along = (from: number, to: number) => ({ segments: [line({ x: from, y: 0 }, { x: to, y: 0 })] });

test('the first bite is where the rim comes to the work, less what would only be shaved', () => {
  // At X −3 the rim touches, and two hundredths further on it takes something.
  expect(firstBite(along(-10, 30), room)).toBeCloseTo(7.1, 6);
  expect(firstBite(along(-2, 30), room)).toBe(0);
  expect(firstBite(along(30, 40), room)).toBeNull();
});

test('a way is begun a tenth before it, and stays whole where it bites at once or never', () => {
  const late = fromFirstBite(along(-10, 30), room);
  expect(startOf(late).x).toBeCloseTo(-3, 6);
  expect(endOf(late)).toEqual({ x: 30, y: 0 });
  expect(fromFirstBite(along(-2, 30), room)).toEqual(along(-2, 30));
  expect(fromFirstBite(along(30, 40), room)).toEqual(along(30, 40));
});

test('in place of a long way through nothing it steps in from beside the work, six tenths away', () => {
  const beside = { segments: [line({ x: -30, y: 12 }, { x: 30, y: 12 })] };
  const stepped = withShortRunUp(beside, room);
  const [step, rest] = [stepped.segments[0]!, stepped.segments[1]!];
  expect(Math.hypot(step.to.x - step.from.x, step.to.y - step.from.y)).toBeCloseTo(0.6, 6);
  expect(step.to).toEqual(rest.from);
  expect(pathLength(stepped)).toBeLessThan(pathLength(beside) - 20);
  // Close by already, or in the work: as it is.
  expect(withShortRunUp(along(-3.5, 30), room)).toEqual(along(-3.5, 30));
  expect(withShortRunUp(along(-2, 30), room)).toEqual(along(-2, 30));
});
