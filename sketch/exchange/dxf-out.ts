import type { Part } from '../part/part.ts';
import { angleOf, type Point, subtract } from '../shape/point.ts';
import { radiusOf, type Segment } from '../shape/segment.ts';
import { MM_PER_INCH } from './drawing.ts';
import { LAYERS, type Layered, layeredPlan } from './plan.ts';

/** Colour numbers that stand for a layer (DXF reference, group code 62): told apart on a dark and a light ground. */
const COLOURS: Readonly<Record<string, number>> = {
  [LAYERS.outline]: 7,
  [LAYERS.hole]: 1,
  [LAYERS.fork]: 4,
  [LAYERS.slot]: 3,
  [LAYERS.counterbore]: 6,
  [LAYERS.land]: 8,
};

/**
 * The part in plan as ASCII DXF of release 12: true LINE, ARC and CIRCLE entities on layers of plain names, in mm or
 * inches. Release 12 has no unit of its own; the later header variable for it is set, and a comment says it too.
 */
export const writeDxf = (part: Part, unit: 'mm' | 'inch' = part.unit): string =>
  dxfOf(layeredPlan(part), unit, part.name);

/** Any edges with their layers as DXF; layer names must be plain ones. */
export const dxfOf = (edges: readonly Layered[], unit: 'mm' | 'inch', title = ''): string => {
  const layers = [...new Set(edges.map((e) => e.layer))];
  const k = unit === 'inch' ? 1 / MM_PER_INCH : 1;
  const groups: (readonly [number, string | number])[] = [
    [999, `Part in plan, 1:1, unit ${unit}${title === '' ? '' : `: ${plain(title)}`}`],
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, 'AC1009'],
    [9, '$INSUNITS'],
    [70, unit === 'inch' ? 1 : 4],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'TABLES'],
    [0, 'TABLE'],
    [2, 'LTYPE'],
    [70, 1],
    [0, 'LTYPE'],
    [2, 'CONTINUOUS'],
    [70, 0],
    [3, 'Solid line'],
    [72, 65],
    [73, 0],
    [40, '0.0'],
    [0, 'ENDTAB'],
    [0, 'TABLE'],
    [2, 'LAYER'],
    [70, layers.length],
    ...layers.flatMap((layer): (readonly [number, string | number])[] => [
      [0, 'LAYER'],
      [2, layer],
      [70, 0],
      [62, COLOURS[layer] ?? 7],
      [6, 'CONTINUOUS'],
    ]),
    [0, 'ENDTAB'],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...edges.flatMap(({ layer, segment }) => entity(segment, layer, k)),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return `${groups.map(([code, value]) => `${String(code).padStart(3)}\r\n${value}`).join('\r\n')}\r\n`;
};

type Pairs = readonly (readonly [number, string | number])[];

const entity = (s: Segment, layer: string, k: number): Pairs => {
  if (s.kind === 'line') return [[0, 'LINE'], [8, layer], ...place(10, s.from, k), ...place(11, s.to, k)];
  const round: Pairs = [[8, layer], ...place(10, s.centre, k), [40, figure(radiusOf(s) * k)]];
  if (Math.abs(s.sweep) > 2 * Math.PI - 1e-9) return [[0, 'CIRCLE'], ...round];
  // An ARC runs anticlockwise whichever way the edge does.
  const [from, to] = s.sweep > 0 ? [s.from, s.to] : [s.to, s.from];
  return [[0, 'ARC'], ...round, [50, degrees(from, s.centre)], [51, degrees(to, s.centre)]];
};

const place = (code: number, p: Point, k: number): Pairs => [
  [code, figure(p.x * k)],
  [code + 10, figure(p.y * k)],
  [code + 20, '0.0'],
];

const degrees = (p: Point, centre: Point): string => {
  const angle = (angleOf(subtract(p, centre)) * 180) / Math.PI;
  return figure(angle < 0 ? angle + 360 : angle);
};

/** Eight decimals, so that ends meet to the tenth of a micrometre however long an arc is. */
const figure = (value: number): string => {
  const text = value.toFixed(8).replace(/(\.\d*?)0+$/, '$1');
  const whole = text.endsWith('.') ? `${text}0` : text;
  return whole === '-0.0' ? '0.0' : whole;
};

/** A name as one short line of plain letters: nothing in it can begin a group of its own. */
const plain = (name: string): string => name.replace(/[^\x20-\x7e]/g, '?').slice(0, 80);
