import { endsOf } from '../part/outline.ts';
import type { Part } from '../part/part.ts';
import type { Region } from '../shape/region.ts';
import { regionBox } from '../shape/region.ts';
import { armMeasures } from './arm-measures.ts';
import { createBook } from './book.ts';
import { cutMeasures } from './cut-measures.ts';
import type { Dimension } from './dimension.ts';
import { edgesOfEnd, notesOf } from './notes.ts';
import { overallMeasures, plateMeasures } from './plate-measures.ts';

export { type Dimension, figure } from './dimension.ts';

/** Two places nearer than this are one, mm. */
const SAME = 1e-3;

/**
 * Everything a drawing of the part should say in plan, after ISO 129-1: each size once, lengths from a common datum,
 * round things by their centres, what follows from other measures in brackets or not at all. Heights belong to the
 * side view.
 */
export const dimensionsOf = (part: Part, outline: Region): readonly Dimension[] => {
  const box = regionBox(outline);
  const shown = part.ends.filter((e) => edgesOfEnd(e, outline).length > 0);
  const book = createBook(part, box, shown);
  // The radius of a round end says how far the outline reaches past its centre.
  for (const e of shown) {
    if (!box) break;
    const { centre: c, radius: r } = e;
    for (const edge of [box.min.x, box.max.x]) {
      if (Math.abs(Math.abs(edge - c.x) - r) < SAME) book.x.join(edge, c.x);
    }
    for (const edge of [box.min.y, box.max.y]) {
      if (Math.abs(Math.abs(edge - c.y) - r) < SAME) book.y.join(edge, c.y);
    }
  }
  const arms = part.arms.flatMap((arm) => {
    const ends = endsOf(part, arm);
    return ends ? [{ arm, ends }] : [];
  });
  armMeasures(book, arms);
  plateMeasures(book, part, outline);
  cutMeasures(book, part, arms, outline);
  if (box) overallMeasures(book, box, shown);
  return [...book.entries, ...notesOf(part, outline)];
};
