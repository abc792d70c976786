import type { ProofInput, ProofSetup } from '../gcode/proof/proof.ts';
import type { Bar } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import type { Point } from '../sketch/shape/point.ts';
import type { Contour, Region } from '../sketch/shape/region.ts';
import type { Segment } from '../sketch/shape/segment.ts';
import { circle, line, reverseSegment } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import type { Hold } from '../toolpath/route/route.ts';

/**
 * A small plate made by hand-written programs, the touchstone of the proof: 6 mm thick, one end round (radius 10 about
 * 40, 10), a 6 mm hole in its centre, a 5 mm slot, the left 6 mm lowered by 2 from the front, and a 6 mm groove 1.5
 * deep across the back. The bar carries 1 mm of sawn stock on each end.
 */
export const bar: Bar = {
  length: 50,
  width: 20,
  thickness: 6,
  material: 'low-carbon steel',
  corner: { x: 0, y: 0 },
  sawn: 1,
};

const at = (x: number, y: number) => ({ x, y });
const roundEnd: Segment = {
  kind: 'arc',
  from: at(40, 0),
  to: at(40, 20),
  centre: at(40, 10),
  sweep: Math.PI,
};
const body = (left: number): Contour => ({
  segments: [
    line(at(left, 0), at(40, 0)),
    roundEnd,
    line(at(40, 20), at(left, 20)),
    line(at(left, 20), at(left, 0)),
  ],
});
const hole: Contour = { segments: [circle(at(40, 10), 3, false)] };
const slotAnticlockwise: readonly Segment[] = [
  line(at(12, 7.5), at(24, 7.5)),
  { kind: 'arc', from: at(24, 7.5), to: at(24, 12.5), centre: at(24, 10), sweep: Math.PI },
  line(at(24, 12.5), at(12, 12.5)),
  { kind: 'arc', from: at(12, 12.5), to: at(12, 7.5), centre: at(12, 10), sweep: Math.PI },
];
const slot: Contour = { segments: slotAnticlockwise.map(reverseSegment).reverse() };
const leftOfGroove: Contour = {
  segments: [
    line(at(0, 0), at(28, 0)),
    line(at(28, 0), at(28, 20)),
    line(at(28, 20), at(0, 20)),
    line(at(0, 20), at(0, 0)),
  ],
};
const region = (...contours: Contour[]): Region => ({ contours });
export const plate: Solid = {
  slabs: [
    { bottom: 0, top: 1.5, region: region(leftOfGroove, body(34), slot, hole) },
    { bottom: 1.5, top: 4, region: region(body(0), slot, hole) },
    { bottom: 4, top: 6, region: region(body(6), slot, hole) },
  ],
};

const cutter = (number: number, kind: Cutter['kind'], diameter: number, pointAngle = Math.PI): Cutter => ({
  name: `${kind} ${diameter}`,
  number,
  kind,
  diameter,
  flutes: kind === 'endmill' ? 4 : 2,
  fluteLength: 13,
  material: 'high-speed steel',
  pointAngle,
  plunge: { straight: true, ramp: 0.1 },
});
export const POINT = (118 * Math.PI) / 180;
export const cutters: readonly Cutter[] = [
  cutter(1, 'endmill', 6),
  cutter(2, 'endmill', 5),
  cutter(3, 'drill', 6, POINT),
  cutter(4, 'spot', 6, Math.PI / 2),
];

export const frontHold: Hold = {
  kind: 'vice',
  jaws: { from: 10, to: 30 },
  grip: 1.5,
  parallels: { height: 10, thickness: 3, offset: 7 },
  gripped: 'sides of the bar',
};
export const backHold: Hold = { ...frontHold, jaws: { from: 8, to: 24 }, grip: 2 };

/** What may be altered in the good programs. mm. */
export interface Alteration {
  /** Path radius round the end, and its levels. */
  readonly endRadius?: number;
  readonly endLevels?: readonly number[];
  readonly slotLevels?: readonly number[];
  readonly slotY?: number;
  readonly landDepth?: number;
  readonly landX?: number;
  readonly grooveDepth?: number;
  readonly drillDepth?: number;
  readonly holeX?: number;
  readonly clear?: number;
  readonly spindle?: string;
  readonly labels?: boolean;
  /** Everything moved in the plane. */
  readonly shift?: { readonly x: number; readonly y: number };
  /** Left out by name. */
  readonly without?: 'end' | 'slot' | 'land' | 'hole' | 'square';
  readonly extra?: readonly string[];
}

