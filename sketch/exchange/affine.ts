import type { Point } from '../shape/point.ts';
import { FileFault, shown } from './drawing.ts';

/** x' = a x + c y + e, y' = b x + d y + f, as SVG has it. */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The transform that does `inner` first and `outer` after it. */
export const compose = (outer: Affine, inner: Affine): Affine => ({
  a: outer.a * inner.a + outer.c * inner.b,
  b: outer.b * inner.a + outer.d * inner.b,
  c: outer.a * inner.c + outer.c * inner.d,
  d: outer.b * inner.c + outer.d * inner.d,
  e: outer.a * inner.e + outer.c * inner.f + outer.e,
  f: outer.b * inner.e + outer.d * inner.f + outer.f,
});

export const apply = (m: Affine, p: Point): Point => ({
  x: m.a * p.x + m.c * p.y + m.e,
  y: m.b * p.x + m.d * p.y + m.f,
});

/** A vector, which is not moved. */
export const applyLinear = (m: Affine, v: Point): Point => ({
  x: m.a * v.x + m.c * v.y,
  y: m.b * v.x + m.d * v.y,
});

const ONE = /^[\s,]*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)/;
const FIGURE = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
/** More than this in one attribute is no drawing's. */
const LONGEST = 10_000;

/** A `transform` attribute; a fault of its line when it is none. */
export const affineOf = (text: string, line: number): Affine => {
  const fault = (): FileFault =>
    new FileFault('svg-transform', line, `the transform ${shown(text)} cannot be read`);
  if (text.length > LONGEST) throw fault();
  let rest = text.trim();
  let all = IDENTITY;
  while (rest !== '') {
    const found = ONE.exec(rest);
    if (found === null) throw fault();
    const figures = splitFigures(found[2]!);
    const one = figures === null ? null : single(found[1]!, figures);
    if (one === null || !Object.values(one).every(Number.isFinite)) throw fault();
    all = compose(all, one);
    rest = rest.slice(found[0].length).replace(/^[\s,]+/, '');
  }
  return all;
};

const splitFigures = (text: string): readonly number[] | null => {
  const words = text.trim() === '' ? [] : text.trim().split(/\s*,\s*|\s+|(?<=[\d.])(?=[+-])/);
  return words.every((w) => FIGURE.test(w)) ? words.map(Number) : null;
};

const single = (name: string, n: readonly number[]): Affine | null => {
  const [p = 0, q, r] = n;
  switch (name) {
    case 'matrix':
      return n.length === 6 ? { a: n[0]!, b: n[1]!, c: n[2]!, d: n[3]!, e: n[4]!, f: n[5]! } : null;
    case 'translate':
      return n.length === 1 || n.length === 2 ? { ...IDENTITY, e: p, f: q ?? 0 } : null;
    case 'scale':
      return n.length === 1 || n.length === 2 ? { ...IDENTITY, a: p, d: q ?? p } : null;
    case 'rotate': {
      if (n.length !== 1 && n.length !== 3) return null;
      const [cos, sin] = [Math.cos((p * Math.PI) / 180), Math.sin((p * Math.PI) / 180)];
      const turn = { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
      if (n.length === 1) return turn;
      return compose({ ...IDENTITY, e: q!, f: r! }, compose(turn, { ...IDENTITY, e: -q!, f: -r! }));
    }
    default: {
      if (n.length !== 1) return null;
      const lean = Math.tan((p * Math.PI) / 180);
      return name === 'skewX' ? { ...IDENTITY, c: lean } : { ...IDENTITY, b: lean };
    }
  }
};
