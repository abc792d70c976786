import { knownBy } from '../../shape/known.ts';
import { distance, dot, type Point, subtract } from '../../shape/point.ts';
import { contains, nearestBoundary, type Region, segmentsOf, signedDistance } from '../../shape/region.ts';
import { line } from '../../shape/segment.ts';
import { SAME_POINT } from '../../shape/tolerance.ts';
import { alongFork, forkFrom, rootRadius } from '../cut-outs.ts';
import { quoted } from '../names.ts';
import type { End, Fork, Part } from '../part.ts';
import { boundarySeparation } from '../separation.ts';
import { SMALLEST } from '../sizes.ts';
import { plain } from '../units.ts';
import type { Report } from './report.ts';

/** A mouth may lie this far off the edge before it is spoken of, mm. */
const MOUTH_SLACK = 0.01;
/** Places looked at along each side of a fork. */
const STATIONS = 400;

export const checkForks = (part: Part, outline: Region, report: Report): void => {
  for (const fork of part.forks) {
    if (rootFits(fork, report) && mouthOpens(fork, outline, report)) checkTines(part, fork, outline, report);
  }
};

const rootFits = (fork: Fork, report: Report): boolean => {
  const name = quoted(fork.name);
  if (fork.root.kind === 'square' && fork.root.cornerRadius > fork.width / 2 + SAME_POINT) {
    report.error(
      'fork-corner-radius-too-large',
      `Fork ${name} is ${report.amount(fork.width)} wide and cannot have root corners of radius ` +
        `${report.amount(fork.root.cornerRadius)}: at most ${report.amount(fork.width / 2)}.`,
      fork.name,
      fork.mouth,
    );
    return false;
  }
  const least = rootRadius(fork);
  if (fork.depth < least - SAME_POINT) {
    report.error(
      'fork-too-shallow',
      `Fork ${name} is ${report.amount(fork.depth)} deep, less than its root’s radius of ${report.amount(least)}: ` +
        'make it deeper or narrower.',
      fork.name,
      fork.mouth,
    );
    return false;
  }
  return true;
};

const mouthOpens = (fork: Fork, outline: Region, report: Report): boolean => {
  const name = quoted(fork.name);
  const off = signedDistance(outline, fork.mouth);
  const bottom = alongFork(fork, fork.depth, 0);
  if (!contains(outline, bottom)) {
    report.error(
      'fork-root-outside',
      `The root of fork ${name} does not lie within the part: check its mouth, direction (${plain((fork.direction * 180) / Math.PI, 2)}°) and depth.`,
      fork.name,
      bottom,
    );
    return false;
  }
  if (off < -MOUTH_SLACK) {
    report.warning(
      'fork-mouth-inside',
      `The mouth of fork ${name} lies ${report.amount(-off)} inside the edge: everything outward of it, as wide as the fork, is cut away too.`,
      fork.name,
      fork.mouth,
    );
  } else if (off > MOUTH_SLACK) {
    report.warning(
      'fork-mouth-outside',
      `The mouth of fork ${name} lies ${report.amount(off)} outside the edge: its depth in the part is that much less.`,
      fork.name,
      fork.mouth,
    );
  }
  return true;
};

/** The end nearest to a place, measured to its rim. */
const endAt = (part: Part, p: Point): End | null => {
  const reach = (e: End): number => Math.abs(distance(e.centre, p) - e.radius);
  return [...part.ends].sort((a, b) => reach(a) - reach(b))[0] ?? null;
};