export const frontProgram = (a: Alteration = {}): string => {
  const dx = a.shift?.x ?? 0;
  const dy = a.shift?.y ?? 0;
  const n = (v: number): string => v.toFixed(4);
  const X = (v: number): string => `X${n(v + dx)}`;
  const Y = (v: number): string => `Y${n(v + dy)}`;
  const clear = `G0 Z${n(a.clear ?? 5)}`;
  const spindle = a.spindle ?? 'S1200 M3';
  const lines: string[] = ['G21 G90 G17 G40 G49 G80 G94', 'G54'];
  const label = (step: string, pass: string): void => {
    if (a.labels !== false) lines.push(`(STEP ${step} - PASS ${pass})`);
  };
  const tool = (number: number): void => {
    lines.push('M5', 'G0 Z20', `T${number} M6`, spindle);
  };
  tool(1);
  if (a.without !== 'square') {
    for (const z of [-2, -4, -6.2]) {
      label('square the left end', `z ${z}`);
      lines.push(`G0 ${X(-3)} ${Y(-5)}`, `G0 Z${n(z)}`, `G1 ${Y(25)} F120`, clear);
    }
  }
  if (a.without !== 'land') {
    label('left land', 'finish');
    lines.push(`G0 ${X(a.landX ?? 3)} ${Y(-5)}`, `G0 Z${n(-(a.landDepth ?? 2))}`, `G1 ${Y(25)} F120`, clear);
  }
  if (a.without !== 'end') {
    const r = a.endRadius ?? 13;
    const levels = a.endLevels ?? [-2, -4, -5.2, -6.2];
    levels.forEach((z, k) => {
      label('round end', k === levels.length - 1 ? 'release' : 'rough');
      lines.push(
        `G0 ${X(40)} ${Y(-5)}`,
        `G0 Z${n(z)}`,
        `G1 ${Y(10 - r)} F120`,
        `G3 ${X(40)} ${Y(10 + r)} I0 J${n(r)}`,
        `G1 ${Y(26)}`,
        clear,
      );
    });
  }
  tool(2);
  if (a.without !== 'slot') {
    const levels = a.slotLevels ?? [-2, -4, -5.2, -6.2];
    const y = a.slotY ?? 10;
    levels.forEach((z, k) => {
      label('slot', k === levels.length - 1 ? 'release' : 'rough');
      lines.push(`G0 ${X(12)} ${Y(y)}`, 'G0 Z1', `G1 Z${n(z)} F40`, `G1 ${X(24)} F100`, clear);
    });
  }
  if (a.without !== 'hole') {
    tool(4);
    label('hole', 'spot');
    lines.push(`G0 ${X(a.holeX ?? 40)} ${Y(10)}`, 'G0 Z1', 'G1 Z-1 F40', clear);
    tool(3);
    label('hole', 'drill');
    lines.push(`G0 ${X(a.holeX ?? 40)} ${Y(10)}`, 'G0 Z1', `G1 Z${n(-(a.drillDepth ?? 8.1))} F40`, clear);
  }
  lines.push(...(a.extra ?? []), 'M5', 'G0 Z20', 'M30');
  return `${lines.join('\n')}\n`;
};

export const backProgram = (a: Alteration = {}): string => {
  const dx = a.shift?.x ?? 0;
  const lines = [
    'G21 G90 G17 G40 G49 G80 G94',
    'G54',
    'T1 M6',
    a.spindle ?? 'S1200 M3',
    ...(a.labels === false ? [] : ['(STEP groove - PASS 1 OF 1 FINISH)']),
    'G0 Z20',
    `G0 X${31 + dx} Y-5`,
    `G0 Z${-(a.grooveDepth ?? 1.5)}`,
    'G1 Y25 F120',
    'G0 Z20',
    ...(a.extra ?? []),
    'M5',
    'M30',
  ];
  return `${lines.join('\n')}\n`;
};

export const frontSetup = (text: string): ProofSetup => ({
  number: 1,
  frame: frameOf(bar, 'front', 'left-near'),
  hold: frontHold,
  tools: cutters,
  text,
});
export const backSetup = (text: string): ProofSetup => ({
  number: 2,
  frame: frameOf(bar, 'back', 'left-near'),
  hold: backHold,
  tools: cutters,
  text,
});

export const plateInput = (front: string, back: string | null = backProgram()): ProofInput => ({
  bar,
  wanted: plate,
  setups: [frontSetup(front), ...(back === null ? [] : [backSetup(back)])],
  tolerance: { gouge: 0.02, excess: 0.05 },
  // Coarse, so that the tests are quick; walls do not depend on it.
  cell: 0.2,
});

/** A small bar of brass, 40 × 30 mm, its corner at the part's zero unless said. */
export const smallBar = (thickness: number, corner: Point = { x: 0, y: 0 }): Bar => ({
  ...{ length: 40, width: 30, thickness, material: 'brass', corner, sawn: 0 },
});
