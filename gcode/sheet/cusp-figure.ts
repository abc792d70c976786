import type { Part } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { polar } from '../../sketch/shape/point.ts';
import { arc } from '../../sketch/shape/segment.ts';
import type { RoundEndByHand } from '../table/round-ends.ts';
import { chainPath, coordinate, drawn, ring } from './svg.ts';

/** Size on paper, mm. */
const WIDTH = 50;
const HEIGHT = 34;

/**
 * The cusps between three stops, to scale: the edge wanted, the cutter at each stop, what is left between them. So
 * much larger than it is that a step takes a third of the width; the scale is written below.
 */
export const cuspFigure = (part: Part, { edge, nibble, cutter }: RoundEndByHand): string => {
  if (nibble === null || nibble.stops.length < 3) return '';
  const c = cutter.diameter / 2;
  const centre = { x: 0, y: -edge.radius };
  const up = Math.PI / 2;
  const step = Math.abs(nibble.step);
  const scale = roundScale(WIDTH / 3 / (edge.radius * step));
  const half = WIDTH / 2 / scale;
  const high = (HEIGHT * 0.6) / scale;
  const box = [-half, -high, WIDTH / scale, HEIGHT / scale].map(coordinate).join(' ');
  const reach = Math.min(Math.PI / 2, (half * 1.5) / edge.radius);
  const wanted = arc(
    polar(centre, edge.radius, up + reach),
    polar(centre, edge.radius, up - reach),
    centre,
    false,
  );
  const cutters = [-1.5, -0.5, 0.5, 1.5].map((k) =>
    ring('cutter', polar(centre, edge.radius + c, up + k * step), c),
  );
  const times = Number.isInteger(scale) ? String(scale) : scale.toFixed(1);
  return `<figure><svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}mm" height="${HEIGHT}mm" viewBox="${box}" role="img" aria-label="Cusps ${times} times their size">${drawn('outline', chainPath([wanted]))}${cutters.join('')}</svg><figcaption>${times} times its size. Heavy: the edge wanted; thin: the cutter at four stops. Between them cusps of ${lengthText(nibble.cusp, part.unit)}.</figcaption></figure>`;
};

/** The greatest round number of times that is no more. */
const roundScale = (times: number): number => [1, 2, 5, 10, 20, 50].filter((k) => k <= times).at(-1) ?? 1;
