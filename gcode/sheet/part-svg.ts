import { edgesFromAbove } from '../../sketch/part/edges.ts';
import type { Part } from '../../sketch/part/part.ts';
import { type Solid, solidOf } from '../../sketch/part/solid.ts';
import { polar } from '../../sketch/shape/point.ts';
import { regionBox } from '../../sketch/shape/region.ts';
import { arc } from '../../sketch/shape/segment.ts';
import { centreLinesOf } from './centre-lines.ts';
import { chainPath, coordinate, drawn, harmless } from './svg.ts';

/** Paper left free round the part, mm. */
const MARGIN = 8;

/**
 * The finished part from its front as a drawing to scale 1:1 in mm, arcs kept as arcs.
 * Lines as ISO 128 has them: outline heavy, hidden edges in short dashes, centre lines in chains.
 */
export const partSvg = (part: Part, solid: Solid = solidOf(part)): string => {
  const boxes = solid.slabs.flatMap((slab) => regionBox(slab.region) ?? []);
  const min = { x: Math.min(...boxes.map((b) => b.min.x)), y: Math.min(...boxes.map((b) => b.min.y)) };
  const max = { x: Math.max(...boxes.map((b) => b.max.x)), y: Math.max(...boxes.map((b) => b.max.y)) };
  const width = max.x - min.x + 2 * MARGIN;
  const height = max.y - min.y + 2 * MARGIN;
  const box = [min.x - MARGIN, -max.y - MARGIN, width, height].map(coordinate).join(' ');
  const edges = edgesFromAbove(solid.slabs);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${coordinate(width)}mm" height="${coordinate(height)}mm" viewBox="${box}">`,
    `<title>${harmless(part.name)}</title>`,
    `<style>${LINES}</style>`,
    drawn('hidden', chainPath(edges.hidden)),
    drawn('outline', chainPath(edges.visible)),
    drawn('thread', chainPath(threadsOf(part))),
    ...centreLinesOf(part, [...edges.visible, ...edges.hidden]).map((s) => drawn('centre', chainPath([s]))),
    '</svg>\n',
  ].join('\n');
};

/** Line kinds of ISO 128-2 by weight and dash, mm. */
const LINES = `
path { fill: none; stroke: #000; stroke-linecap: butt; stroke-linejoin: round; }
.outline { stroke-width: 0.5; }
.hidden { stroke-width: 0.25; stroke-dasharray: 2 0.8; }
.thread { stroke-width: 0.25; }
.centre { stroke-width: 0.18; stroke-dasharray: 5 0.8 0.6 0.8; }
`;

/** ISO 6410: a thread seen end on is three quarters of a thin circle at its major diameter. */
export const threadsOf = (part: Part) =>
  part.holes.flatMap((hole) => {
    if (hole.purpose !== 'tapped') return [];
    const from = polar(hole.centre, hole.major / 2, Math.PI * 0.55);
    const to = polar(hole.centre, hole.major / 2, Math.PI * 0.05);
    return [arc(from, to, hole.centre, true)];
  });
