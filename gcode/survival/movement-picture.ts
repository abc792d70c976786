import type { Unit } from '../../sketch/part/part.ts';
import { mmPer } from '../../sketch/part/units.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { type Banded, bandStep, bandsOf, chained, stepText } from '../../toolpath/survival/bands.ts';
import { bentFacets, type Facet, surfaceMovement, type View } from '../../toolpath/survival/bent-facets.ts';
import type { BentWork } from '../../toolpath/survival/bent-work.ts';
import { edgeOutline, stockOutline } from '../../toolpath/survival/stock-outline.ts';
import { letteringOf } from './picture-letters.ts';
import { type Box, boxAbout, joined, type Mark, marksOf, type PicturedWork } from './picture-marks.ts';

/** One thing to draw: a path in mm with Y down, as SVG has it. */
export interface Piece {
  readonly kind: 'band' | 'line' | 'rim' | 'step';
  /** Band from 0; 0 for lines. */
  readonly band: number;
  readonly path: string;
}

export interface Lettering {
  readonly at: Point;
  readonly text: string;
  readonly anchor: 'start' | 'middle' | 'end';
}

export interface MovementView {
  readonly view: View;
  /** What is shown, mm, with Y down. */
  readonly box: Box;
  /** The outline at rest, a path that lies under all. */
  readonly rest: string;
  /** The work drawn bent, from the farthest to the nearest. */
  readonly work: readonly Piece[];
  /** What the work is clipped to: its true outline in place of the bricks' stairs; null where that is not needed. */
  readonly clip: string | null;
  /** What lies over it: jaws, the cutter, the force. */
  readonly marks: readonly Mark[];
  readonly letters: readonly Lettering[];
}

/** The work under one force, bent and banded by movement, from above and from the edge. Estimates; mm. */
export interface MovementPicture {
  /** Movements are drawn this many times as large. */
  readonly exaggeration: number;
  /** What its figures are in. */
  readonly unit: Unit;
  /** Movement from one line of equal movement to the next, mm: a round figure in the unit. */
  readonly step: number;
  readonly bands: number;
  /** Height of lettering. */
  readonly letter: number;
  readonly views: readonly [MovementView, MovementView];
}

/** Movements are drawn at most this share of the work's length large. */
const DRAWN = 0.06;

/** The largest round number (1, 2 or 5 of some power of ten) that draws a movement no larger than `size` mm. */
export const exaggerationFor = (most: number, size: number): number => {
  if (!(most > 0)) return 1;
  const wanted = size / most;
  const power = 10 ** Math.floor(Math.log10(wanted));
  return [5, 2, 1].map((f) => f * power).find((e) => e <= wanted * (1 + 1e-9)) ?? power;
};

/** The figure of a line of equal movement, by its number from 1, in the picture's unit. */
export const levelText = ({ step, unit }: Pick<MovementPicture, 'step' | 'unit'>, level: number): string => {
  const own = step / mmPer(unit);
  return stepText(level * own, own);
};

/** How large movements are drawn, and the steps of their key. */
export interface PictureScale {
  readonly exaggeration: number;
  readonly step: number;
  /** The largest movement that it is for, mm. */
  readonly most: number;
}

/** One scale for several works, so that what is drawn side by side can be compared. */
export const scaleFor = (works: readonly BentWork[], unit: Unit): PictureScale => {
  const most = works.reduce((all, work) => Math.max(all, work.most), 0);
  const length = works.reduce((all, { map }) => Math.max(all, map.columns * map.cell), 0);
  const step = bandStep(most / mmPer(unit)) * mmPer(unit);
  return { exaggeration: exaggerationFor(most, DRAWN * length), step, most };
};

/**
 * The picture of one movement, its letters so high that `across` of them stand side by side in its width; to a scale of its
 * own where none is given.
 */
export const movementPicture = (
  field: PicturedWork,
  across: number,
  unit: Unit,
  { exaggeration, step, most }: PictureScale = scaleFor([field], unit),
): MovementPicture => {
  const terms = { field, exaggeration, unit, step, across };
  const [above, edge] = [viewFrom(terms, 'above'), viewFrom(terms, 'edge')];
  // One over the other, X to X.
  const from = Math.min(above.box.x, edge.box.x);
  const to = Math.max(above.box.x + above.box.width, edge.box.x + edge.box.width);
  const wide = (view: MovementView): MovementView => ({
    ...view,
    box: { ...view.box, x: from, width: to - from },
  });
  return {
    exaggeration,
    unit,
    step,
    bands: Math.floor(most / step + 1e-9) + 1,
    letter: letterOf(field, across),
    views: [wide(above), wide(edge)],
  };
};

