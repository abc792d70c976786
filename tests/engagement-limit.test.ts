import { expect, test } from 'vitest';
import { CUTTING_FORCE } from '../toolpath/survival/cutting-force.ts';
import { engagementBearing, forceAtEngagement } from '../toolpath/survival/engagement-limit.ts';

/** The angle of peeling from the force that the part can bear, the feed holding the tooth load. */

const cut = { diameter: 6, flutes: 3, toothLoad: 0.03, speed: 2000, depth: 1.5 };
const data = CUTTING_FORCE['low-carbon steel'];
const degrees = Math.PI / 180;

test('less of the rim never makes more force, and half of it as much as all of it: the chip there is as thick', () => {
  const forces = [180, 120, 90, 75, 60, 45, 30, 20].map((a) => forceAtEngagement(a * degrees, cut, data));
  for (let i = 1; i < forces.length; i++) expect(forces[i]!).toBeLessThanOrEqual(forces[i - 1]! * 1.001);
  expect(forces[2]! / forces[0]!).toBeGreaterThan(0.95);
  // Below 30° the feed rises no further, and the force falls fast.
  expect(forces[7]! / forces[0]!).toBeLessThan(0.6);
});

test('the largest angle that the share allows, none where only shallower passes help', () => {
  const full = forceAtEngagement(Math.PI, cut, data);
  for (const share of [0.95, 0.8, 0.6]) {
    const angle = engagementBearing(share, cut, data)!;
    expect(forceAtEngagement(angle * degrees, cut, data)).toBeLessThanOrEqual(share * full);
  }
  expect(engagementBearing(1.01, cut, data)).toBe(120);
  expect(engagementBearing(0.3, cut, data)).toBeNull();
});
