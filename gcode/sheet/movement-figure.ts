import type { MovementPicture, MovementView } from '../survival/movement-picture.ts';
import { coordinate, harmless } from './svg.ts';

/** Widest and highest that a view may be on paper, mm. */
const WIDTH = 178;
const HEIGHT = 70;

/** The work bent under a force for paper: black lines on white, from above and from the edge. `id` tells figures apart. */
export const movementFigure = (picture: MovementPicture, id: string): string =>
  picture.views
    .map((view) => viewSvg(view, `${id}-${view.view}`, { width: WIDTH, letter: picture.letter }))
    .join('');

/** Widest that one of two views side by side may be on paper, and how high its lettering is, mm. */
const HALF = 84;
const SMALL = 2.6;

/** One view, for two of them side by side. */
export const viewFigure = (view: MovementView, id: string): string =>
  viewSvg(view, id, { width: HALF, letter: SMALL / scaleOf(view, HALF) });

const scaleOf = ({ box }: MovementView, width: number): number =>
  Math.min(width / box.width, HEIGHT / box.height);

const NAMES = { above: 'From above', edge: 'From the edge nearest you' } as const;

const viewSvg = (
  view: MovementView,
  id: string,
  { width, letter }: { readonly width: number; readonly letter: number },
): string => {
  const { box, rest, clip, work, marks, letters } = view;
  const k = scaleOf(view, width);
  const clipped = clip === null ? '' : ` clip-path="url(#${id}-clip)"`;
  const gap = coordinate(1.6 / k);
  const drawn = (kind: string, path: string): string =>
    path === '' ? '' : `<path class="m-${kind}" d="${path}" vector-effect="non-scaling-stroke"/>`;
  const surface = work.filter((p) => p.kind === 'band' || p.kind === 'line' || clip === null);
  const over = work.filter((p) => !surface.includes(p));
  return [
    `<svg class="movement" xmlns="http://www.w3.org/2000/svg" width="${coordinate(box.width * k)}mm" height="${coordinate(box.height * k)}mm" viewBox="${[box.x, box.y, box.width, box.height].map(coordinate).join(' ')}" role="img" aria-label="${NAMES[view.view]}">`,
    `<defs><pattern id="${id}-hatch" patternUnits="userSpaceOnUse" width="${gap}" height="${gap}" patternTransform="rotate(45)"><path d="M0 0V${gap}" stroke="#000" stroke-width="${coordinate(0.18 / k)}"/></pattern>`,
    clip === null ? '' : `<clipPath id="${id}-clip"><path d="${clip}" clip-rule="evenodd"/></clipPath>`,
    '</defs>',
    drawn('rest', rest),
    `<g${clipped}>${surface.map((p) => drawn(p.kind, p.path)).join('')}</g>`,
    ...over.map((p) => drawn(p.kind, p.path)),
    ...marks.map((m) =>
      m.kind === 'jaw'
        ? `<path class="m-jaw-ground" d="${m.path}"/><path class="m-jaw" d="${m.path}" style="fill:url(#${id}-hatch)" vector-effect="non-scaling-stroke"/>`
        : drawn(m.kind, m.path),
    ),
    ...letters.map(
      (l) =>
        `<text x="${coordinate(l.at.x)}" y="${coordinate(-l.at.y + letter * 0.35)}" font-size="${coordinate(letter)}" stroke-width="${coordinate(letter * 0.3)}" text-anchor="${l.anchor}">${harmless(l.text)}</text>`,
    ),
    '</svg>',
  ].join('');
};

/** Line kinds as ISO 128 has them, px of paper: outline heavy, lines of equal movement thin, what is at rest dashed. */
export const MOVEMENT_STYLE = `
svg.movement path { fill: none; stroke: #000; stroke-linejoin: round; stroke-width: 0.7px; }
svg.movement .m-band, svg.movement .m-jaw-ground { fill: #fff; stroke: none; }
svg.movement .m-rim { stroke-width: 1.9px; }
svg.movement .m-rest { stroke-dasharray: 5px 3px; }
svg.movement .m-cutter { stroke-dasharray: 9px 2px 2px 2px; }
svg.movement .m-foot { stroke-width: 1.9px; stroke-dasharray: 2px 3px; }
svg.movement .m-force { stroke-width: 1.9px; }
svg.movement .m-head { fill: #000; }
svg.movement text { fill: #000; stroke: #fff; paint-order: stroke; font-variant-numeric: tabular-nums; }
`;
