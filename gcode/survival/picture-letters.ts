import type { Point } from '../../sketch/shape/point.ts';
import type { Banded } from '../../toolpath/survival/bands.ts';
import type { Facet } from '../../toolpath/survival/bent-facets.ts';
import type { Lettering } from './movement-picture.ts';
import type { Box, Mark } from './picture-marks.ts';

interface LetterTerms {
  /** From the farthest layer to the nearest. */
  readonly banded: readonly Banded[];
  readonly layers: readonly (readonly Facet[])[];
  /** The figure of a line of equal movement by its number. */
  readonly textOf: (level: number) => string;
  readonly exaggeration: number;
  readonly letter: number;
  readonly marks: readonly Mark[];
  readonly box: Box;
}

/** A line shorter than this gets no figure, letters. */
const LEAST_LINE = 0.45;

/**
 * The figures on the picture: on each line of equal movement its size, at the middle of its longest piece, where there is
 * room and nothing lies before it; and at the force's arrow its newtons.
 */
export const letteringOf = (terms: LetterTerms): readonly Lettering[] => {
  const { banded, textOf, letter, marks, box } = terms;
  const placed: Lettering[] = marks.flatMap(({ label }) =>
    label ? [{ at: inside(label.at, box, letter), text: label.text, anchor: 'middle' }] : [],
  );
  const taken = placed.map((l) => ({ at: l.at, half: halfWidth(l.text, letter) }));
  // Arrows are not written over.
  for (const at of marks.flatMap((m) => m.keepOff ?? [])) taken.push({ at, half: letter / 2 });
  const levels = new Set(banded.flatMap((b) => [...b.lines.keys()]));
  for (const level of [...levels].sort((a, b) => b - a)) {
    const text = textOf(level);
    const half = halfWidth(text, letter);
    const spot = banded
      .flatMap((b, layer) => (b.lines.get(level) ?? []).map((line) => ({ line, layer })))
      .map(({ line, layer }) => ({ ...middleOf(line), layer }))
      .filter((m) => m.length >= LEAST_LINE * letter)
      .sort((a, b) => b.length - a.length)
      .find(({ at, layer }) => isClear(at, half, taken, letter) && !isHidden(at, layer, terms));
    if (!spot) continue;
    taken.push({ at: spot.at, half });
    placed.push({ at: spot.at, text, anchor: 'middle' });
  }
  return placed;
};

const halfWidth = (text: string, letter: number): number => 0.3 * letter * text.length;

const inside = (at: Point, box: Box, letter: number): Point => ({
  x: Math.min(box.x + box.width - 1.6 * letter, Math.max(box.x + 1.6 * letter, at.x)),
  y: -Math.min(box.y + box.height - 0.7 * letter, Math.max(box.y + 0.7 * letter, -at.y)),
});

const isClear = (
  at: Point,
  half: number,
  taken: readonly { readonly at: Point; readonly half: number }[],
  letter: number,
): boolean =>
  taken.every(
    (t) => Math.abs(t.at.x - at.x) > t.half + half + 0.3 * letter || Math.abs(t.at.y - at.y) > 1.2 * letter,
  );

/** The point half way along a line, and the line's length. */
const middleOf = (line: readonly Point[]): { readonly at: Point; readonly length: number } => {
  const lengths = line.slice(1).map((p, n) => Math.hypot(p.x - line[n]!.x, p.y - line[n]!.y));
  const length = lengths.reduce((sum, l) => sum + l, 0);
  let left = length / 2;
  for (const [n, l] of lengths.entries()) {
    if (left <= l) {
      const [a, b] = [line[n]!, line[n + 1]!];
      const t = l > 0 ? left / l : 0;
      return { at: { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) }, length };
    }
    left -= l;
  }
  return { at: line[0]!, length };
};

/** Whether a nearer layer lies over a place of the picture. */
const isHidden = (at: Point, layer: number, { layers, exaggeration }: LetterTerms): boolean =>
  layers.slice(layer + 1).some((facets) => facets.some((facet) => covers(facet, at, exaggeration)));

const covers = ({ corners }: Facet, at: Point, k: number): boolean => {
  let odd = false;
  for (let n = 0; n < 4; n++) {
    const [a, b] = [corners[n]!, corners[(n + 1) % 4]!];
    const [ay, by] = [a.y + k * a.dy, b.y + k * b.dy];
    if (ay > at.y === by > at.y) continue;
    const [ax, bx] = [a.x + k * a.dx, b.x + k * b.dx];
    if (at.x < ax + ((at.y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  }
  return odd;
};
