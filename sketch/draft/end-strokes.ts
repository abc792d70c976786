import type { Quantity } from '../part/dimensions.ts';
import { angleOf, distance, polar, subtract } from '../shape/point.ts';
import { freshName } from './new-feature.ts';
import { snapRadius } from './snap.ts';
import { inUnit } from './stated.ts';
import type { Ground, Sketched, Stroke } from './stroke.ts';
import { endUnder, put, sizing } from './stroke-sizes.ts';

export const drawEnd = (stroke: Stroke, ground: Ground): Sketched => {
  const say = sizing(stroke, ground);
  const { unit } = ground.part;
  const caught = stroke.tap
    ? { radius: ground.usual.end ?? ground.part.bar.width / 4, words: null }
    : snapRadius(stroke.from.point, distance(stroke.from.point, stroke.to.point), ground.reach, ground.field);
  const radius = say.stated('radius', 'radius', inUnit(caught.radius, unit));
  const centre = say.place(stroke.from);
  const name = freshName('end', ground.part);
  return {
    ok: true,
    document: put(ground.document, 'ends', { name, centre, radius }),
    names: [name],
    sizes: say.sizes,
    words: caught.words,
  };
};

export const drawArm = (stroke: Stroke, ground: Ground): Sketched => {
  const { part } = ground;
  const from = part.ends.find((e) => e.name === endUnder(stroke.from, part));
  if (!from) return { ok: false, message: 'Pull the arm from an end: put the pencil down inside one.' };
  const target = endUnder(stroke.to, part);
  if (target !== null && target !== from.name) {
    const double = part.arms.find((a) => [a.from, a.to].sort().join() === [from.name, target].sort().join());
    if (double) return { ok: false, message: `“${double.name}” joins these two already.` };
    const say = sizing({ ...stroke, fixed: {} }, ground);
    const to = part.ends.find((e) => e.name === target)!;
    say.stated('length', 'centres apart', inUnit(distance(from.centre, to.centre), part.unit));
    return {
      ok: true,
      document: put(ground.document, 'arms', { from: from.name, to: target }),
      names: [`${from.name} – ${target}`],
      sizes: say.sizes,
      words: `to ${target}`,
    };
  }
  if (stroke.tap || distance(from.centre, stroke.to.point) < from.radius) {
    return { ok: false, message: 'Pull it to another end, or to where a new one shall stand.' };
  }
  const say = sizing(stroke, ground);
  const away = subtract(stroke.to.point, from.centre);
  const length = say.length('length', 'centres apart', distance(from.centre, stroke.to.point));
  const angle = say.angle('angle', 'at, degrees', angleOf(away));
  const radius = say.stated('radius', 'new end’s radius', inUnit(from.radius, part.unit));
  const typed = stroke.fixed.length !== undefined || stroke.fixed.angle !== undefined;
  const centre = polar(from.centre, length, angle);
  const stated: [Quantity, Quantity] = typed
    ? [inUnit(centre.x, part.unit), inUnit(centre.y, part.unit)]
    : [
        stroke.to.stated[0] ?? inUnit(stroke.to.point.x, part.unit),
        stroke.to.stated[1] ?? inUnit(stroke.to.point.y, part.unit),
      ];
  const name = freshName('end', part);
  const withEnd = put(ground.document, 'ends', { name, centre: stated, radius });
  return {
    ok: true,
    document: put(withEnd, 'arms', { from: from.name, to: name }),
    names: [`${from.name} – ${name}`, name],
    sizes: say.sizes,
    words: stroke.to.words,
  };
};
