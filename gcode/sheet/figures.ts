import { edgesFromAbove } from '../../sketch/part/edges.ts';
import type { Part } from '../../sketch/part/part.ts';
import { type Slab, solidOf } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { NOTHING, type Region, rectangle, regionBox } from '../../sketch/shape/region.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { slabsInProgram } from '../../toolpath/passes/workpiece.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { figure } from '../table/figures.ts';
import { entryMarks } from './entry-marks.ts';
import { feetFromAbove, holdFromEnd, JAW_BEYOND, JAW_DEPTH, jawsFromAbove } from './hold-figures.ts';
import { chainPath, coordinate, drawn, harmless, letters, regionPath, ring, stroke } from './svg.ts';

/** Widest a figure may be on paper, mm: across the narrower of A4 and Letter with their margins, or half of it. */
const WIDTH = { above: 178, end: 86 };
const HEIGHT = { above: 84, end: 62 };
/** Small work is not drawn larger than this many times its size. */
const MOST = 4;
/** Room for the labels beside the view from the end, mm of paper. */
const LABELS = 36;
/** And beside the view from above. */
const Y_LABEL = 20;
/** Height of lettering on paper, mm. */
const LETTER = 3.2;
/** What of the work's plane is drawn, mm of the work, and how many mm of paper one of them takes. */
interface View {
  readonly k: number;
  readonly min: Point;
  readonly max: Point;
}

const frame = (view: View, id: string, name: string, inside: readonly string[]): string => {
  const width = view.max.x - view.min.x;
  const height = view.max.y - view.min.y;
  const { k } = view;
  const box = [view.min.x, -view.max.y, width, height].map(coordinate).join(' ');
  const gap = coordinate(1.6 / k);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${coordinate(width * k)}mm" height="${coordinate(height * k)}mm" viewBox="${box}" role="img" aria-label="${harmless(name)}">`,
    `<defs><pattern id="${id}" patternUnits="userSpaceOnUse" width="${gap}" height="${gap}" patternTransform="rotate(45)"><path d="M0 0V${gap}" stroke="#000" stroke-width="${coordinate(0.18 / k)}"/></pattern></defs>`,
    ...inside,
    '</svg>',
  ].join('');
};

/** The work from above as it lies in a setup: what stands, what is wanted of it, jaws, parallels, datum, holes by number. */
export const figureFromAbove = (part: Part, planned: PlannedSetup): string => {
  const { stock, setup } = planned;
  const min = { x: stock.min.x - JAW_BEYOND - 1, y: stock.min.y - JAW_DEPTH - 1 };
  const max = { x: stock.max.x + JAW_BEYOND + 1, y: stock.max.y + JAW_DEPTH + 1 };
  // Labels keep their size on paper: beside the work for Y, under it for X.
  const k = Math.min(
    (WIDTH.above - Y_LABEL) / (max.x - min.x),
    (HEIGHT.above - 2 * LETTER) / (max.y - min.y),
    MOST,
  );
  const letter = LETTER / k;
  const view: View = {
    k,
    min: { x: min.x, y: min.y - 2 * letter },
    max: { x: max.x + Y_LABEL / k, y: max.y },
  };
  const id = `hatch-above-${setup.number}`;
  const standing = planned.standing.map((slab) => slab.region);
  const silhouette = standing.length > 1 ? union(standing) : standing[0]!;
  const edges = edgesFromAbove(slabsInProgram(planned.frame, solidOf(part).slabs));
  const say = (mm: number): string => figure(mm, part.unit);
  const below = min.y - letter;
  const beside = max.x;
  const name = `Setup ${setup.number} from above, ${setup.face} up`;
  return frame(view, id, name, [
    ...(setup.hold.kind === 'vice' ? jawsFromAbove(part, planned, id) : []),
    drawn('stock', regionPath(silhouette)),
    drawn('hidden', chainPath(edges.hidden)),
    drawn('outline', chainPath(edges.visible)),
    ...part.holes.flatMap((hole, i) => {
      const at = toProgram(planned.frame, { ...hole.centre, z: 0 });
      const beyond = hole.diameter / 2 + letter * 0.75;
      const place = { x: at.x + beyond, y: at.y + beyond * 0.8 };
      return [ring('balloon', place, letter * 0.72), letters(place, String(i + 1), letter * 0.9)];
    }),
    // Feet stand on the work, so they are drawn over it.
    ...feetFromAbove(part, planned, { min, max }, id),
    ...datumMark(letter),
    ...entryMarks(planned, { min, max }, letter),
    letters({ x: stock.min.x, y: below }, `X ${say(stock.min.x)}`, letter),
    letters({ x: stock.max.x, y: below }, `X ${say(stock.max.x)}`, letter),
    letters({ x: beside, y: stock.max.y }, `Y ${say(stock.max.y)}`, letter, 'start'),
    letters({ x: beside, y: stock.min.y }, `Y ${say(stock.min.y)}`, letter, 'start'),
  ]);
};

