import type { Material } from '../part/part.ts';
import type { PartDocument } from '../part/schema.ts';
import type { Point } from '../shape/point.ts';
import { type Contour, regionBox } from '../shape/region.ts';
import type { Body } from './bodies.ts';
import { type Drawing, MM_PER_INCH } from './drawing.ts';
import type { FoundFork } from './forks.ts';
import type { Round, Stadium } from './shapes.ts';

/** What a drawing in plan does not say and the part needs. */
export interface RecognitionOptions {
  readonly name: string;
  /** mm. */
  readonly thickness: number;
  readonly material: Material;
  /** Unit of the document; the drawing's own when left out. */
  readonly unit?: 'mm' | 'inch';
}

/** What lies within the outline. */
export interface Inner {
  readonly holes: readonly Round[];
  readonly slots: readonly Stadium[];
}

/** What was recognised as a part document, by the schema; lengths in its unit, bar to the next whole mm or sixteenth. */
export const documentOf = (
  drawing: Drawing,
  options: RecognitionOptions,
  body: Body,
  forks: readonly FoundFork[],
  inner: Inner,
  outer: Contour,
): PartDocument => {
  const unit = options.unit ?? drawing.unit;
  const k = unit === 'inch' ? MM_PER_INCH : 1;
  const size = (mm: number): number => rounded(mm / k);
  const point = (p: Point): [number, number] => [size(p.x), size(p.y)];
  const box = regionBox({ contours: [outer] })!;
  /** Bars come in whole mm or sixteenths. */
  const stock = (mm: number): number => {
    const step = unit === 'inch' ? 1 / 16 : 1;
    return rounded(Math.ceil(mm / k / step - 1e-6) * step);
  };
  const some = <T>(key: string, list: readonly T[]): object => (list.length === 0 ? {} : { [key]: list });
  const name = options.name.replace(/\s+/g, ' ').trim().slice(0, 120);
  return {
    format: 'leverwright-part',
    version: 1,
    name: name === '' ? 'Part from a drawing' : name,
    unit,
    bar: {
      length: stock(box.max.x - box.min.x),
      width: stock(box.max.y - box.min.y),
      thickness: size(options.thickness),
      material: options.material,
    },
    ...some(
      'ends',
      body.ends.map((e) => ({ name: e.name, centre: point(e.centre), radius: size(e.radius) })),
    ),
    ...some(
      'arms',
      body.arms.map(({ from, to }) => ({ from, to })),
    ),
    ...some(
      'plates',
      body.plates.map((p) => ({
        name: p.name,
        corners: p.corners.map(point),
        ...(p.cornerRadius > 0 ? { cornerRadius: size(p.cornerRadius) } : {}),
      })),
    ),
    ...(body.insideRadius === undefined ? {} : { insideRadius: size(body.insideRadius) }),
    ...some(
      'holes',
      inner.holes.map((h, i) => ({
        name: `hole ${i + 1}`,
        purpose: 'clearance' as const,
        centre: point(h.centre),
        diameter: size(2 * h.radius),
      })),
    ),
    ...some(
      'slots',
      inner.slots.map((s, i) => ({
        name: `slot ${i + 1}`,
        from: point(s.from),
        to: point(s.to),
        width: size(s.width),
      })),
    ),
    ...some(
      'forks',
      forks.map((f, i) => ({
        name: `fork ${i + 1}`,
        mouth: point(f.mouth),
        direction: rounded((f.direction * 180) / Math.PI),
        width: size(f.width),
        depth: size(f.depth),
        root: f.root,
        ...(f.root === 'square' && f.cornerRadius > 0 ? { cornerRadius: size(f.cornerRadius) } : {}),
      })),
    ),
  };
};

/** Six decimals: a nanometre, or a fortieth of a micrometre in inches. */
const rounded = (value: number): number => {
  const r = Math.round(value * 1e6) / 1e6;
  return Object.is(r, -0) ? 0 : r;
};