interface PictureTerms {
  readonly field: PicturedWork;
  readonly exaggeration: number;
  readonly unit: Unit;
  readonly step: number;
  readonly across: number;
}

const letterOf = ({ map }: BentWork, across: number): number => (map.columns * map.cell) / across;

const viewFrom = (terms: PictureTerms, view: View): MovementView => {
  const { field, exaggeration, unit, step, across } = terms;
  const layers = bentFacets(field, view);
  const banded = layers.map((facets) => bandsOf(facets, step, exaggeration));
  const { rest, bent, steps } = linesOf(field, view, exaggeration);
  const letter = letterOf(field, across);
  const work = layers.flatMap((facets, n) => [...piecesOf(banded[n]!), ...sidePieces(facets, exaggeration)]);
  const drawn =
    view === 'above' ? bent : layers.flatMap((facets) => facets.map((f) => ringOf(f, exaggeration)));
  const marks = marksOf({ field, view, exaggeration, letter, rest });
  const box = boxAbout([...rest, ...drawn, ...marks.map((m) => m.about)], letter);
  return {
    view,
    box,
    rest: joined(rest, true),
    work: [
      ...work,
      ...(view === 'above'
        ? [
            { kind: 'step' as const, band: 0, path: joined(steps, false) },
            { kind: 'rim' as const, band: 0, path: joined(bent, true) },
          ]
        : []),
    ],
    clip: view === 'above' ? joined(bent, true) : null,
    marks,
    letters: letteringOf({
      banded,
      layers,
      textOf: (level) => levelText({ step, unit }, level),
      exaggeration,
      letter,
      marks,
      box,
    }),
  };
};

/** The outlines of a view: at rest, and from above also bent, with the steps of the face. */
const linesOf = (field: BentWork, view: View, exaggeration: number) => {
  const { map, setup } = field;
  const { frame } = setup;
  if (view === 'edge') return { rest: edgeOutline(map, frame), bent: [], steps: [] };
  const { loops, steps } = stockOutline(map, frame);
  const movement = surfaceMovement(field);
  const level = (p: Point): Point => toProgram(frame, { ...p, z: 0 });
  const bend = (p: Point): Point => {
    const { x, y } = level(p);
    const { dx, dy } = movement(p.x, p.y);
    return { x: x + exaggeration * dx, y: y + exaggeration * dy };
  };
  return {
    rest: loops.map((loop) => loop.map(level)),
    bent: loops.map((loop) => loop.map(bend)),
    steps: steps.map((line) => line.map(bend)),
  };
};

const piecesOf = ({ bands, lines }: Banded): readonly Piece[] => [
  ...[...bands]
    .sort(([a], [b]) => a - b)
    .map(([band, patches]): Piece => ({ kind: 'band', band, path: joined(patches, true) })),
  ...[...lines].map(([level, list]): Piece => ({ kind: 'line', band: level, path: joined(list, false) })),
];

const ringOf = ({ corners }: Facet, k: number): readonly Point[] =>
  corners.map(({ x, y, dx, dy }) => ({ x: x + k * dx, y: y + k * dy }));

/** A step shorter than this is one of the bricks and not of the work, mm. */
const LEAST_STEP = 3;

/** Rims and steps of a layer, seen from the edge. */
const sidePieces = (facets: readonly Facet[], k: number): readonly Piece[] =>
  (['step', 'rim'] as const).flatMap((kind): readonly Piece[] => {
    const pieces = facets.flatMap((facet) => {
      const ring = ringOf(facet, k);
      return facet.sides.flatMap((side, n) =>
        side === kind ? [[ring[n]!, ring[(n + 1) % 4]!] as const] : [],
      );
    });
    const lines = chained(pieces).filter((line) => kind === 'rim' || lengthOf(line) > LEAST_STEP);
    return lines.length === 0 ? [] : [{ kind, band: 0, path: joined(lines, false) }];
  });

const lengthOf = (line: readonly Point[]): number =>
  line.slice(1).reduce((sum, p, n) => sum + Math.hypot(p.x - line[n]!.x, p.y - line[n]!.y), 0);
