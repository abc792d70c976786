import type { Point } from '../../sketch/shape/point.ts';
import type { Region } from '../../sketch/shape/region.ts';
import { radiusOf, type Segment } from '../../sketch/shape/segment.ts';

/**
 * Small builders of SVG text. Drawings are in mm with Y up; SVG's Y runs down, so every Y is turned here and nowhere
 * else, and lettering stays upright.
 */

/** Text made harmless in HTML and SVG, in content and in quoted attributes. */
export const harmless = (text: string): string =>
  // What XML cannot hold at all is left out: controls other than tab and line ends, and lone halves of a pair.
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very ones to be taken out
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]/g, '')
    .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');

/** A coordinate: at most four decimals, no minus before nought. */
export const coordinate = (mm: number): string => {
  const text = mm.toFixed(4).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};

const at = (p: Point): string => `${coordinate(p.x)} ${coordinate(-p.y)}`;

/** One segment as path commands, after a move to its start; arcs stay arcs. */
const segmentCommands = (s: Segment): string => {
  if (s.kind === 'line') return `L${at(s.to)}`;
  const r = coordinate(radiusOf(s));
  const way = s.sweep > 0 ? 0 : 1;
  if (Math.abs(s.sweep) < Math.PI * 2 - 1e-9) {
    return `A${r} ${r} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${way} ${at(s.to)}`;
  }
  const across = { x: 2 * s.centre.x - s.from.x, y: 2 * s.centre.y - s.from.y };
  return `A${r} ${r} 0 0 ${way} ${at(across)}A${r} ${r} 0 0 ${way} ${at(s.from)}`;
};

/** Loose segments as one path; those that follow on from one another are joined. */
export const chainPath = (segments: readonly Segment[]): string => {
  let path = '';
  let end: Point | null = null;
  for (const s of segments) {
    if (end === null || Math.hypot(end.x - s.from.x, end.y - s.from.y) > 1e-6) path += `M${at(s.from)}`;
    path += segmentCommands(s);
    end = s.to;
  }
  return path;
};

/** A region as a closed path, to be filled by the even-odd rule. */
export const regionPath = (region: Region): string =>
  region.contours
    .map(({ segments }) =>
      segments[0] ? `M${at(segments[0].from)}${segments.map(segmentCommands).join('')}Z` : '',
    )
    .join('');

export const drawn = (className: string, path: string): string =>
  path === '' ? '' : `<path class="${className}" d="${path}"/>`;

export const stroke = (className: string, from: Point, to: Point): string =>
  `<path class="${className}" d="M${at(from)}L${at(to)}"/>`;

export const ring = (className: string, centre: Point, radius: number): string =>
  `<circle class="${className}" cx="${coordinate(centre.x)}" cy="${coordinate(-centre.y)}" r="${coordinate(radius)}"/>`;

export const block = (className: string, min: Point, max: Point, hatch?: string): string => {
  const fill = hatch === undefined ? '' : ` style="fill:url(#${hatch})"`;
  return `<rect class="${className}" x="${coordinate(min.x)}" y="${coordinate(-max.y)}" width="${coordinate(max.x - min.x)}" height="${coordinate(max.y - min.y)}"${fill}/>`;
};

/** Lettering with its middle at a place; `size` in mm of the drawing. */
export const letters = (
  place: Point,
  text: string,
  size: number,
  anchor: 'start' | 'middle' | 'end' = 'middle',
): string =>
  `<text x="${coordinate(place.x)}" y="${coordinate(-place.y + size * 0.35)}" font-size="${coordinate(size)}" text-anchor="${anchor}">${harmless(text)}</text>`;
