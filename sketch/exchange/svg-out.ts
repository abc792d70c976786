import type { Part } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import { type Region, regionBox } from '../shape/region.ts';
import { piece, radiusOf, type Segment } from '../shape/segment.ts';
import { planRegion } from './plan.ts';

/** Arcs longer than this are written in pieces: of a half turn, the centre hangs on the last digit of its ends. */
const LONGEST_SWEEP = (2 * Math.PI) / 3 + 1e-9;

/** The part in plan as SVG to scale in mm, true arcs, one path by the even-odd rule and nothing else. */
export const writeSvg = (part: Part): string => svgOf(planRegion(part));

export const svgOf = (region: Region): string => {
  const box = regionBox(region) ?? { min: { x: 0, y: 0 }, max: { x: 1, y: 1 } };
  const [width, height] = [box.max.x - box.min.x, box.max.y - box.min.y];
  const view = [box.min.x, -box.max.y, width, height].map(figure).join(' ');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${figure(width)}mm" height="${figure(height)}mm" viewBox="${view}">`,
    `<path fill-rule="evenodd" d="${region.contours.map((c) => contourData(c.segments)).join(' ')}"/>`,
    '</svg>\n',
  ].join('\n');
};

const contourData = (segments: readonly Segment[]): string =>
  segments.length === 0 ? '' : `M${at(segments[0]!.from)}${segments.map(commands).join('')}Z`;

const commands = (s: Segment): string => {
  if (s.kind === 'line') return `L${at(s.to)}`;
  const parts = Math.ceil(Math.abs(s.sweep) / LONGEST_SWEEP);
  const r = figure(radiusOf(s));
  // Y runs down in SVG, so anticlockwise here is its sweep flag 0.
  return Array.from({ length: parts }, (_, i) => piece(s, i / parts, (i + 1) / parts))
    .map((p) => `A${r} ${r} 0 0 ${s.sweep > 0 ? 0 : 1} ${at(p.to)}`)
    .join('');
};

const at = (p: Point): string => `${figure(p.x)} ${figure(-p.y)}`;

const figure = (value: number): string => {
  const text = value.toFixed(6).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};