const checkTines = (part: Part, fork: Fork, outline: Region, report: Report): void => {
  const end = endAt(part, fork.mouth);
  const name = quoted(fork.name);
  const tines = ([1, -1] as const).map((side) => tineOf(fork, outline, side));
  const onEnd = end !== null && distance(end.centre, fork.mouth) <= end.radius + MOUTH_SLACK;
  if (onEnd && tines.every((t) => t.thickness <= SAME_POINT)) {
    const across = 2 * end.radius;
    const widest = across - 2 * part.leastWall;
    report.error(
      'fork-wider-than-end',
      `Fork ${name} is ${report.amount(fork.width)} wide and leaves nothing of end ${quoted(end.name)}, ${report.amount(across)} across. ` +
        (widest < SMALLEST
          ? 'Make the end larger.'
          : fork.width > widest
            ? `Make the fork at most ${report.amount(widest)} wide, or the end larger.`
            : 'Make the fork narrower, or deeper, so that its straight sides reach into the end.'),
      fork.name,
      fork.mouth,
    );
    return;
  }
  tines.forEach((tine, i) => {
    const short = part.leastWall - tine.thickness;
    if (short <= SAME_POINT) return;
    const narrower = fork.width - 2 * short;
    const mends = [
      ...(narrower > 0 ? [`the fork ${report.amount(narrower)} wide`] : []),
      onEnd
        ? `the radius of ${quoted(end.name)} ${report.amount(end.radius + short)}`
        : 'the part wider there',
    ];
    const which = i === 0 ? 'left' : 'right';
    report.error(
      tine.thickness <= SAME_POINT ? 'fork-without-tine' : 'tine-too-thin',
      tine.thickness <= SAME_POINT
        ? `Fork ${name} leaves no tine on its ${which} (looking in from the mouth). Make ${mends.join(' or ')}.`
        : `Fork ${name}: its ${which} tine (looking in from the mouth) is ${report.amount(tine.thickness)}, thinner than the ` +
            `${report.amount(part.leastWall)} asked for. Make ${mends.join(' or ')}.`,
      fork.name,
      tine.at,
    );
  });
  checkRoot(part, fork, outline, report);
};

/** The way to the edge is square to a fork's side when it turns no more than 10° from it. */
const SQUARE = Math.cos((10 * Math.PI) / 180);

/**
 * Thickness of the tine on one side of a fork (1 left, −1 right, looking in from the mouth), mm: the shortest way from
 * the fork's side to the edge, past the rounding of the tip, down to the root. The rounding ends where the way to the
 * edge stands square to the side, or where the tine stops growing thicker, whichever comes first.
 */
const tineOf = (fork: Fork, outline: Region, side: 1 | -1): Tine =>
  knownTines.of([fork, outline], String(side), () => tineBeside(fork, outline, side));

interface Tine {
  readonly thickness: number;
  readonly at: Point;
}

/** A fork and an outline that an edit leaves alone have the tines that they had. */
const knownTines = knownBy<Fork | Region, Tine>();

const tineBeside = (fork: Fork, outline: Region, side: 1 | -1): Tine => {
  const shoulder = fork.depth - rootRadius(fork);
  const outward = { x: -Math.sin(fork.direction) * side, y: Math.cos(fork.direction) * side };
  const stations = Array.from({ length: STATIONS + 1 }, (_, i) => {
    const p = alongFork(fork, (shoulder * i) / STATIONS, (side * fork.width) / 2);
    const near = nearestBoundary(outline, p);
    if (near === null || !contains(outline, p)) return { p, wall: 0, square: false };
    return {
      p,
      wall: near.distance,
      square: dot(subtract(near.point, p), outward) >= SQUARE * near.distance,
    };
  });
  const first = stations.findIndex(
    (s, i) => s.wall > SAME_POINT && (s.square || s.wall + 1e-9 >= (stations[i + 1]?.wall ?? 0)),
  );
  const last = stations[STATIONS]!;
  if (first < 0) return { thickness: 0, at: last.p };
  const gap = stations.slice(first).find((s) => s.wall === 0);
  if (gap !== undefined) return { thickness: 0, at: gap.p };
  const tip = stations[first]!;
  if (tip === last) return { thickness: last.wall, at: last.p };
  const found = boundarySeparation([line(tip.p, last.p)], segmentsOf(outline));
  return found === null ? { thickness: tip.wall, at: tip.p } : { thickness: found.distance, at: found.from };
};

/** The wall behind the root, to the part's edge. Holes and slots behind it are looked at with the other cuts. */
const checkRoot = (part: Part, fork: Fork, outline: Region, report: Report): void => {
  const root = segmentsOf(forkFrom(fork, 0)).slice(2, -1);
  const found = boundarySeparation(root, segmentsOf(outline));
  if (found === null || found.distance >= part.leastWall - SAME_POINT) return;
  // The tines meet the root's ends; what is thin there has been said of them.
  const shoulder = fork.depth - rootRadius(fork);
  const inward =
    (found.from.x - fork.mouth.x) * Math.cos(fork.direction) +
    (found.from.y - fork.mouth.y) * Math.sin(fork.direction);
  if (inward <= shoulder + 1e-3) return;
  report.error(
    'fork-root-wall-too-thin',
    `Fork ${quoted(fork.name)} leaves a wall of ${report.amount(found.distance)} at its root, thinner than the ` +
      `${report.amount(part.leastWall)} asked for: make it ${report.amount(part.leastWall - found.distance)} shallower.`,
    fork.name,
    found.from,
  );
};
