import type { Point } from '../../sketch/shape/point.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { padsOf } from '../../toolpath/route/plate.ts';
import type { View } from '../../toolpath/survival/bent-facets.ts';
import type { MovementField } from '../../toolpath/survival/movement-field.ts';
import type { SqueezeField } from '../../toolpath/survival/squeeze.ts';

/** A rectangle with Y down, as SVG has it, mm. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What is drawn over the work, and how it is drawn. */
export interface Mark {
  readonly kind: 'jaw' | 'foot' | 'cutter' | 'force' | 'head';
  readonly path: string;
  /** What of it must be seen, Y up; nothing where it may run out of the picture. */
  readonly about: readonly Point[];
  /** Places that nothing is written over. */
  readonly keepOff?: readonly Point[];
  /** What is written at it, and where. */
  readonly label?: { readonly at: Point; readonly text: string };
}

const figure = (mm: number): string => {
  const text = mm.toFixed(2);
  return text === '-0.00' ? '0' : text.replace(/\.?0+$/, '');
};

/** A line through points with Y up, as a path with Y down. */
export const pathOf = (points: readonly Point[], closed: boolean): string =>
  points.length === 0
    ? ''
    : `M${points.map((p) => `${figure(p.x)} ${figure(-p.y)}`).join('L')}${closed ? 'Z' : ''}`;

export const joined = (lines: readonly (readonly Point[])[], closed: boolean): string =>
  lines.map((line) => pathOf(line, closed)).join('');

/** The box about lines with Y up, with room for half a letter round it. */
export const boxAbout = (lines: readonly (readonly Point[])[], letter: number): Box => {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const line of lines) {
    for (const { x, y } of line) {
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  }
  const room = letter / 2;
  return { x: x0 - room, y: -y1 - room, width: x1 - x0 + 2 * room, height: y1 - y0 + 2 * room };
};

/** Work that is bent by a cutter, or by the jaws that hold it. */
export type PicturedWork = MovementField | SqueezeField;

interface MarkTerms<Work = PicturedWork> {
  readonly field: Work;
  readonly view: View;
  readonly exaggeration: number;
  readonly letter: number;
  readonly rest: readonly (readonly Point[])[];
}

export const marksOf = (terms: MarkTerms): readonly Mark[] => {
  const { field } = terms;
  if (field.kind === 'squeezed') return [...holdMarks(terms), ...squeezeMarks({ ...terms, field })];
  return [...holdMarks(terms), ...cutterMarks({ ...terms, field }), ...forceMarks({ ...terms, field })];
};

const rectangle = (x0: number, x1: number, y0: number, y1: number): readonly Point[] => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];

/** How much of a jaw or a plate is seen, letters. */
const JAW_DEPTH = 1.2;

/** From above both jaws, from the edge the near one before the work; on a plate the plate, and from above what presses. */
const holdMarks = (terms: MarkTerms): readonly Mark[] => {
  const { field, view, letter, rest } = terms;
  const { jaws: seat, setup } = field;
  const { frame, hold } = setup;
  // What holds is longer than the work as a rule: what juts out beyond it is cut off.
  const ends = rest.flatMap((line) => line.map((p) => p.x));
  const [first, last] = [Math.min(...ends) - 2 * letter, Math.max(...ends) + 2 * letter];
  const deep = JAW_DEPTH * letter;
  const slab = (x0: number, x1: number, low: number, high: number): Mark => {
    const corners = rectangle(x0, x1, low, high);
    return { kind: 'jaw', path: pathOf(corners, true), about: corners };
  };
  if (hold.kind === 'plate' || seat.kind === 'plate') {
    if (hold.kind !== 'plate' || seat.kind !== 'plate') return [];
    if (view === 'edge') {
      const { z } = toProgram(frame, { x: 0, y: 0, z: seat.underside });
      return [slab(first, last, z - deep, z)];
    }
    return padsOf(hold).map(({ at, radius }): Mark => {
      const { x, y } = toProgram(frame, { ...at, z: 0 });
      return { kind: 'foot', path: round({ x, y }, radius), about: [{ x, y }] };
    });
  }
  const from = toProgram(frame, { x: hold.jaws.from, y: seat.near, z: seat.low });
  const to = toProgram(frame, { x: hold.jaws.to, y: seat.far, z: seat.high });
  const [x0, x1] = [Math.max(from.x, first), Math.min(to.x, last)];
  if (view === 'edge') {
    const [low, high] = [Math.min(from.z, to.z), Math.max(from.z, to.z)];
    return [slab(x0, x1, low - deep, high)];
  }
  const [near, far] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
  return [slab(x0, x1, near - deep, near), slab(x0, x1, far, far + deep)];
};

/** Half a circle each way. */
const round = ({ x, y }: Point, r: number): string =>
  `M${figure(x - r)} ${figure(-y)}a${figure(r)} ${figure(r)} 0 1 0 ${figure(2 * r)} 0a${figure(r)} ${figure(r)} 0 1 0 ${figure(-2 * r)} 0Z`;

/** How far up the cutter is drawn from the edge, letters. */
const CUTTER_HEIGHT = 3;

