import type { Measure, MeasuredPlace } from '../draft/measure.ts';
import type { Arm, End, Part } from '../part/part.ts';
import { type Box, distance, dot, type Point, subtract, unit } from '../shape/point.ts';
import { auxiliary, type Dimension, figure } from './dimension.ts';
import { createLedger, type Ledger } from './ledger.ts';

/** A place of a feature, with where it lies, mm. */
export interface Place extends MeasuredPlace {
  readonly at: Point;
}

export interface ArmWithEnds {
  readonly arm: Arm;
  readonly ends: readonly [End, End];
}

const SAME = 1e-3;
const X: Point = { x: 1, y: 0 };
const Y: Point = { x: 0, y: 1 };

/** What has been said of the part so far, and what is known by it. */
export interface Book {
  readonly entries: readonly Dimension[];
  /** Coordinates known by each other, across and up. */
  readonly x: Ledger;
  readonly y: Ledger;
  readonly say: (mm: number) => string;
  readonly datum: { readonly x: Place; readonly y: Place } | null;
  /** A distance as two places lie to each other. `known` ones follow from others and are put in brackets. */
  straight(feature: string, from: Place, to: Place, known?: boolean): void;
  /** A distance across (`x`) or up (`y`), if it says anything new. */
  along(axis: 'x' | 'y', feature: string, from: Place, to: Place, overall?: boolean): void;
  /** Gives a place from the datum, in each direction in which it is not known yet. */
  locate(place: Place): void;
  add(d: Dimension): void;
}

export const createBook = (part: Part, box: Box | null, shown: readonly End[]): Book => {
  const entries: Dimension[] = [];
  const say = (mm: number): string => figure(mm, part.unit);
  const ledgers = { x: createLedger(), y: createLedger() };
  const datum = datumOf(part, box, shown);
  const book: Book = {
    entries,
    ...ledgers,
    say,
    datum,
    add: (d) => {
      entries.push(d);
    },
    straight: (feature, a, b, known = false) => {
      const [from, to] = a.at.x <= b.at.x ? [a, b] : [b, a];
      const text = say(distance(from.at, to.at));
      entries.push({
        kind: 'linear',
        feature,
        from: from.at,
        to: to.at,
        along: unit(subtract(to.at, from.at)),
        text: known ? auxiliary(text) : text,
        measures: known ? null : between(a, b, 'straight'),
      });
    },
    along: (axis, feature, from, to, overall = false) => {
      if (!ledgers[axis].join(from.at[axis], to.at[axis])) return;
      const way = axis === 'x' ? X : Y;
      entries.push({
        kind: 'linear',
        feature,
        from: from.at,
        to: to.at,
        along: way,
        text: say(Math.abs(dot(subtract(to.at, from.at), way))),
        measures: between(from, to, axis),
        ...(overall ? { overall } : {}),
      });
    },
    locate: (place) => {
      if (!datum) return;
      book.along('x', place.feature, datum.x, place);
      book.along('y', place.feature, datum.y, place);
    },
  };
  return book;
};

const between = (from: Place, to: Place, along: 'x' | 'y' | 'straight'): Measure => ({
  kind: 'between',
  from: spotOf(from),
  to: spotOf(to),
  along,
});

export const spotOf = ({ feature, point }: Place): MeasuredPlace => ({ feature, point });

export const centreOf = (f: { readonly name: string; readonly centre: Point }): Place => ({
  feature: f.name,
  point: 'centre',
  at: f.centre,
});

/** Where lengths are measured from: a straight edge that bounds the part, or the centre of its busiest round end. */
const datumOf = (part: Part, box: Box | null, shown: readonly End[]): Book['datum'] => {
  const arms = (e: End): number => part.arms.filter((a) => a.from === e.name || a.to === e.name).length;
  const root = [...shown].sort((a, b) => arms(b) - arms(a))[0];
  const edge = (axis: 'x' | 'y', value: number): Place | null => {
    for (const p of part.plates) {
      const n = p.corners.findIndex((c, i) => {
        const next = p.corners[(i + 1) % p.corners.length]!;
        return Math.abs(c[axis] - value) < SAME && Math.abs(next[axis] - value) < SAME;
      });
      if (n >= 0) return { feature: p.name, point: n, at: p.corners[n]! };
    }
    return null;
  };
  const centre = root ? centreOf(root) : null;
  const x = (box && (edge('x', box.min.x) ?? edge('x', box.max.x))) ?? centre;
  // Levers are drawn about their centre line: heights are measured from it, not from an edge.
  const y = centre ?? (box && (edge('y', box.min.y) ?? edge('y', box.max.y)));
  return x && y ? { x, y } : null;
};
