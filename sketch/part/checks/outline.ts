import { distance } from '../../shape/point.ts';
import { contains, contourArea, type Region, regionBox, windingNumber } from '../../shape/region.ts';
import { pointAlong } from '../../shape/segment.ts';
import { SAME_POINT } from '../../shape/tolerance.ts';
import { crossesItself, largestCornerRadius, turningArea } from '../corners.ts';
import { nearestName, quoted } from '../names.ts';
import { plateRegion, swallows } from '../outline.ts';
import type { Part, Plate } from '../part.ts';
import type { Report } from './report.ts';

/** Ends, arms and plates taken one by one: whether an outline can be drawn from them. */
export const checkPieces = (part: Part, report: Report): void => {
  if (part.ends.length + part.plates.length === 0) {
    report.error('no-outline', 'The part has no outline: draw at least one end or plate.');
  }
  checkArms(part, report);
  for (const plate of part.plates) checkPolygon('Plate', plate.name, plate, report);
  for (const land of part.lands) {
    if (land.shape.kind === 'polygon') checkPolygon('Land', land.name, land.shape, report);
  }
};

const checkArms = (part: Part, report: Report): void => {
  const names = part.ends.map((e) => e.name);
  for (const arm of part.arms) {
    const missing = [...new Set([arm.from, arm.to])].filter((name) => !names.includes(name));
    for (const name of missing) {
      const near = nearestName(name, names);
      const hint = near === null ? '.' : `; did you mean ${quoted(near)}?`;
      report.error(
        'arm-names-no-end',
        `Arm ${quoted(arm.name)} runs to an end ${quoted(name)} that is not there${hint}`,
        arm.name,
      );
    }
    if (missing.length > 0) continue;
    const from = part.ends.find((e) => e.name === arm.from)!;
    const to = part.ends.find((e) => e.name === arm.to)!;
    if (from === to) {
      report.error(
        'arm-to-itself',
        `Arm ${quoted(arm.name)} runs from ${quoted(arm.from)} to itself.`,
        arm.name,
        from.centre,
      );
    } else if (swallows(from, to)) {
      const [outer, inner] = from.radius >= to.radius ? [from, to] : [to, from];
      const apart = distance(from.centre, to.centre);
      report.error(
        'end-within-end',
        `Arm ${quoted(arm.name)} has no sides: end ${quoted(inner.name)} (radius ${report.amount(inner.radius)}) lies within ` +
          `end ${quoted(outer.name)} (radius ${report.amount(outer.radius)}), ${report.amount(apart)} apart. ` +
          `Set the centres more than ${report.amount(outer.radius - inner.radius)} apart.`,
        arm.name,
        inner.centre,
      );
    }
  }
};

const checkPolygon = (
  kind: 'Plate' | 'Land',
  name: string,
  shape: Pick<Plate, 'corners' | 'cornerRadius'>,
  report: Report,
): void => {
  const code = kind.toLowerCase();
  if (Math.abs(turningArea(shape.corners)) < 1e-4) {
    report.error(
      `${code}-without-area`,
      `${kind} ${quoted(name)} has no area: its corners lie on one line.`,
      name,
      shape.corners[0],
    );
    return;
  }
  if (crossesItself(shape.corners)) {
    report.error(
      `${code}-crosses-itself`,
      `The sides of ${kind.toLowerCase()} ${quoted(name)} cross: give its corners in order round the edge.`,
      name,
      shape.corners[0],
    );
    return;
  }
  const most = largestCornerRadius(shape.corners);
  if (shape.cornerRadius > most + SAME_POINT) {
    report.error(
      `${code}-corner-radius-too-large`,
      `${kind} ${quoted(name)} cannot take corners of radius ${report.amount(shape.cornerRadius)}: ` +
        `its sides leave room for ${report.amount(most)} at most.`,
      name,
    );
  }
};

/** Ends and plates against the bar. */
export const checkWithinBar = (part: Part, report: Report): void => {
  const { corner, length, width } = part.bar;
  const things = [
    ...part.ends.map((e) => ({
      what: `End ${quoted(e.name)}`,
      name: e.name,
      at: e.centre,
      min: { x: e.centre.x - e.radius, y: e.centre.y - e.radius },
      max: { x: e.centre.x + e.radius, y: e.centre.y + e.radius },
    })),
    ...part.plates.map((p) => ({
      what: `Plate ${quoted(p.name)}`,
      name: p.name,
      at: p.corners[0]!,
      ...(regionBox(plateRegion(p)) ?? { min: p.corners[0]!, max: p.corners[0]! }),
    })),
  ];
  for (const thing of things) {
    const sides: readonly (readonly [string, number])[] = [
      ['on the left', corner.x - thing.min.x],
      ['on the right', thing.max.x - corner.x - length],
      ['at the bottom', corner.y - thing.min.y],
      ['at the top', thing.max.y - corner.y - width],
    ];
    for (const [where, over] of sides) {
      if (over <= SAME_POINT) continue;
      report.error(
        'outside-bar',
        `${thing.what} reaches ${report.amount(over)} beyond the bar ${where}: take a larger bar, move the bar’s corner, or make it smaller.`,
        thing.name,
        thing.at,
      );
    }
  }
};

/** Whether the outline hangs together; what lies in which piece when it does not. */
export const checkOnePiece = (part: Part, outline: Region, report: Report): void => {
  const outer = outline.contours.filter((c) => contourArea(c) > 0);
  if (outer.length <= 1) return;
  const pieces = outer.map((contour) => {
    const piece: Region = { contours: [contour] };
    const inside = [
      ...part.ends.filter((e) => contains(piece, e.centre)).map((e) => e.name),
      ...part.plates.filter((p) => windingNumber(piece, middleOf(p)) > 0).map((p) => p.name),
    ];
    return inside.length === 0 ? 'a piece of its own' : inside.map(quoted).join(', ');
  });
  report.error(
    'outline-in-pieces',
    `The outline falls into ${outer.length} pieces: ${pieces.join(' | ')}. Join them with an arm or a plate.`,
    undefined,
    pointAlong(outer[1]!.segments[0]!, 0.5),
  );
};

/** A point just inside a plate's first side. */
const middleOf = (plate: Plate): { x: number; y: number } => {
  const [a, b] = [plate.corners[0]!, plate.corners[1]!];
  const d = distance(a, b);
  const inward = { x: -(b.y - a.y) / d, y: (b.x - a.x) / d };
  return { x: (a.x + b.x) / 2 + inward.x * 1e-3, y: (a.y + b.y) / 2 + inward.y * 1e-3 };
};
