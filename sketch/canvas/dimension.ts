import type { Measure } from '../draft/measure.ts';
import type { Unit } from '../part/part.ts';
import { MM_PER_INCH, plain } from '../part/units.ts';
import type { Point } from '../shape/point.ts';

interface Said {
  /** The feature it belongs to; empty for a measure of the whole part. */
  readonly feature: string;
  readonly text: string;
  /** What is given another value when another figure is written; null for a measure that drives nothing. */
  readonly measures: Measure | null;
  /** Where one note speaks for several features alike: the others. */
  readonly alike?: readonly { readonly feature: string; readonly measures: Measure | null }[];
}

/** A measure as it is written on a drawing: a dimension line between two places, an angle, or a note on a leader. */
export type Dimension =
  | (Said & {
      readonly kind: 'linear';
      readonly from: Point;
      readonly to: Point;
      /** Unit direction that is measured along. */
      readonly along: Point;
      /** Kept outside everything else. */
      readonly overall?: boolean;
    })
  | (Said & {
      readonly kind: 'angle';
      readonly vertex: Point;
      /** Direction of the first leg, radians, and how far on to the second, anticlockwise when positive. */
      readonly from: number;
      readonly sweep: number;
      /** How far each leg is drawn anyway, mm from the vertex: no extension line is wanted up to there. */
      readonly legs: readonly [number, number];
    })
  | (Said & {
      readonly kind: 'note';
      readonly at: Point;
      /** The leader stops at this distance from `at`, mm: 0 ends it in a dot. */
      readonly radius: number;
      /** Way the leader would like to go, radians; null where it does not matter. */
      readonly toward: number | null;
      /** Directions in which there is an edge for the arrow to touch, [from, sweep] in radians; null for all round. */
      readonly edges: readonly (readonly [number, number])[] | null;
      /** The edge is hollow: the leader comes to it from the side of its centre. */
      readonly hollow?: boolean;
    });

/** A length as lettered on the drawing, in the part's own unit and without naming it. */
export const figure = (mm: number, u: Unit): string =>
  u === 'mm' ? plain(mm, 2) : plain(mm / MM_PER_INCH, 4);

/** An angle as lettered on the drawing, from radians. */
export const degrees = (radians: number): string => `${plain((Math.abs(radians) * 180) / Math.PI, 2)}°`;

/** A measure that follows from others, as ISO 129-1 writes it: in brackets. */
export const auxiliary = (text: string): string => `(${text})`;

/** Every feature a measure speaks of. */
export const featuresOf = (d: Dimension): readonly string[] => {
  const m = d.measures;
  const places = m?.kind === 'between' ? [m.from, m.to] : m?.kind === 'angle' ? [m.vertex, m.from, m.to] : [];
  const between = places.flatMap((place) => place?.feature ?? []);
  const alike = (d.alike ?? []).map((a) => a.feature);
  return [...new Set([d.feature, ...between, ...alike])].filter((name) => name !== '');
};
