import { add, type Point, scale, subtract } from '../shape/point.ts';
import { arcByEnds, type Curve, quadratic } from './curves.ts';
import { FileFault, shown } from './drawing.ts';

/** How many figures each command takes (SVG 2, chapter 9: Paths). */
const TAKES: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};
const FIGURE = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const BLANK = /[\s,]*/y;

/** Path data as curves in the path's own coordinates; anything that is no path data is a fault of its line. */
export const pathCurves = (data: string, fileLine: number): readonly Curve[] => {
  let place = 0;
  const skip = (): void => {
    BLANK.lastIndex = place;
    BLANK.test(data);
    place = BLANK.lastIndex;
  };
  const fault = (): FileFault =>
    new FileFault(
      'svg-path',
      fileLine,
      `the path data cannot be read at ${shown(data.slice(place, place + 24))}`,
    );
  const figure = (): number => {
    skip();
    FIGURE.lastIndex = place;
    const found = FIGURE.exec(data);
    const value = found === null ? Number.NaN : Number(found[0]);
    if (!Number.isFinite(value)) throw fault();
    place = FIGURE.lastIndex;
    return value;
  };
  /** A flag is one digit and may run into what follows. */
  const flag = (): boolean => {
    skip();
    const c = data[place];
    if (c !== '0' && c !== '1') throw fault();
    place += 1;
    return c === '1';
  };

  const curves: Curve[] = [];
  let here: Point = { x: 0, y: 0 };
  let start = here;
  let control: { readonly kind: 'C' | 'Q'; readonly point: Point } | null = null;
  const go = (curve: Curve | null, to: Point, next: typeof control = null): void => {
    if (curve !== null) curves.push(curve);
    here = to;
    control = next;
  };
  const reflected = (kind: 'C' | 'Q'): Point =>
    control?.kind === kind ? subtract(scale(here, 2), control.point) : here;

  let letter = '';
  for (skip(); place < data.length; skip()) {
    const c = data[place]!;
    if (/[A-Za-z]/.test(c)) {
      if (!Object.hasOwn(TAKES, c.toUpperCase()) || (letter === '' && c.toUpperCase() !== 'M')) throw fault();
      letter = c;
      place += 1;
    } else if (letter === '' || letter.toUpperCase() === 'Z') throw fault();
    const relative = letter === letter.toLowerCase();
    const base = relative ? here : { x: 0, y: 0 };
    const point = (): Point => {
      const x = figure();
      return add(base, { x, y: figure() });
    };
    const straight = (to: Point): void => go({ kind: 'line', from: here, to }, to);
    switch (letter.toUpperCase()) {
      case 'M': {
        const to = point();
        go(null, to);
        start = to;
        letter = relative ? 'l' : 'L';
        break;
      }
      case 'L':
        straight(point());
        break;
      case 'H':
        straight({ x: figure() + base.x, y: here.y });
        break;
      case 'V':
        straight({ x: here.x, y: figure() + base.y });
        break;
      case 'C':
      case 'S': {
        const first = letter.toUpperCase() === 'C' ? point() : reflected('C');
        const second = point();
        const to = point();
        go({ kind: 'cubic', p: [here, first, second, to] }, to, { kind: 'C', point: second });
        break;
      }
      case 'Q':
      case 'T': {
        const middle = letter.toUpperCase() === 'Q' ? point() : reflected('Q');
        const to = point();
        go(quadratic(here, middle, to), to, { kind: 'Q', point: middle });
        break;
      }
      case 'A': {
        const radii = { x: figure(), y: figure() };
        const turn = figure();
        const large = flag();
        const positive = flag();
        const to = point();
        go(arcByEnds(here, to, radii, turn, large, positive), to);
        break;
      }
      default:
        if (here.x !== start.x || here.y !== start.y) curves.push({ kind: 'line', from: here, to: start });
        go(null, start);
    }
  }
  return curves;
};
