import { forkFrom } from '../part/cut-outs.ts';
import { outlineOf } from '../part/outline.ts';
import type { Finding, Fork } from '../part/part.ts';
import type { PartDocument } from '../part/schema.ts';
import { difference, union } from '../shape/boolean.ts';
import type { Point } from '../shape/point.ts';
import { type Contour, perimeter, type Region, regionBox } from '../shape/region.ts';
import { type Body, bodiesOf } from './bodies.ts';
import { type Drawing, leftOutFinding, Tally } from './drawing.ts';
import { type FoundFork, withoutForks } from './forks.ts';
import { areaBetween } from './likeness.ts';
import { type Nested, nest } from './nesting.ts';
import { outlinesOf } from './outlines.ts';
import { documentOf, type Inner, type RecognitionOptions } from './recognised.ts';
import { circleOf, type Round, type Stadium, stadiumOf } from './shapes.ts';

export type { RecognitionOptions } from './recognised.ts';

/** What became of a drawing. */
export interface Recognition {
  /** Null when the outline is not plain enough to be made of ends, arms, plates and forks. */
  readonly document: PartDocument | null;
  /** What came of it, by kind: round end, arm, plate, hole, slot, fork. */
  readonly became: readonly { readonly what: string; readonly count: number }[];
  readonly leftOut: readonly { readonly what: string; readonly count: number }[];
  /** Area by which the outline of the part differs from the one drawn, mm²; null without a document. */
  readonly areaOff: number | null;
  readonly findings: readonly Finding[];
}

/** More closed outlines than this are no lever; a part holds at most 500 of a kind. */
const MOST_OUTLINES = 1000;
const MOST_OF_A_KIND = 500;
/** Edges of one outline beyond this are not looked at for ends and arms. */
const MOST_EDGES = 400;
/** A recognised outline is the drawn one when they differ by no more than this, mm². */
const SAME_AREA = 0.005;

/**
 * Makes a part of a drawing: circles become holes, stadiums slots, and the largest outline ends, arms, plates and
 * forks, where these give that very outline. What becomes of nothing is counted. Never throws on what a reader gave.
 */
export const recognise = (drawing: Drawing, options: RecognitionOptions): Recognition => {
  const outlines = outlinesOf(drawing);
  const leftOut = new Tally();
  for (const { what, count } of outlines.leftOut) leftOut.add(what, count);
  const findings: Finding[] = [];
  if (outlines.widestGap > 1e-4) {
    findings.push({
      code: 'drawing-gap',
      severity: 'note',
      message: `Ends up to ${outlines.widestGap.toFixed(4)} mm apart were joined.`,
    });
  }
  if (outlines.closed.length === 0) {
    return nothing(
      'drawing-open',
      'Nothing in the drawing is closed, so there is no outline.',
      leftOut,
      findings,
    );
  }
  if (outlines.closed.length > MOST_OUTLINES) {
    return nothing(
      'drawing-too-many',
      `The drawing has ${outlines.closed.length} closed outlines; at most ${MOST_OUTLINES} can be one part.`,
      leftOut,
      findings,
    );
  }
  const nested = nest(outlines.closed);
  const outer = nested[0];
  if (outer === undefined) {
    return nothing('drawing-open', 'No outline in the drawing has an area.', leftOut, findings);
  }
  const inner = innerShapes(nested, outlines.tolerance, leftOut);
  const found = bodyOf(outer.contour, outlines.tolerance, drawing.fit.worst);
  if (found === null) {
    leftOut.add(`outline of ${kindsOf(outer.contour)}`);
    for (const [what, list] of [
      ['round hole', inner.holes],
      ['slot', inner.slots],
    ] as const) {
      if (list.length > 0) leftOut.add(what, list.length);
    }
    return nothing(
      'outline-not-plain',
      `The outline of ${kindsOf(outer.contour)} is not plainly made of round ends, tangent arms, one plate and forks; draw it anew over the drawing.`,
      leftOut,
      findings,
    );
  }
  const document = documentOf(drawing, options, found.body, found.forks, inner, outer.contour);
  const { ends, arms, plates, insideRadius } = found.body;
  const became = [
    { what: 'round end', count: ends.length },
    { what: 'arm', count: arms.length },
    { what: 'plate', count: plates.length },
    { what: 'inside radius', count: insideRadius === undefined ? 0 : 1 },
    { what: 'fork', count: found.forks.length },
    { what: 'hole', count: inner.holes.length },
    { what: 'slot', count: inner.slots.length },
  ].filter((b) => b.count > 0);
  return {
    document,
    became,
    leftOut: leftOut.list(),
    areaOff: found.areaOff,
    findings: [...findings, ...leftOutFinding(leftOut.list())],
  };
};