const cutterMarks = ({ field, view, letter }: MarkTerms<MovementField>): readonly Mark[] => {
  const { at } = field.place;
  const r = field.pass.cutter.diameter / 2;
  if (view === 'above') {
    const cross = r + letter / 2;
    const arms = [
      [
        { x: at.x - cross, y: at.y },
        { x: at.x + cross, y: at.y },
      ],
      [
        { x: at.x, y: at.y - cross },
        { x: at.x, y: at.y + cross },
      ],
    ];
    return [{ kind: 'cutter', path: `${round(at, r)}${joined(arms, false)}`, about: arms.flat() }];
  }
  const high = Math.max(at.z, 0) + CUTTER_HEIGHT * letter;
  const sides = [
    [
      { x: at.x - r, y: high },
      { x: at.x - r, y: at.z },
      { x: at.x + r, y: at.z },
      { x: at.x + r, y: high },
    ],
    [
      { x: at.x, y: at.z - letter / 2 },
      { x: at.x, y: high },
    ],
  ];
  return [{ kind: 'cutter', path: joined(sides, false), about: sides.flat() }];
};

/** Length of the arrow at a jaw, letters. */
const PRESS = 2.2;

/** From above what the jaws press with: an arrow at the middle of each, where work is between them. */
const squeezeMarks = ({ field, view, letter, rest }: MarkTerms<SqueezeField>): readonly Mark[] => {
  const { setup, jaws } = field;
  const { frame, hold } = setup;
  if (view === 'edge' || hold.kind !== 'vice' || jaws.kind !== 'vice') return [];
  const xs = rest.flatMap((line) => line.map((p) => p.x));
  const [from, to] = [hold.jaws.from - frame.zero.x, hold.jaws.to - frame.zero.x];
  const x = (Math.max(from, Math.min(...xs)) + Math.min(to, Math.max(...xs))) / 2;
  const faces = [jaws.near, jaws.far].map((y) => toProgram(frame, { x: 0, y, z: 0 }).y);
  const [near, far] = [Math.min(...faces), Math.max(...faces)];
  return (
    [
      [near, -1],
      [far, 1],
    ] as const
  ).flatMap(([y, out]): readonly Mark[] => {
    const at = (away: number, aside = 0): Point => ({ x: x + aside * letter, y: y + out * away * letter });
    const label = out > 0 ? { label: { at: at(PRESS + 0.9), text: `${Math.round(field.clamp)} N` } } : {};
    const shaft = [at(PRESS), at(0.6)];
    return [
      {
        kind: 'force',
        path: pathOf(shaft, false),
        about: out > 0 ? [at(PRESS + 1.6)] : [at(PRESS)],
        ...label,
        keepOff: shaft,
      },
      { kind: 'head', path: pathOf([at(0), at(0.9, 0.32), at(0.9, -0.32)], true), about: [] },
    ];
  });
};

/** Length of the arrow of a force that lies in the view, letters. */
const ARROW = 4;
/** A force of which a view shows less than this share is drawn as a point in a ring. */
const POINTS_AT_US = 0.15;

/** The push on the work as an arrow whose tip is where the work takes it, as far along as it lies in the view. */
const forceMarks = ({ field, view, exaggeration, letter }: MarkTerms<MovementField>): readonly Mark[] => {
  const { place, at, moved, setup } = field;
  const { push } = place;
  const spot = toProgram(setup.frame, { x: at[0], y: at[1], z: at[2] });
  const whole = Math.hypot(push.x, push.y, push.z);
  const [px, py] = view === 'above' ? [push.x, push.y] : [push.x, push.z];
  const tip: Point = {
    x: spot.x + exaggeration * moved[0],
    y: (view === 'above' ? spot.y : spot.z) + exaggeration * (view === 'above' ? moved[1] : moved[2]),
  };
  const seen = Math.hypot(px, py);
  if (seen < POINTS_AT_US * whole) {
    const path = `${round(tip, 0.45 * letter)}${round(tip, 0.12 * letter)}`;
    return [{ kind: 'force', path, about: [tip], keepOff: [tip] }];
  }
  const way = { x: px / seen, y: py / seen };
  const long = Math.max(2, (ARROW * seen) / whole) * letter;
  const back = (by: number, aside = 0): Point => ({
    x: tip.x - by * way.x - aside * way.y,
    y: tip.y - by * way.y + aside * way.x,
  });
  const tail = back(long);
  const head = [tip, back(0.9 * letter, 0.32 * letter), back(0.9 * letter, -0.32 * letter)];
  const label = { at: back(long + 0.9 * letter), text: `${Math.round(seen)} N` };
  const about = [
    tail,
    { x: label.at.x - 1.6 * letter, y: label.at.y - 0.7 * letter },
    { x: label.at.x + 1.6 * letter, y: label.at.y + 0.7 * letter },
  ];
  return [
    {
      kind: 'force',
      path: pathOf([tail, back(0.6 * letter)], false),
      about,
      label,
      keepOff: [0, 0.25, 0.5, 0.75, 1].map((share) => back(share * long)),
    },
    { kind: 'head', path: pathOf(head, true), about: [] },
  ];
};
