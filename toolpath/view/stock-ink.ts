import { DEPTH_STEPS, hueOf, type Role } from '../../sketch/canvas/ink.ts';
import type { Pen } from '../../sketch/canvas/pen.ts';
import { GONE, type StockPicture, WEB } from './film-pictures.ts';

/** Distance between the web's hatch lines, mm. */
const HATCH = 0.9;

const rgb = (role: Role): readonly [number, number, number] => {
  const hex = hueOf(role).replace('#', '');
  return [0, 2, 4].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)) as [number, number, number];
};

/** The picture made last: moving the sheet draws it again without making it again. */
let last: { readonly stock: StockPicture; readonly hue: string; readonly picture: HTMLCanvasElement } | null =
  null;

/** The stock as a picture: deeper is darker, the support web hatched, nothing where nothing is left. */
export const inkStock = (pen: Pen, stock: StockPicture): void => {
  const hue = hueOf('depth-0');
  if (last?.stock !== stock || last.hue !== hue) last = { stock, hue, picture: paint(stock) };
  pen.image(last.picture, { x: stock.x0, y: stock.y0 }, stock.cell);
};

const paint = ({ columns, rows, cell, cells }: StockPicture): HTMLCanvasElement => {
  const picture = document.createElement('canvas');
  picture.width = columns;
  picture.height = rows;
  const context = picture.getContext('2d');
  if (!context) return picture;
  const data = context.createImageData(columns, rows);
  const depths = Array.from({ length: DEPTH_STEPS }, (_, i) => rgb(`depth-${i}` as Role));
  const hatch = rgb('warning');
  const period = Math.max(3, Math.round(HATCH / cell));
  const line = Math.max(1, Math.round(period / 4));
  for (let i = 0; i < cells.length; i++) {
    const c = cells[i]!;
    if (c === GONE) continue;
    const hatched = c >= WEB && ((i % columns) + Math.floor(i / columns)) % period < line;
    const [r, g, b] = hatched ? hatch : depths[c % WEB]!;
    data.data[4 * i] = r;
    data.data[4 * i + 1] = g;
    data.data[4 * i + 2] = b;
    data.data[4 * i + 3] = 255;
  }
  context.putImageData(data, 0, 0);
  return picture;
};
