import type { Part } from '../../sketch/part/part.ts';
import type { Point } from '../../sketch/shape/point.ts';

/** A place of the part that bends or is bent there, in the part's coordinates, mm, and how far about it one looks. */
export interface NamedPlace {
  readonly name: string;
  readonly at: Point;
  readonly within: number;
}

/** How far beside an edge a cutter still works on it, mm. */
const BESIDE = 8;

/** The places where a lever gives way first: tips of the tines, middles of the arms, ends, edges of holes. */
export const namedPlaces = (part: Part): readonly NamedPlace[] => {
  const ends = new Map(part.ends.map((end) => [end.name, end]));
  const tines = part.forks.flatMap((fork) =>
    ([1, -1] as const).map((side): NamedPlace => {
      const across = (side * fork.width) / 2;
      const [c, s] = [Math.cos(fork.direction), Math.sin(fork.direction)];
      return {
        name: `tip of a tine of ${fork.name}`,
        at: { x: fork.mouth.x - s * across, y: fork.mouth.y + c * across },
        within: Math.max(4, fork.width),
      };
    }),
  );
  const arms = part.arms.flatMap((arm): readonly NamedPlace[] => {
    const [from, to] = [ends.get(arm.from), ends.get(arm.to)];
    if (!from || !to) return [];
    const at = { x: (from.centre.x + to.centre.x) / 2, y: (from.centre.y + to.centre.y) / 2 };
    return [{ name: `middle of arm ${arm.name}`, at, within: Math.max(from.radius, to.radius) + BESIDE }];
  });
  const rounds = part.ends.map(
    (end): NamedPlace => ({ name: `end ${end.name}`, at: end.centre, within: end.radius + BESIDE }),
  );
  const holes = part.holes.map(
    (hole): NamedPlace => ({
      name: `edge of hole ${hole.name}`,
      at: hole.centre,
      within: hole.diameter / 2 + BESIDE / 2,
    }),
  );
  // Of two at one place the first is named: a hole before the end that it sits in.
  return [...tines, ...arms, ...holes, ...rounds];
};

/** The name of the nearest place that reaches here; null where none does. */
export const nameAt = (places: readonly NamedPlace[], at: Point): string | null => {
  let name: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const place of places) {
    const distance = Math.hypot(place.at.x - at.x, place.at.y - at.y);
    if (distance > place.within || distance >= least) continue;
    least = distance;
    name = place.name;
  }
  return name;
};
