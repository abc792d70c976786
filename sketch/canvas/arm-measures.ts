import { type Measure, withinHalfTurn } from '../draft/measure.ts';
import type { End } from '../part/part.ts';
import { angleOf, distance, type Point, subtract } from '../shape/point.ts';
import { type ArmWithEnds, type Book, centreOf, spotOf } from './book.ts';
import { degrees } from './dimension.ts';

/** Angles less apart than this are one, radians. */
const LEVEL = 1e-6;

/** Whether a direction is level or upright, within what nobody could draw. */
export const isSquare = (direction: number): boolean => Math.abs(Math.sin(2 * direction)) < LEVEL;

interface Leg {
  /** The end it runs to. */
  readonly to: End;
  readonly direction: number;
  readonly length: number;
}

/**
 * Distances along the arms, and where an arm is neither level nor upright its angle: to an arm that leaves the same
 * end, or to the level. An arm that closes a ring follows from the others and is put in brackets.
 */
export const armMeasures = (book: Book, arms: readonly ArmWithEnds[]): void => {
  const groups = new Map<string, string>();
  const groupOf = (name: string): string => {
    const above = groups.get(name);
    return above === undefined || above === name ? name : groupOf(above);
  };
  const legs = new Map<string, Leg[]>();
  const isLevel = ({ ends: [a, b] }: ArmWithEnds): boolean => isSquare(angleOf(subtract(b.centre, a.centre)));
  for (const joint of [...arms.filter(isLevel), ...arms.filter((a) => !isLevel(a))]) {
    const { arm, ends } = joint;
    const [a, b] = ends;
    const known = groupOf(a.name) === groupOf(b.name);
    book.straight(arm.name, centreOf(a), centreOf(b), known);
    const apart = distance(a.centre, b.centre);
    const ways = [
      { end: a, other: b, direction: angleOf(subtract(b.centre, a.centre)) },
      { end: b, other: a, direction: angleOf(subtract(a.centre, b.centre)) },
    ] as const;
    if (!known && !isLevel(joint)) {
      // An arm that stands alone is measured against the level to the right, at its left end.
      const right = Math.cos(ways[0].direction) >= 0 ? ways[0] : ways[1];
      const from = ways.find((w) => legs.has(w.end.name)) ?? right;
      const beside = nearestLeg(legs.get(from.end.name) ?? [], from.direction);
      angle(
        book,
        arm.name,
        from.end.centre,
        beside?.direction ?? 0,
        from.direction,
        [beside?.length ?? 0, apart],
        {
          kind: 'angle',
          vertex: spotOf(centreOf(from.end)),
          from: beside && spotOf(centreOf(beside.to)),
          to: spotOf(centreOf(from.other)),
        },
      );
    }
    if (!known) {
      groups.set(groupOf(b.name), groupOf(a.name));
      book.x.join(a.centre.x, b.centre.x);
      book.y.join(a.centre.y, b.centre.y);
    }
    for (const w of ways) {
      legs.set(w.end.name, [
        ...(legs.get(w.end.name) ?? []),
        { to: w.other, direction: w.direction, length: apart },
      ]);
    }
  }
};

const nearestLeg = (legs: readonly Leg[], direction: number): Leg | null =>
  legs.reduce<Leg | null>(
    (best, leg) =>
      best &&
      Math.abs(withinHalfTurn(best.direction - direction)) <=
        Math.abs(withinHalfTurn(leg.direction - direction))
        ? best
        : leg,
    null,
  );

/** Writes the angle from one leg to another, unless they lie in line: that is seen. */
export const angle = (
  book: Book,
  feature: string,
  vertex: Point,
  from: number,
  to: number,
  legs: readonly [number, number],
  measures: Measure | null = null,
): void => {
  const sweep = withinHalfTurn(to - from);
  if (Math.abs(sweep) < LEVEL || Math.abs(Math.abs(sweep) - Math.PI) < LEVEL) return;
  book.add({ kind: 'angle', feature, vertex, from, sweep, legs, text: degrees(sweep), measures });
};