/** Program zero: a quartered circle, and the ways X and Y grow. */
const datumMark = (letter: number): readonly string[] => {
  const r = letter * 0.8;
  const reach = letter * 3;
  const quarter = (a: number, b: number): string =>
    `<path class="solid" d="M0 0L${coordinate(r * a)} 0A${coordinate(r)} ${coordinate(r)} 0 0 ${a * b < 0 ? 1 : 0} 0 ${coordinate(r * b)}Z"/>`;
  const arrow = (x: number, y: number): string => {
    const tip = { x: x * reach, y: y * reach };
    const back = reach - letter * 0.7;
    const half = letter * 0.25;
    const wings = [
      { x: x * back - y * half, y: y * back + x * half },
      { x: x * back + y * half, y: y * back - x * half },
    ] as const;
    return `${stroke('thin', { x: x * r, y: y * r }, tip)}<path class="solid" d="M${coordinate(tip.x)} ${coordinate(-tip.y)}L${coordinate(wings[0].x)} ${coordinate(-wings[0].y)}L${coordinate(wings[1].x)} ${coordinate(-wings[1].y)}Z"/>`;
  };
  return [
    ring('paper', { x: 0, y: 0 }, r),
    quarter(1, -1),
    quarter(-1, 1),
    arrow(1, 0),
    arrow(0, 1),
    letters({ x: reach + letter * 0.7, y: -letter * 0.1 }, 'X', letter),
    letters({ x: letter * 0.1, y: reach + letter * 0.7 }, 'Y', letter),
  ];
};

/** What holds the work from its right-hand end: near jaw left, far jaw right, parallels, or the plate and what stands on the work; and the work's section. */
export const figureFromEnd = (part: Part, planned: PlannedSetup): string => {
  const { stock, setup } = planned;
  const under = stock.min.z;
  const held = holdFromEnd(part, planned);
  const { shown } = held;
  const min = { x: stock.min.y - JAW_DEPTH - 1, y: shown - 1 };
  const max = { x: stock.max.y + JAW_DEPTH + 1, y: held.top };
  // Labels keep their size on paper, so they take what room the drawing leaves.
  const k = Math.min((WIDTH.end - LABELS) / (max.x - min.x), HEIGHT.end / (max.y - min.y), MOST);
  const letter = LETTER / k;
  const view: View = {
    k,
    min,
    max: { x: max.x + LABELS / k, y: max.y + 1.5 * letter },
  };
  const id = `hatch-end-${setup.number}`;
  const say = (mm: number): string => figure(mm, part.unit);
  const name = `Setup ${setup.number} from the end: ${held.name}`;
  return frame(view, id, name, [
    ...held.behind(id),
    drawn('work', regionPath(sectionOf(planned.standing))),
    ...held.before(id),
    ...levelLabels(held.far + 0.4, max.x, letter, [
      ...held.over,
      { z: stock.max.z, text: `top, Z ${say(stock.max.z)}` },
      ...held.levels,
      { z: under, text: `underside, Z ${say(under)}` },
    ]),
    letters({ x: held.near - JAW_DEPTH / 2, y: shown + letter }, 'near', letter),
  ]);
};

/** The work as its shadow falls along X: Y across, Z up. */
const sectionOf = (standing: readonly Slab[]): Region => {
  const shadows = standing.flatMap((slab) => {
    const box = regionBox(slab.region);
    return box ? [rectangle({ x: box.min.y, y: slab.bottom }, { x: box.max.y, y: slab.top })] : [];
  });
  return shadows.length > 1 ? union(shadows) : (shadows[0] ?? NOTHING);
};

/** Heights with a leader from the work to a label; labels are kept from standing on each other. Highest first. */
const levelLabels = (
  from: number,
  to: number,
  letter: number,
  levels: readonly { readonly z: number; readonly text: string }[],
): readonly string[] => {
  let lowest = Number.POSITIVE_INFINITY;
  return levels.map(({ z, text }) => {
    const y = Math.min(z, lowest - 1.25 * letter);
    lowest = y;
    const bend = { x: to, y: z };
    const end = { x: to + letter, y };
    return (
      stroke('thin', { x: from, y: z }, bend) +
      stroke('thin', bend, end) +
      letters({ x: end.x + 0.3 * letter, y }, text, letter, 'start')
    );
  });
};

/** Lines of the figures; weights in mm of paper whatever the scale. */
export const FIGURE_STYLE = `
svg { display: block; max-width: 100%; height: auto; }
svg path, svg rect, svg circle { vector-effect: non-scaling-stroke; fill: none; stroke: #000; stroke-linejoin: round; }
svg pattern path { vector-effect: none; }
svg text { font-family: inherit; fill: #000; stroke: #fff; stroke-width: 0.25em; stroke-linejoin: round; paint-order: stroke; vector-effect: none; }
svg .outline { stroke-width: 0.5mm; }
svg .hidden { stroke-width: 0.25mm; stroke-dasharray: 2mm 0.8mm; }
svg .stock { stroke-width: 0.25mm; stroke-dasharray: 5mm 0.8mm 0.6mm 0.8mm 0.6mm 0.8mm; }
svg .parallel { stroke-width: 0.18mm; stroke-dasharray: 1.2mm 0.8mm; }
svg .thin, svg .balloon { stroke-width: 0.18mm; }
svg .balloon, svg .paper { fill: #fff; }
svg .thread { stroke-width: 0.25mm; }
svg .centre { stroke-width: 0.18mm; stroke-dasharray: 5mm 0.8mm 0.6mm 0.8mm; }
svg .jaw { stroke-width: 0.25mm; fill-rule: evenodd; }
svg .support { stroke-width: 0.25mm; }
svg .work { stroke-width: 0.5mm; fill: #fff; }
svg .solid { fill: #000; stroke: none; }
`;
