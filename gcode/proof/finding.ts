import type { Finding } from '../../sketch/part/part.ts';
import type { Point3 } from '../../sketch/shape/point.ts';

/** A finding of the proof: its place, where it has one, is a point in space in the part's coordinates. */
export type ProofFinding = Omit<Finding, 'at'> & { readonly at?: Point3 };

/** Figures as they stand in sentences. */
export const mm = (value: number, decimals = 2): string => value.toFixed(decimals);
export const placeText = (p: { readonly x: number; readonly y: number }): string =>
  `X ${mm(p.x)}, Y ${mm(p.y)} of the drawing`;
/** An area seen by the map: good to its cells along the edge only. */
export const areaText = (area: number): string => `about ${mm(area, area < 10 ? 1 : 0)} mm²`;
