import type { Part } from '../../sketch/part/part.ts';
import { intersection } from '../../sketch/shape/boolean.ts';
import type { Box } from '../../sketch/shape/point.ts';
import { polygon, rectangle, regionBox } from '../../sketch/shape/region.ts';
import { type Jaws, jawsOf } from '../../toolpath/passes/jaws.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';
import { type PlateFeet, plateFeet } from '../../toolpath/passes/plate-feet.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { packingCorners } from '../../toolpath/route/packing.ts';
import { figure } from '../table/figures.ts';
import { block, drawn, regionPath, stroke } from './svg.ts';

/** How much of a jaw is drawn beyond the work, mm of the work. */
export const JAW_DEPTH = 7;
export const JAW_BEYOND = 6;
/** How thick a plate is drawn under the work, mm of the work. */
const PLATE = 5;

const jawsOfSetup = (planned: PlannedSetup): Jaws | null =>
  jawsOf(planned.setup.hold, planned.frame, { stock: planned.standing, wanted: [] });

const feetOfSetup = (part: Part, { setup, frame, stock }: PlannedSetup): PlateFeet =>
  plateFeet(setup.hold, part.bar, frame, stock.max.z);

/** Jaws and parallels from above. */
export const jawsFromAbove = (part: Part, planned: PlannedSetup, id: string): readonly string[] => {
  const jaws = jawsOfSetup(planned);
  return jaws === null
    ? []
    : [
        ...jawBlocks(jaws, planned.stock, id),
        ...parallelsFromAbove(part, planned),
        ...packingFromAbove(part, planned, id),
      ];
};

/** Blocks under the work in fine dashes, pieces in forks hatched. */
const packingFromAbove = (part: Part, { setup, frame }: PlannedSetup, id: string): readonly string[] => {
  const pieces = setup.hold.kind === 'vice' ? (setup.hold.packing ?? []) : [];
  return pieces.map((piece) => {
    const corners = packingCorners(piece, part.bar).map((p) => toProgram(frame, { ...p, z: 0 }));
    const path = regionPath({ contours: [polygon(corners)] });
    return piece.kind === 'block'
      ? drawn('parallel', path)
      : `<path class="jaw" style="fill:url(#${id})" d="${path}"/>`;
  });
};

/** Heads of screws and clamps from above, as far as the figure shows them. */
export const feetFromAbove = (part: Part, planned: PlannedSetup, box: Box, id: string): readonly string[] =>
  feetOfSetup(part, planned).feet.map(({ inProgram }) => {
    const shown = intersection(inProgram, rectangle(box.min, box.max));
    return `<path class="jaw" style="fill:url(#${id})" d="${regionPath(shown)}"/>`;
  });

interface EndFigure {
  readonly name: string;
  /** Y of the two outer faces beside which labels stand, and the lowest and highest Z that is drawn. */
  readonly near: number;
  readonly far: number;
  readonly shown: number;
  readonly top: number;
  /** What is drawn under the work's section, and over it. */
  readonly behind: (id: string) => readonly string[];
  readonly before: (id: string) => readonly string[];
  /** Heights to be named, above the work's top and below it. */
  readonly over: readonly { readonly z: number; readonly text: string }[];
  readonly levels: readonly { readonly z: number; readonly text: string }[];
}

/** What holds the work, from its right-hand end. */
export const holdFromEnd = (part: Part, planned: PlannedSetup): EndFigure => {
  const { stock, setup } = planned;
  const { hold } = setup;
  const say = (mm: number): string => figure(mm, part.unit);
  const under = stock.min.z;
  const jaws = jawsOfSetup(planned);
  if (hold.kind === 'plate' || jaws === null) {
    const { feet, top } = feetOfSetup(part, planned);
    const shown = under - PLATE;
    return {
      name: 'on its plate',
      near: stock.min.y,
      far: stock.max.y,
      shown,
      top,
      behind: (id) => [
        block('jaw', { x: stock.min.y - JAW_DEPTH, y: shown }, { x: stock.max.y + JAW_DEPTH, y: under }, id),
      ],
      before: (id) =>
        feet.flatMap((foot) => {
          const box = regionBox(foot.inProgram);
          if (box === null) return [];
          const low = Math.max(box.min.y, stock.min.y - JAW_DEPTH);
          const high = Math.min(box.max.y, stock.max.y + JAW_DEPTH);
          return [block('jaw', { x: low, y: stock.max.z }, { x: high, y: foot.top }, id)];
        }),
      over: feet.length === 0 ? [] : [{ z: top, text: `highest, Z ${say(top)}` }],
      levels: [],
    };
  }
  // The lower part of tall parallels says nothing and takes room.
  const shown = Math.max(under - (hold.parallels?.height ?? 0), under - 9);
  const faces = jaws.faces ?? { near: stock.min.y, far: stock.max.y };
  const middle = middleOf(part, planned);
  const { parallels } = hold;
  return {
    name: `${say(hold.grip)} held in the jaws`,
    ...faces,
    shown: Math.min(shown, jaws.top),
    top: stock.max.z,
    behind: (id) => [
      block('jaw', { x: faces.near - JAW_DEPTH, y: shown }, { x: faces.near, y: jaws.top }, id),
      block('jaw', { x: faces.far, y: shown }, { x: faces.far + JAW_DEPTH, y: jaws.top }, id),
      ...(parallels === null
        ? []
        : [-1, 1].map((side) => {
            const y = middle + side * parallels.offset;
            const half = parallels.thickness / 2;
            return block('support', { x: y - half, y: shown }, { x: y + half, y: under });
          })),
    ],
    before: () => [],
    over: [],
    levels: [{ z: jaws.top, text: `jaws, Z ${say(jaws.top)}` }],
  };
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
  const { hold } = planned.setup;
  if (hold.kind !== 'vice' || hold.parallels === null) return [];
  const { parallels } = hold;
  const middle = middleOf(part, planned);
  const { min, max } = planned.stock;
  return [-1, 1].flatMap((side) =>
    [-1, 1].map((edge) => {
      const y = middle + side * parallels.offset + (edge * parallels.thickness) / 2;
      return stroke('parallel', { x: min.x - 3, y }, { x: max.x + 3, y });
    }),
  );
};
