import { describe, expect, test } from 'vitest';
import type { Point3 } from '../../sketch/shape/point.ts';
import { standardProfile } from '../../toolpath/machine/default-profile.ts';
import { barMap } from '../../toolpath/removal/height-map.ts';
import type { Frame } from '../../toolpath/route/frame.ts';
import { CUTTING_FORCE } from '../../toolpath/survival/cutting-force.ts';
import { uncut } from '../../toolpath/survival/engagement.ts';
import { type PassForce, type SurveyPass, surveyPass } from '../../toolpath/survival/force-survey.ts';
import { type Engagement, millingForce } from '../../toolpath/survival/milling-force.ts';

/**
 * A light cut along a straight wall of known radial depth: the rim is buried by acos(1 − 2 ae / D), the plain geometry of a
 * circle and a line, printed in any text on milling. What the survey reads off its stock is held against it, where the
 * radial depth is less than one cell of its map too.
 */

const bar = {
  length: 60,
  width: 40,
  thickness: 10,
  material: 'low-carbon steel',
  corner: { x: 0, y: 0 },
  sawn: 0,
} as const;
const front: Frame = { face: 'front', zero: { x: 0, y: 0, z: 10 } };
// Turned over about X, so the work's near edge is the far one.
const back: Frame = { face: 'back', zero: { x: 0, y: 40, z: 0 } };
const data = CUTTING_FORCE[bar.material];
const FEED = 120;
const SPEED = 1500;

const endmill = (diameter: number) =>
  standardProfile.cutters.find((c) => c.kind === 'endmill' && c.diameter === diameter)!;

const along = (diameter: number, frame: Frame, ...places: readonly Point3[]): SurveyPass => ({
  label: 'a pass',
  step: 'a step',
  setup: 1,
  still: null,
  kind: 'finish',
  cutter: endmill(diameter),
  speed: SPEED,
  frame,
  motions: places.slice(1).map((to, i) => ({ stroke: { kind: 'feed', from: places[i]!, to }, feed: FEED })),
});

/** A wall first cut to Y `wall` (program), then once more `ae` into it, to the depth z; right of the travel when climbing. */
const cutWall = (diameter: number, ae: number, cell: number, frame: Frame, climb: boolean): PassForce => {
  const stock = uncut(barMap(bar, cell), bar);
  // Off the cells' own lines, as a program's figures are.
  const wall = 12.037;
  const line = (y: number): readonly Point3[] => {
    const ends = [-10, 70].map((x) => ({ x, y, z: -4 }));
    return climb ? ends.reverse() : ends;
  };
  surveyPass(stock, along(diameter, frame, ...line(wall - diameter / 2)), data);
  return surveyPass(stock, along(diameter, frame, ...line(wall + ae - diameter / 2)), data);
};

/** Force of the closed form's engagement, buried from a side on. */
const forceOf = (diameter: number, angle: number, climb: boolean): number => {
  const steps = 7200;
  const engagement: Engagement = {
    depth: Float64Array.from({ length: steps }, (_, i) => {
      const at = ((i + 0.5) * 2 * Math.PI) / steps - Math.PI;
      const from = climb ? at + Math.PI / 2 : Math.PI / 2 - at;
      return from >= 0 && from <= angle ? 4 : 0;
    }),
  };
  const { flutes } = endmill(diameter);
  const toothLoad = FEED / (SPEED * flutes);
  return millingForce(engagement, {
    ...{ diameter, flutes, toothLoad, data },
    speed: SPEED,
    helix: Math.PI / 6,
  }).most;
};

describe('Light cuts along a straight wall: the rim is buried by acos(1 − 2 ae / D)', () => {
  test.each([
    [5, 0.05],
    [5, 0.1],
    [5, 0.2],
    [6, 0.35],
    [12, 0.1],
    [12, 0.2],
    [12, 1],
  ])(
    '⌀ %s, %s mm wide: within a degree, and the force within a twentieth, on either face, climbing or not',
    (d, ae) => {
      const angle = Math.acos(1 - (2 * ae) / d);
      for (const [frame, cell, climb] of [
        [front, 0.2, true],
        [front, 0.3, false],
        [back, 0.2, true],
        [back, 0.2, false],
      ] as const) {
        const { places, most } = cutWall(d, ae, cell, frame, climb);
        const inside = places.filter((p) => p.at.x > 10 && p.at.x < 50);
        expect(inside.length).toBeGreaterThan(8);
        for (const place of inside) {
          expect(Math.abs(place.buried - angle)).toBeLessThan(Math.PI / 180);
          expect(place.depth).toBeCloseTo(4, 3);
        }
        expect(Math.abs(most / forceOf(d, angle, climb) - 1)).toBeLessThan(0.05);
      }
    },
  );
});
