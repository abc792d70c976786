import type { Point } from '../shape/point.ts';
import { arcByEnds, type Curve, ellipse } from './curves.ts';
import { FileFault, shown } from './drawing.ts';
import { pathCurves } from './svg-path.ts';

/** CSS units by their length in px, 96 of which are an inch (CSS Values and Units 3, absolute lengths). */
const PX: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  in: 96,
  cm: 96 / 2.54,
  mm: 96 / 25.4,
  q: 96 / 101.6,
  pt: 96 / 72,
  pc: 16,
};
const LENGTH = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)([a-z%]*)\s*$/i;

/** A length and its unit as written ('' for none); null when it is no length. */
export const lengthOf = (text: string): { readonly value: number; readonly unit: string } | null => {
  const found = LENGTH.exec(text);
  const value = found === null ? Number.NaN : Number(found[1]);
  return Number.isFinite(value) ? { value, unit: found![2]!.toLowerCase() } : null;
};

/** A unit's length in px; null for those that hang on fonts or on the window. */
export const pxOf = (unit: string): number | null => (Object.hasOwn(PX, unit) ? PX[unit]! : null);

export type Attributes = Readonly<Record<string, string>>;

/** The elements that are lines on paper. */
export const SHAPES: readonly string[] = ['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'];

/** The curves of a shape in its own coordinates. */
export const shapeCurves = (name: string, attributes: Attributes, line: number): readonly Curve[] => {
  const fault = (key: string): FileFault =>
    new FileFault(
      'svg-length',
      line,
      `${key} of a ${name} is ${shown(attributes[key] ?? '')}, no length that can be read`,
    );
  const own = (key: string): number | null => {
    const text = attributes[key];
    if (text === undefined || text.trim() === 'auto') return null;
    const read = lengthOf(text);
    const px = read === null ? null : pxOf(read.unit);
    if (read === null || px === null) throw fault(key);
    return read.value * px;
  };
  const figure = (key: string): number => own(key) ?? 0;
  const size = (key: string): number => {
    const value = figure(key);
    if (value < 0) throw fault(key);
    return value;
  };
  switch (name) {
    case 'path':
      return pathCurves(attributes.d ?? '', line);
    case 'circle': {
      const r = size('r');
      return r === 0 ? [] : [ellipse({ x: figure('cx'), y: figure('cy') }, r, r)];
    }
    case 'ellipse': {
      const rx = own('rx') ?? own('ry') ?? 0;
      const ry = own('ry') ?? rx;
      if (rx < 0) throw fault('rx');
      if (ry < 0) throw fault('ry');
      return rx === 0 || ry === 0 ? [] : [ellipse({ x: figure('cx'), y: figure('cy') }, rx, ry)];
    }
    case 'line':
      return [
        {
          kind: 'line',
          from: { x: figure('x1'), y: figure('y1') },
          to: { x: figure('x2'), y: figure('y2') },
        },
      ];
    case 'rect': {
      const [w, h] = [size('width'), size('height')];
      if (w === 0 || h === 0) return [];
      const rx = Math.min(own('rx') ?? own('ry') ?? 0, w / 2);
      const ry = Math.min(own('ry') ?? own('rx') ?? 0, h / 2);
      return rectCurves({ x: figure('x'), y: figure('y') }, w, h, Math.max(0, rx), Math.max(0, ry));
    }
    default: {
      const text = (attributes.points ?? '').trim();
      const points = pathCurves(text === '' ? '' : `M${text}${name === 'polygon' ? 'Z' : ''}`, line);
      if (/[A-Za-df-z]/.test(text)) throw fault('points');
      return points;
    }
  }
};

const rectCurves = (corner: Point, w: number, h: number, rx: number, ry: number): readonly Curve[] => {
  const at = (x: number, y: number): Point => ({ x: corner.x + x, y: corner.y + y });
  const stops = [
    [at(rx, 0), at(w - rx, 0)],
    [at(w, ry), at(w, h - ry)],
    [at(w - rx, h), at(rx, h)],
    [at(0, h - ry), at(0, ry)],
  ] as const;
  return stops.flatMap(([from, to], i): readonly Curve[] => {
    const corner = arcByEnds(to, stops[(i + 1) % 4]![0], { x: rx, y: ry }, 0, false, true);
    return [{ kind: 'line', from, to }, ...(corner === null || rx === 0 || ry === 0 ? [] : [corner])];
  });
};
