import type { Part } from '../../sketch/part/part.ts';
import { solidOf } from '../../sketch/part/solid.ts';
import { union } from '../../sketch/shape/boolean.ts';
import type { Point } from '../../sketch/shape/point.ts';
import { isEmpty, regionBox } from '../../sketch/shape/region.ts';
import type { MachineProfile } from '../../toolpath/machine/profile.ts';
import { type Jaws, jawsOf } from '../../toolpath/passes/jaws.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { slabsInProgram } from '../../toolpath/passes/workpiece.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { figure } from '../table/figures.ts';
import { edgesFromAbove } from './edges.ts';
import { block, chainPath, coordinate, drawn, harmless, letters, regionPath, ring, stroke } from './svg.ts';

/** Largest size of a figure on paper, mm: it fits the narrower of A4 and Letter with their margins. */
const WIDTH = 178;
const HEIGHT = 84;
/** Height of lettering on paper, mm. */
const LETTER = 3.2;
/** How much of a jaw is drawn beyond the work, mm of the work. */
const JAW_DEPTH = 7;
const JAW_BEYOND = 6;

interface View {
  readonly min: Point;
  readonly max: Point;
}

/** Size on paper and the lettering's height in mm of the drawing. */
const scaleOf = (view: View): { k: number; letter: number } => {
  const k = Math.min(WIDTH / (view.max.x - view.min.x), HEIGHT / (view.max.y - view.min.y), 4);
  return { k, letter: LETTER / k };
};

const frame = (view: View, id: string, name: string, inside: readonly string[]): string => {
  const { k } = scaleOf(view);
  const width = view.max.x - view.min.x;
  const height = view.max.y - view.min.y;
  const box = [view.min.x, -view.max.y, width, height].map(coordinate).join(' ');
  const gap = coordinate(1.6 / k);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${coordinate(width * k)}mm" height="${coordinate(height * k)}mm" viewBox="${box}" role="img" aria-label="${harmless(name)}">`,
    `<defs><pattern id="${id}" patternUnits="userSpaceOnUse" width="${gap}" height="${gap}" patternTransform="rotate(45)"><path d="M0 0V${gap}" stroke="#000" stroke-width="${coordinate(0.18 / k)}"/></pattern></defs>`,
    ...inside,
    '</svg>',
  ].join('');
};

const jawsOfSetup = (planned: PlannedSetup): Jaws =>
  jawsOf(planned.setup.hold, planned.frame, { stock: planned.standing, wanted: [] });

/** The work from above as it lies in a setup: what stands, what is wanted of it, jaws, parallels, datum, holes by number. */
export const figureFromAbove = (part: Part, planned: PlannedSetup): string => {
  const { stock, setup } = planned;
  const margin = JAW_BEYOND + 10;
  const view: View = {
    min: { x: stock.min.x - margin, y: stock.min.y - JAW_DEPTH - 7 },
    max: { x: stock.max.x + margin, y: stock.max.y + JAW_DEPTH + 3 },
  };
  const { letter } = scaleOf(view);
  const id = `hatch-above-${setup.number}`;
  const standing = planned.standing.map((slab) => slab.region);
  const silhouette = standing.length > 1 ? union(standing) : standing[0]!;
  const edges = edgesFromAbove(slabsInProgram(planned.frame, solidOf(part).slabs));
  const say = (mm: number): string => figure(mm, part.unit);
  const below = stock.min.y - JAW_DEPTH - 3;
  const beside = stock.max.x + JAW_BEYOND + 1;
  const name = `Setup ${setup.number} from above, ${setup.face} up`;
  return frame(view, id, name, [
    ...jawBlocks(jawsOfSetup(planned), stock, id),
    ...parallelsFromAbove(part, planned),
    drawn('stock', regionPath(silhouette)),
    drawn('hidden', chainPath(edges.hidden)),
    drawn('outline', chainPath(edges.visible)),
    ...part.holes.flatMap((hole, i) => {
      const at = toProgram(planned.frame, { ...hole.centre, z: 0 });
      const beyond = hole.diameter / 2 + letter * 0.75;
      const place = { x: at.x + beyond, y: at.y + beyond * 0.8 };
      return [ring('balloon', place, letter * 0.72), letters(place, String(i + 1), letter * 0.9)];
    }),
    ...datumMark(letter),
    letters({ x: stock.min.x, y: below }, `X ${say(stock.min.x)}`, letter),
    letters({ x: stock.max.x, y: below }, `X ${say(stock.max.x)}`, letter),
    letters({ x: beside, y: stock.max.y }, `Y ${say(stock.max.y)}`, letter, 'start'),
    letters({ x: beside, y: stock.min.y }, `Y ${say(stock.min.y)}`, letter, 'start'),
  ]);
};