const nothing = (
  code: string,
  message: string,
  leftOut: Tally,
  findings: readonly Finding[],
): Recognition => ({
  document: null,
  became: [],
  leftOut: leftOut.list(),
  areaOff: null,
  findings: [{ code, message, severity: 'error' }, ...findings, ...leftOutFinding(leftOut.list())],
});

/** Holes and slots right within the outline; the rest is counted. Of circles round one centre the smallest is the hole. */
const innerShapes = (nested: readonly Nested[], tolerance: number, leftOut: Tally): Inner => {
  const holes: Round[] = [];
  const slots: Stadium[] = [];
  nested.forEach(({ contour, depth, within }, i) => {
    if (i === 0) return;
    if (within !== 0 && depth !== 2) {
      leftOut.add(depth === 0 ? 'outline beside the largest one' : 'outline deep within others');
      return;
    }
    const round = circleOf(contour);
    const around = depth === 2 && nested[within!]!.within === 0 ? circleOf(nested[within!]!.contour) : null;
    if (depth === 2) {
      const isBore =
        round !== null &&
        around !== null &&
        Math.hypot(round.centre.x - around.centre.x, round.centre.y - around.centre.y) < 0.02;
      if (!isBore) {
        leftOut.add('outline within a hole');
        return;
      }
      // The circle round it was taken for a hole; it is a counterbore or a chamfer, of unknown depth.
      const at = holes.findIndex((h) => h.centre === around.centre && h.radius === around.radius);
      if (at >= 0) {
        holes.splice(at, 1, round);
        leftOut.add('larger circle round a hole, whose depth is not said');
      } else leftOut.add('outline within a hole');
      return;
    }
    const stadium = stadiumOf(contour, tolerance);
    if (round !== null && holes.length < MOST_OF_A_KIND) holes.push(round);
    else if (stadium !== null && slots.length < MOST_OF_A_KIND) slots.push(stadium);
    else leftOut.add(`opening of ${kindsOf(contour)}`);
  });
  const byPlace = (a: Point, b: Point): number => a.x - b.x || a.y - b.y;
  return {
    holes: holes.sort((a, b) => byPlace(a.centre, b.centre)),
    slots: slots.sort((a, b) => byPlace(a.from, b.from)),
  };
};

interface Found {
  readonly body: Body;
  readonly forks: readonly FoundFork[];
  readonly areaOff: number;
}

/** The first guess that gives the drawn outline, with its forks taken out or, failing that, left in. */
const bodyOf = (contour: Contour, tolerance: number, worst: number): Found | null => {
  if (contour.segments.length > MOST_EDGES) return null;
  const drawn: Region = { contours: [contour] };
  const allowed = SAME_AREA + perimeter(drawn) * worst;
  const round = circleOf(contour);
  if (round !== null) {
    return { body: { ends: [{ name: 'end 1', ...round }], arms: [], plates: [] }, forks: [], areaOff: 0 };
  }
  const opened = withoutForks(contour, tolerance);
  const ways = opened.forks.length > 0 ? [opened, { contour, forks: [] }] : [opened];
  for (const way of ways) {
    for (const body of bodiesOf(way.contour, tolerance)) {
      const made = madeOf(body, way.forks);
      const areaOff = areaBetween(drawn, made);
      if (areaOff <= allowed) return { body, forks: way.forks, areaOff };
    }
  }
  return null;
};

const madeOf = (body: Body, forks: readonly FoundFork[]): Region => {
  const outline = outlineOf(body);
  if (forks.length === 0) return outline;
  const box = regionBox(outline);
  const outward = box === null ? 1 : box.max.x - box.min.x + box.max.y - box.min.y;
  return difference(outline, union(forks.map((f) => forkFrom(asFork(f), outward))));
};

const asFork = (f: FoundFork): Fork => ({
  name: 'fork',
  mouth: f.mouth,
  direction: f.direction,
  width: f.width,
  depth: f.depth,
  root: f.root === 'round' ? { kind: 'round' } : { kind: 'square', cornerRadius: f.cornerRadius },
});

const kindsOf = (c: Contour): string => {
  const lines = c.segments.filter((s) => s.kind === 'line').length;
  const arcs = c.segments.length - lines;
  const said = (n: number, what: string): readonly string[] =>
    n === 0 ? [] : [`${n} ${what}${n === 1 ? '' : 's'}`];
  return [...said(lines, 'line'), ...said(arcs, 'arc')].join(' and ');
};
