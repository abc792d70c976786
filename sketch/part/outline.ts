import { union } from '../shape/boolean.ts';
import { knownBy } from '../shape/known.ts';
import { offset } from '../shape/offset.ts';
import { angleOf, type Box, distance, polar, subtract } from '../shape/point.ts';
import { type Contour, disc, NOTHING, type Region, regionBox } from '../shape/region.ts';
import { arc, line } from '../shape/segment.ts';
import { SAME_POINT } from '../shape/tolerance.ts';
import { roundedPolygon } from './corners.ts';
import type { Arm, End, Part, Plate } from './part.ts';

/** Whether one end lies wholly within the other, so that no line is tangent to both. */
export const swallows = (a: End, b: End): boolean =>
  distance(a.centre, b.centre) <= Math.abs(a.radius - b.radius) + SAME_POINT;

/** The two ends an arm joins, or null when one is missing, they are the same, or one lies within the other. */
export const endsOf = (part: Pick<Part, 'ends'>, arm: Arm): readonly [End, End] | null => {
  const from = part.ends.find((e) => e.name === arm.from);
  const to = part.ends.find((e) => e.name === arm.to);
  return from === undefined || to === undefined || swallows(from, to) ? null : [from, to];
};

/** Two ends and their outer tangents: an arc, a line, an arc, a line, anticlockwise. Neither end lies within the other. */
export const armContour = (a: End, b: End): Contour => {
  const along = angleOf(subtract(b.centre, a.centre));
  // The tangent points lie at this angle to the line of centres on both circles.
  const lean = Math.acos((a.radius - b.radius) / distance(a.centre, b.centre));
  const rightA = polar(a.centre, a.radius, along - lean);
  const rightB = polar(b.centre, b.radius, along - lean);
  const leftB = polar(b.centre, b.radius, along + lean);
  const leftA = polar(a.centre, a.radius, along + lean);
  return {
    segments: [
      line(rightA, rightB),
      arc(rightB, leftB, b.centre, true),
      line(leftB, leftA),
      arc(leftA, rightA, a.centre, true),
    ],
  };
};

/** The pieces whose union is the outline, before inside corners are filled: arms with their ends, lone ends, plates. */
const piecesOf = (part: Pick<Part, 'ends' | 'arms' | 'plates'>): Region[] => {
  const joined = new Set<End>();
  const pieces: Region[] = [];
  for (const arm of part.arms) {
    const ends = endsOf(part, arm);
    if (ends === null) continue;
    pieces.push({ contours: [armContour(...ends)] });
    for (const end of ends) joined.add(end);
  }
  for (const end of part.ends) if (!joined.has(end)) pieces.push(disc(end.centre, end.radius));
  for (const plate of part.plates) pieces.push(plateRegion(plate));
  return pieces;
};

export const plateRegion = (plate: Pick<Plate, 'corners' | 'cornerRadius'>): Region => ({
  contours: [roundedPolygon(plate.corners, plate.cornerRadius)],
});

/** The upright box of the outline, without the work of uniting it; null when the part has neither ends nor plates. */
export const outlineBox = (part: Pick<Part, 'ends' | 'arms' | 'plates'>): Box | null =>
  regionBox({ contours: piecesOf(part).flatMap((r) => r.contours) });

/**
 * The outline of a part: ends, arms and plates united, nothing cut out. Where the part asks for a radius in inside
 * corners, these are filled by growing and shrinking by it. Arms that name no ends, or ends within one another, are
 * passed over (the check of the part reports them).
 */
export const outlineOf = (part: Pick<Part, 'ends' | 'arms' | 'plates' | 'insideRadius'>): Region => {
  const { ends, arms, plates, insideRadius } = part;
  const also = `${ends.length} ${arms.length} ${insideRadius}`;
  return outlines.of([...ends, ...arms, ...plates], also, () => united(part));
};

const outlines = knownBy<End | Arm | Plate, Region>();

const united = (part: Pick<Part, 'ends' | 'arms' | 'plates' | 'insideRadius'>): Region => {
  const pieces = piecesOf(part);
  const whole = pieces.length === 0 ? NOTHING : pieces.length === 1 ? pieces[0]! : union(pieces);
  const radius = part.insideRadius ?? 0;
  return radius > 0 && pieces.length + (part.plates.length > 0 ? 1 : 0) > 1
    ? offset(offset(whole, radius), -radius)
    : whole;
};
