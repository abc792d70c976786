import type { Bar, Part } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import { type Region, rectangle, segmentsOf } from '../shape/region.ts';
import { pointAlong, segmentLength } from '../shape/segment.ts';
import { type Camera, toScreen, type Viewport } from './camera.ts';
import { type Dimension, featuresOf } from './dimension.ts';
import { dimensionsOf } from './dimensions.ts';
import type { Drawing } from './draw-part.ts';
import { DIMENSION, LETTER_HEIGHT, LETTERING } from './ink.ts';
import { LETTER, type Patch, type Stroke } from './patch.ts';
import type { Pen } from './pen.ts';
import { type Asked, type Placed, placeDimensions } from './placement.ts';

/** A measure with the place it has found on the sheet. */
export interface PlacedDimension {
  readonly dimension: Dimension;
  readonly placed: Placed;
  /** Upright box round its figure, pixels: what a pointer may press. */
  readonly box: Patch;
}

export interface DimensionOptions {
  /** Places in mm that lettering must keep clear of: handles, each with the arrow under it. */
  readonly kept?: readonly Point[];
  /** Only the measures that speak of these features; all of them when left out. */
  readonly only?: readonly string[];
  /** Width of a text in the sheet's lettering, pixels. */
  readonly widthOf?: (text: string) => number;
}

/** What a placing was made for; while it is the same but for a push of the sheet, the placing only moves along. */
interface Remembered {
  readonly part: Part;
  readonly scale: number;
  readonly turned: boolean;
  readonly viewport: Viewport;
  readonly kept: string;
  readonly only: string;
  readonly origin: Point;
  readonly dimensions: readonly PlacedDimension[];
}

let remembered: Remembered | null = null;
/** The same again, moved to where the sheet now lies. */
let moved: {
  readonly of: Remembered;
  readonly by: Point;
  readonly dimensions: readonly PlacedDimension[];
} | null = null;

/**
 * The part's measures, each with its place in pixels. They are placed anew when the part, the scale or the window
 * changes; a sheet that is only pushed along takes them with it.
 */
export const placedDimensions = (
  camera: Camera,
  viewport: Viewport,
  drawing: Pick<Drawing, 'part' | 'outline'>,
  options: DimensionOptions = {},
): readonly PlacedDimension[] => {
  const kept = JSON.stringify(options.kept ?? []);
  const only = JSON.stringify(options.only ?? null);
  const origin = toScreen(camera, viewport, { x: 0, y: 0 });
  const m = remembered;
  const known =
    m !== null &&
    m.part === drawing.part &&
    m.scale === camera.scale &&
    m.turned === camera.turned &&
    sameWindow(m.viewport, viewport) &&
    m.kept === kept &&
    m.only === only;
  if (!known) {
    remembered = {
      part: drawing.part,
      scale: camera.scale,
      turned: camera.turned,
      viewport,
      kept,
      only,
      origin,
      dimensions: place(camera, viewport, drawing, options),
    };
    return remembered.dimensions;
  }
  const by = { x: origin.x - m.origin.x, y: origin.y - m.origin.y };
  if (by.x === 0 && by.y === 0) return m.dimensions;
  if (moved?.of !== m || moved.by.x !== by.x || moved.by.y !== by.y) {
    moved = { of: m, by, dimensions: m.dimensions.map((d) => pushed(d, by)) };
  }
  return moved.dimensions;
};

const sameWindow = (a: Viewport, b: Viewport): boolean =>
  a === b ||
  (a.width === b.width &&
    a.height === b.height &&
    a.covered.left === b.covered.left &&
    a.covered.top === b.covered.top &&
    a.covered.right === b.covered.right &&
    a.covered.bottom === b.covered.bottom);

const place = (
  camera: Camera,
  v: Viewport,
  { part, outline }: Pick<Drawing, 'part' | 'outline'>,
  { kept = [], only, widthOf = letteringWidth }: DimensionOptions,
): readonly PlacedDimension[] => {
  const at = (p: Point): Point => toScreen(camera, v, p);
  const wanted = mostNeeded(
    dimensionsOf(part, outline).filter(
      (d) => only === undefined || featuresOf(d).some((name) => only.includes(name)),
    ),
  );
  const placed = placeDimensions(
    wanted.map((d) => askedOf(d, camera, v)),
    {
      outline: outlineChain(outline, camera.scale, at),
      // A handle and the arrow under it.
      kept: kept.flatMap((p) => {
        const middle = at(p);
        return [middle, { x: middle.x, y: middle.y + 24 }];
      }),
      lines: barLines(part.bar, at),
      free: {
        min: { x: v.covered.left + 6, y: v.covered.top + 6 },
        max: { x: v.width - v.covered.right - 6, y: v.height - v.covered.bottom - 6 },
      },
      widthOf,
    },
  );
  return placed.map((p, i) => ({ dimension: wanted[i]!, placed: p, box: boxOf(p.label) }));
};

/** More measures than this can neither be read nor placed while one looks on. */
const MOST = 60;

