import type { Measure } from '../draft/measure.ts';
import type { Fork, Part } from '../part/part.ts';
import { add, angleOf, cross, distance, type Point, polar, scale, subtract, unit } from '../shape/point.ts';
import type { Region } from '../shape/region.ts';
import { spansInside } from '../shape/spans.ts';
import { angle, isSquare } from './arm-measures.ts';
import { type ArmWithEnds, type Book, centreOf, type Place, spotOf } from './book.ts';

const SAME = 1e-3;

/** Sizes and places of what is cut into the outline: forks, slots, holes, and the bounds of lands. */
export const cutMeasures = (book: Book, part: Part, arms: readonly ArmWithEnds[], outline: Region): void => {
  part.forks.forEach((f, i) => {
    forkMeasures(book, part, arms, f, i);
  });
  // What is not tied to the datum by arms or plates yet is measured from it.
  for (const { ends } of arms) for (const end of ends) book.locate(centreOf(end));
  for (const end of part.ends) book.locate(centreOf(end));
  for (const slot of part.slots) {
    const from: Place = { feature: slot.name, point: 'from', at: slot.from };
    const to: Place = { feature: slot.name, point: 'to', at: slot.to };
    place(book, arms, from);
    const apart = distance(slot.from, slot.to);
    if (apart < SAME) continue;
    book.straight(slot.name, from, to);
    const direction = angleOf(subtract(slot.to, slot.from));
    if (!isSquare(direction) && armThrough(arms, slot.from, slot.to) === null) {
      const [left, right] = slot.from.x <= slot.to.x ? [from, to] : [to, from];
      const way = angleOf(subtract(right.at, left.at));
      const measures = { kind: 'angle', vertex: spotOf(left), from: null, to: spotOf(right) } as const;
      angle(book, slot.name, left.at, 0, way, [0, apart], measures);
    }
    book.x.join(slot.from.x, slot.to.x);
    book.y.join(slot.from.y, slot.to.y);
  }
  for (const hole of part.holes) place(book, arms, centreOf(hole));
  for (const land of part.lands) {
    switch (land.shape.kind) {
      case 'whole':
        break;
      case 'disc':
        place(book, arms, { feature: land.name, point: 'centre', at: land.shape.centre });
        break;
      case 'polygon':
        landBounds(book, land.name, land.shape.corners, outline);
        break;
    }
  }
};

const forkMeasures = (book: Book, part: Part, arms: readonly ArmWithEnds[], f: Fork, index: number): void => {
  const inward = { x: Math.cos(f.direction), y: Math.sin(f.direction) };
  const half = scale({ x: -inward.y, y: inward.x }, f.width / 2);
  const root = add(f.mouth, scale(inward, f.depth));
  const drives = (name: 'width' | 'depth') =>
    ({ kind: 'field', path: ['forks', index, name], factor: 1 }) as const;
  const linear = { kind: 'linear', feature: f.name } as const;
  book.add({
    ...linear,
    from: subtract(f.mouth, half),
    to: add(f.mouth, half),
    along: { x: -inward.y, y: inward.x },
    text: book.say(f.width),
    measures: drives('width'),
  });
  book.add({
    ...linear,
    from: f.mouth,
    to: root,
    along: inward,
    text: book.say(f.depth),
    measures: drives('depth'),
  });
  const mouth: Place = { feature: f.name, point: 'mouth', at: f.mouth };
  const axis = polar(f.mouth, f.depth, f.direction);
  const round = part.ends.find((e) => Math.abs(cross(inward, subtract(e.centre, f.mouth))) < SAME);
  if (isSquare(f.direction)) {
    // A fork that opens in a round end starts where that end does.
    if (round && Math.abs(distance(round.centre, f.mouth) - round.radius) < SAME) {
      book.x.join(round.centre.x, f.mouth.x);
      book.y.join(round.centre.y, f.mouth.y);
    }
    book.locate(mouth);
    book.x.join(f.mouth.x, root.x);
    book.y.join(f.mouth.y, root.y);
    return;
  }
  if (armThrough(arms, f.mouth, axis) === null) {
    const forward = inward.x >= 0;
    // Leaning forward it is the very figure of the file; backward it is what is left to half a turn.
    const measures: Measure | null = forward
      ? {
          kind: 'field',
          path: ['forks', index, 'direction'],
          factor: Math.sign(Math.sin(f.direction)),
        }
      : null;
    angle(book, f.name, f.mouth, forward ? 0 : Math.PI, f.direction, [0, f.depth], measures);
  }
  if (!round) {
    book.locate(mouth);
  } else if (Math.abs(distance(round.centre, f.mouth) - round.radius) > SAME) {
    book.straight(f.name, centreOf(round), mouth);
  }
};

/** An arm whose centre line both places lie on, within or beyond its ends. */
const armThrough = (arms: readonly ArmWithEnds[], p: Point, q: Point): ArmWithEnds | null =>
  arms.find(({ ends: [a, b] }) => {
    const u = unit(subtract(b.centre, a.centre));
    return [p, q].every((r) => Math.abs(cross(u, subtract(r, a.centre))) < SAME);
  }) ?? null;

/** A place on a leaning arm is given along that arm; any other from the datum. */
const place = (book: Book, arms: readonly ArmWithEnds[], p: Place): void => {
  if (book.datum && isKnown(book, p.at)) return;
  const arm = armThrough(arms, p.at, p.at);
  const centres = arm?.ends.map((e) => e.centre) ?? [];
  if (centres.some((c) => distance(c, p.at) < SAME)) return;
  if (arm && !isSquare(angleOf(subtract(centres[1]!, centres[0]!)))) {
    const near = [...arm.ends].sort((a, b) => distance(a.centre, p.at) - distance(b.centre, p.at))[0]!;
    book.straight(p.feature, centreOf(near), p);
    book.x.join(near.centre.x, p.at.x);
    book.y.join(near.centre.y, p.at.y);
    return;
  }
  book.locate(p);
};

const isKnown = (book: Book, p: Point): boolean =>
  book.datum !== null && book.x.joined(book.datum.x.at.x, p.x) && book.y.joined(book.datum.y.at.y, p.y);

/** The upright and level sides of a land that cross the part, each from the datum. */
const landBounds = (book: Book, feature: string, corners: readonly Point[], outline: Region): void => {
  if (!book.datum) return;
  corners.forEach((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    const axis = Math.abs(a.x - b.x) < SAME ? 'x' : Math.abs(a.y - b.y) < SAME ? 'y' : null;
    if (axis === null) return;
    const seen = middleWithin(a, b, outline);
    if (seen) book.along(axis, feature, book.datum![axis], { feature, point: i, at: seen });
  });
};

/** The middle of the longest stretch of a line that lies within the outline; null when none does. */
const middleWithin = (from: Point, to: Point, outline: Region): Point | null => {
  const longest = [...spansInside(outline, from, to)].sort((p, q) => q[1] - q[0] - (p[1] - p[0]))[0];
  if (!longest) return null;
  return add(from, scale(unit(subtract(to, from)), (longest[0] + longest[1]) / 2));
};
