/** Colour as eyes have it, for the test of the page's hues. Formulas and figures name their source. */

export type Rgb = readonly [number, number, number];

export const rgbOf = (hex: string): Rgb => {
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(hex);
  const long = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  const parts = long ?? short;
  if (!parts) throw new Error(`${hex} is no hue`);
  const [r, g, b] = parts.slice(1).map((p) => Number.parseInt(p.length === 1 ? p + p : p, 16) / 255);
  return [r!, g!, b!];
};

/** sRGB to linear light, IEC 61966-2-1. */
const linear = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
const encoded = (v: number): number => {
  const c = Math.min(1, Math.max(0, v));
  return c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055;
};

const luminance = (c: Rgb): number => 0.2126 * linear(c[0]) + 0.7152 * linear(c[1]) + 0.0722 * linear(c[2]);

/** Contrast ratio of WCAG 2.2, 1 to 21. */
export const contrast = (a: string, b: string): number => {
  const [p, q] = [luminance(rgbOf(a)), luminance(rgbOf(b))];
  return (Math.max(p, q) + 0.05) / (Math.min(p, q) + 0.05);
};

/** Of what lies on paper and lets some of it through. */
export const over = (hue: string, opacity: number, paper: string): string => {
  const [a, b] = [rgbOf(hue), rgbOf(paper)];
  return hexOf(a.map((v, i) => v * opacity + b[i]! * (1 - opacity)) as unknown as Rgb);
};

const hexOf = (c: Rgb): string =>
  `#${c
    .map((v) =>
      Math.round(v * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;

type Matrix = readonly [Rgb, Rgb, Rgb];

/**
 * What is left of a colour without one kind of cone, in linear RGB: Machado, Oliveira and Fernandes, "A
 * physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15 (2009), severity 1.0. Values
 * from memory.
 */
export const BLINDNESS: Readonly<Record<'protanopia' | 'deuteranopia' | 'tritanopia', Matrix>> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

export const seenBy = (hex: string, m: Matrix): string => {
  const c = rgbOf(hex).map(linear);
  return hexOf(m.map((row) => encoded(row[0] * c[0]! + row[1] * c[1]! + row[2] * c[2]!)) as unknown as Rgb);
};

/** CIELAB under D65, CIE 15. */
export const labOf = (hex: string): Rgb => {
  const [r, g, b] = rgbOf(hex).map(linear) as [number, number, number];
  const f = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
  const y = f(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
  const z = f((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
};

const DEGREE = Math.PI / 180;

/** CIEDE2000 colour difference: Sharma, Wu and Dalal, Color Res. Appl. 30 (2005). */
export const difference = (p: Rgb, q: Rgb): number => {
  const [l1, a1, b1] = p;
  const [l2, a2, b2] = q;
  const mean = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
  const g = 0.5 * (1 - Math.sqrt(mean ** 7 / (mean ** 7 + 25 ** 7)));
  const hue = (a: number, b: number): number =>
    a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / DEGREE + 360) % 360;
  const [a1s, a2s] = [(1 + g) * a1, (1 + g) * a2];
  const [c1, c2] = [Math.hypot(a1s, b1), Math.hypot(a2s, b2)];
  const [h1, h2] = [hue(a1s, b1), hue(a2s, b2)];
  const grey = c1 * c2 === 0;
  const apart = h2 - h1;
  const dh = grey ? 0 : apart > 180 ? apart - 360 : apart < -180 ? apart + 360 : apart;
  const dL = l2 - l1;
  const dC = c2 - c1;
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh / 2) * DEGREE);
  const l = (l1 + l2) / 2;
  const c = (c1 + c2) / 2;
  const sum = h1 + h2;
  const h = grey ? sum : Math.abs(apart) <= 180 ? sum / 2 : (sum + (sum < 360 ? 360 : -360)) / 2;
  const t =
    1 -
    0.17 * Math.cos((h - 30) * DEGREE) +
    0.24 * Math.cos(2 * h * DEGREE) +
    0.32 * Math.cos((3 * h + 6) * DEGREE) -
    0.2 * Math.cos((4 * h - 63) * DEGREE);
  const sl = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2);
  const sc = 1 + 0.045 * c;
  const sh = 1 + 0.015 * c * t;
  const rc = 2 * Math.sqrt(c ** 7 / (c ** 7 + 25 ** 7));
  const rt = -Math.sin(60 * Math.exp(-(((h - 275) / 25) ** 2)) * DEGREE) * rc;
  return Math.sqrt((dL / sl) ** 2 + (dC / sc) ** 2 + (dH / sh) ** 2 + rt * (dC / sc) * (dH / sh));
};