/** Of a part with hundreds of holes: sizes and angles before the places of this and that. */
const mostNeeded = (all: readonly Dimension[]): readonly Dimension[] => {
  if (all.length <= MOST) return all;
  const isSize = (d: Dimension): boolean => d.kind !== 'linear' || d.overall === true;
  return [...all.filter(isSize), ...all.filter((d) => !isSize(d))].slice(0, MOST);
};

/** A measure with its places in pixels, on a sheet that may lie turned over. */
export const askedOf = (d: Dimension, camera: Camera, viewport: Viewport): Asked => {
  const at = (p: Point): Point => toScreen(camera, viewport, p);
  const sense = camera.turned ? 1 : -1;
  const { feature, text } = d;
  switch (d.kind) {
    case 'linear':
      return {
        kind: d.kind,
        feature,
        text,
        from: at(d.from),
        to: at(d.to),
        along: { x: d.along.x, y: sense * d.along.y },
        overall: d.overall ?? false,
      };
    case 'angle':
      return {
        kind: d.kind,
        feature,
        text,
        vertex: at(d.vertex),
        from: sense * d.from,
        sweep: sense * d.sweep,
        legs: [d.legs[0] * camera.scale, d.legs[1] * camera.scale],
      };
    case 'note':
      return {
        kind: d.kind,
        feature,
        text,
        at: at(d.at),
        radius: d.radius * camera.scale,
        toward: d.toward === null ? null : sense * d.toward,
        edges: d.edges?.map(([from, sweep]) => [sense * from, sense * sweep] as const) ?? null,
        hollow: d.hollow ?? false,
      };
  }
};

const outlineChain = (region: Region, scale: number, at: (p: Point) => Point): Point[] =>
  region.contours
    .slice(0, 1)
    .flatMap((c) => c.segments)
    .flatMap((s) => {
      const count = Math.max(1, Math.min(48, Math.ceil((segmentLength(s) * scale) / 14)));
      return Array.from({ length: count }, (_, i) => at(pointAlong(s, i / count)));
    });

const barLines = (bar: Bar, at: (p: Point) => Point): Stroke[] => {
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  return segmentsOf(rectangle(bar.corner, far)).map((s) => [at(s.from), at(s.to)]);
};

/** The upright box round a label that may be turned. */
const boxOf = ({ at, turn, width }: Placed['label']): Patch => {
  const a = (turn * Math.PI) / 180;
  const [c, s] = [Math.abs(Math.cos(a)), Math.abs(Math.sin(a))];
  const half = { x: (width * c + LETTER * s) / 2, y: (width * s + LETTER * c) / 2 };
  return {
    min: { x: at.x - half.x - 3, y: at.y - half.y - 1 },
    max: { x: at.x + half.x + 3, y: at.y + half.y + 1 },
  };
};

const pushed = (d: PlacedDimension, by: Point): PlacedDimension => {
  const go = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  const { placed } = d;
  return {
    dimension: d.dimension,
    box: { min: go(d.box.min), max: go(d.box.max) },
    placed: {
      feature: placed.feature,
      lines: placed.lines.map(([a, b]) => [go(a), go(b)] as const),
      arcs: placed.arcs.map((a) => ({ ...a, centre: go(a.centre) })),
      arrows: placed.arrows.map((a) => ({ ...a, tip: go(a.tip) })),
      dot: placed.dot && go(placed.dot),
      label: { ...placed.label, at: go(placed.label.at) },
    },
  };
};

let ruler: CanvasRenderingContext2D | null = null;
const widths = new Map<string, number>();
/** Width of a text in the sheet's lettering, pixels. */
export const letteringWidth = (text: string): number => {
  const known = widths.get(text);
  if (known !== undefined) return known;
  ruler ??= document.createElement('canvas').getContext('2d');
  if (!ruler) return text.length * 9;
  ruler.font = `${LETTER_HEIGHT}px ${LETTERING}`;
  const { width } = ruler.measureText(text);
  // Figures under a drag are many and are not met again.
  if (widths.size > 2000) widths.clear();
  widths.set(text, width);
  return width;
};

/** Inks the part's measures, laid out so that no two stand on each other; those of the picked features in the accent. */
export const drawDimensions = (
  pen: Pen,
  drawing: Drawing,
  picked: readonly string[],
  options: DimensionOptions = {},
): void => {
  for (const { dimension, placed: d } of placedDimensions(pen.camera, pen.viewport, drawing, options)) {
    const chosen = picked.some((name) => name === dimension.feature);
    const role = chosen ? 'picked' : 'ink';
    const stroke = chosen ? ({ role: 'picked', weight: 'thin' } as const) : DIMENSION;
    for (const line of d.lines) pen.polyline(line, stroke);
    for (const a of d.arcs) pen.arcAt(a.centre, a.radius, a.from, a.sweep, stroke);
    for (const a of d.arrows) pen.arrow(a.tip, a.direction, chosen ? 'picked' : 'soft');
    if (d.dot) pen.dot(d.dot, 3, chosen ? 'picked' : 'soft');
    pen.text(d.label.at, d.label.text, { turn: d.label.turn, clear: true, role, bold: chosen });
  }
};