const jawBlocks = (jaws: Jaws, stock: PlannedSetup['stock'], id: string): readonly string[] =>
  jaws.footprint.contours.map((contour) => {
    const box = regionBox({ contours: [contour] })!;
    const near = box.max.y <= stock.min.y + (stock.max.y - stock.min.y) / 2;
    const x = [
      Math.max(box.min.x, stock.min.x - JAW_BEYOND),
      Math.min(box.max.x, stock.max.x + JAW_BEYOND),
    ] as const;
    const [low, high] = near ? [stock.min.y - JAW_DEPTH, box.max.y] : [box.min.y, stock.max.y + JAW_DEPTH];
    return block('jaw', { x: x[0], y: low }, { x: x[1], y: high }, id);
  });

/** Y of the bar's middle in program coordinates, mm. */
const middleOf = (part: Part, planned: PlannedSetup): number =>
  toProgram(planned.frame, { x: 0, y: part.bar.corner.y + part.bar.width / 2, z: 0 }).y;

const parallelsFromAbove = (part: Part, planned: PlannedSetup): readonly string[] => {
  const { parallels } = planned.setup.hold;
  if (parallels === null) return [];
  const middle = middleOf(part, planned);
  const { min, max } = planned.stock;
  return [-1, 1].flatMap((side) =>
    [-1, 1].map((edge) => {
      const y = middle + side * parallels.offset + (edge * parallels.thickness) / 2;
      return stroke('parallel', { x: min.x - 3, y }, { x: max.x + 3, y });
    }),
  );
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

/** The vice from its right-hand end: near jaw left, far jaw right, parallels, and the work's section. */
export const figureFromEnd = (part: Part, planned: PlannedSetup, profile: MachineProfile): string => {
  const { stock, setup, standing } = planned;
  const { hold } = setup;
  const jaws = jawsOfSetup(planned);
  const under = stock.min.z;
  const bed = under - (hold.parallels?.height ?? 0);
  const shown = Math.max(bed, under - 9);
  const faces = jaws.faces ?? { near: stock.min.y, far: stock.max.y };
  const view: View = {
    min: { x: stock.min.y - JAW_DEPTH - 4, y: shown - 1 },
    max: { x: stock.max.y + JAW_DEPTH + 26, y: stock.max.z + 3 },
  };
  const { letter } = scaleOf(view);
  const id = `hatch-end-${setup.number}`;
  const middle = middleOf(part, planned);
  const say = (mm: number): string => figure(mm, part.unit);
  const right = faces.far + JAW_DEPTH + 2;
  const level = (z: number, text: string): string =>
    stroke('thin', { x: faces.far + 0.5, y: z }, { x: right + 1, y: z }) +
    letters({ x: right + 1.6, y: z }, text, letter, 'start');
  const jaw = (from: number, to: number): string =>
    block('jaw', { x: from, y: shown }, { x: to, y: jaws.top }, id);
  const { parallels } = hold;
  const name = `Setup ${setup.number} from the end: ${say(hold.grip)} held in the jaws`;
  const high = profile.vice.jawHeight + bed < jaws.top - 0.05 ? ' (higher than these jaws reach)' : '';
  return frame(view, id, name, [
    jaw(faces.near - JAW_DEPTH, faces.near),
    jaw(faces.far, faces.far + JAW_DEPTH),
    ...(parallels === null
      ? []
      : [-1, 1].map((side) => {
          const y = middle + side * parallels.offset;
          const half = parallels.thickness / 2;
          return block('support', { x: y - half, y: shown }, { x: y + half, y: under });
        })),
    ...standing.map((slab) => {
      const box = isEmpty(slab.region) ? null : regionBox(slab.region);
      return box === null
        ? ''
        : block('work', { x: box.min.y, y: slab.bottom }, { x: box.max.y, y: slab.top });
    }),
    level(stock.max.z, `top, Z ${say(stock.max.z)}`),
    level(jaws.top, `jaws, Z ${say(jaws.top)}${high}`),
    ...(jaws.top - under > letter ? [level(under, `underside, Z ${say(under)}`)] : []),
    letters({ x: faces.near - JAW_DEPTH / 2, y: jaws.top + letter }, 'near', letter),
  ]);
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
