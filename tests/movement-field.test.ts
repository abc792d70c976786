import { beforeAll, describe, expect, test } from 'vitest';
import { planPart, survivalQuestion, writePrograms } from '../gcode/chain.ts';
import { sweep } from '../toolpath/removal/sweep.ts';
import { placesOf } from '../toolpath/survival/elasticity/bricks.ts';
import { moduliOf } from '../toolpath/survival/elasticity/material.ts';
import { stiffnessTimes } from '../toolpath/survival/elasticity/product.ts';
import { ELASTIC } from '../toolpath/survival/materials.ts';
import { type MovementField, movedAt, movementFields } from '../toolpath/survival/movement-field.ts';
import type { PassSurvival, PlaceBending } from '../toolpath/survival/pass-survival.ts';
import { startMap, stockWalker } from '../toolpath/survival/stock-walk.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

/** The movement of the whole work in one pass: what the page shows, asked for as the page does. */

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const asked = survivalQuestion(planned, writePrograms(planned.part, planned.plan, planned.profile));
const TERMS = { cell: 0.3, brick: 1.5, frequency: false, places: 3 } as const;
const numberOf = (label: string): number => asked.passes.findIndex((p) => p.label === label);

/** Passes of both faces, in both senses of Z; the last one drills. */
const LOOKED_AT = [
  'fork, pass 4',
  'thin body from the back, pass 2',
  'release fork, pass 2',
  'drill 3.8, pass 1',
];

let survey: readonly PassSurvival[];
beforeAll(() => {
  const wanted = new Set(LOOKED_AT.map(numberOf));
  survey = surviveRoute(asked, { ...TERMS, only: (i) => wanted.has(i) });
});

const fields = movementFields(asked, TERMS);
const fieldOf = (label: string, place: number): MovementField => {
  const pass = survey[numberOf(label)]!;
  const field = fields(numberOf(label), pass.force, pass.bending[place]!.place);
  if (field?.kind !== 'field') throw new Error(`nothing to show for ${label}`);
  return field;
};
const along = ({ place }: PlaceBending, moved: readonly [number, number, number]): number =>
  place.push.x * moved[0] + place.push.y * moved[1] + place.push.z * moved[2];

describe('The stock of a pass', () => {
  const label = (i: number): string => asked.passes[i]!.label;
  const drill = numberOf('drill 3.8, pass 1');

  test('is what all passes up to it leave, and for a drill what it finds, asked in whatever order', () => {
    const walk = stockWalker(asked, TERMS);
    for (const wanted of [drill, 5, 24, drill + 1, drill, drill - 1, 0, 23, 24, 24, 3]) {
      const plain = startMap(asked, TERMS);
      const last = asked.passes[wanted]!.cutter.kind === 'drill' ? wanted - 1 : wanted;
      for (const { motions, cutter, frame } of asked.passes.slice(0, last + 1)) {
        for (const { stroke } of motions) sweep(plain, stroke, cutter, frame);
      }
      const { map, jaws } = walk(wanted);
      expect(map.top, label(wanted)).toEqual(plain.top);
      expect(map.bottom, label(wanted)).toEqual(plain.bottom);
      // The jaws are those of the pass's own setup: on the underside that it has there.
      if (jaws?.kind !== 'vice') throw new Error('not in a vice');
      expect(jaws.low, label(wanted)).toBe(asked.passes[wanted]!.setup === 1 ? 0 : jaws.low);
      expect(jaws.high > 8.9, label(wanted)).toBe(asked.passes[wanted]!.setup === 2);
    }
  });
});

describe('The movement of the whole work', () => {
  // Asked from the last pass to the first and back: the stock of each is walked to anew.
  test.each([...LOOKED_AT, ...LOOKED_AT.toReversed()])(
    'in “%s” the work moves under the cutter as the survey says, at every place looked at',
    (label) => {
      const { bending, basis } = survey[numberOf(label)]!;
      expect(basis).toBe('solved');
      expect(bending.length).toBeGreaterThan(0);
      bending.forEach((bent, n) => {
        const { under, moved, most } = fieldOf(label, n);
        expect(under / bent.movement).toBeCloseTo(1, 2);
        for (const [axis, m] of moved.entries()) {
          expect(Math.abs(m - bent.moved![axis]!)).toBeLessThan(0.01 * bent.movement);
        }
        expect(most).toBeGreaterThan(0.99 * under);
      });
    },
  );

  test('Betti 1872: a force at A does as much work on the movement that one at B makes as the other way round', () => {
    const { bending } = survey[numberOf('thin body from the back, pass 2')]!;
    expect(bending.length).toBeGreaterThan(1);
    const [a, b] = [bending[0]!, bending[1]!];
    const [byA, byB] = [0, 1].map((n) => fieldOf('thin body from the back, pass 2', n)) as [
      MovementField,
      MovementField,
    ];
    const [there, back] = [along(b, movedAt(byA, b.place)!), along(a, movedAt(byB, a.place)!)];
    expect(Math.hypot(a.place.at.x - b.place.at.x, a.place.at.y - b.place.at.y)).toBeGreaterThan(3);
    expect(Math.abs(there)).toBeGreaterThan(0.1);
    expect(there / back).toBeCloseTo(1, 2);
  });

  test('Clapeyron: the force does twice the work that is stored in the bricks', () => {
    const label = 'thin body from the back, pass 2';
    const { grid, movement, moved } = fieldOf(label, 0);
    const product = new Float64Array(movement.length);
    stiffnessTimes(grid, moduliOf(ELASTIC[asked.bar.material]), movement, product);
    const stored = movement.reduce((sum, u, n) => sum + (u * product[n]!) / 2, 0);
    expect(along(survey[numberOf(label)]!.bending[0]!, moved) / (2 * stored)).toBeCloseTo(1, 2);
  });

  test('what the jaws grip stays where it is', () => {
    const { grid, movement, jaws, setup } = fieldOf('thin body from the back, pass 2', 0);
    if (jaws.kind !== 'vice') throw new Error('not in a vice');
    const places = placesOf(grid);
    let gripped = 0;
    for (let n = 0; n < grid.nodes; n++) {
      const [, y, z] = [places[3 * n]!, places[3 * n + 1]!, places[3 * n + 2]!];
      if (z < jaws.low - 1e-6 || Math.abs(y - jaws.near) > 0.05) continue;
      gripped++;
      expect(Math.hypot(movement[3 * n]!, movement[3 * n + 1]!, movement[3 * n + 2]!)).toBe(0);
    }
    expect(gripped).toBeGreaterThan(10);
    expect(setup.frame.face).toBe('back');
  });

  test('nothing in the jaws is said, not drawn', () => {
    const away = asked.setups.map((s) =>
      s.hold.kind === 'vice' ? { ...s, hold: { ...s.hold, jaws: { from: 500, to: 600 } } } : s,
    );
    const pass = survey[numberOf('fork, pass 4')]!;
    const none = movementFields({ ...asked, setups: away }, TERMS);
    expect(none(numberOf('fork, pass 4'), pass.force, pass.bending[0]!.place)).toMatchObject({
      kind: 'none',
      why: expect.stringContaining('have nothing to hold'),
    });
  });

  test('a cancelled one gives nothing', () => {
    const pass = survey[numberOf('fork, pass 4')]!;
    const stopped = movementFields(asked, { ...TERMS, cancelled: () => true });
    expect(stopped(numberOf('fork, pass 4'), pass.force, pass.bending[0]!.place)).toBeNull();
  });
});
