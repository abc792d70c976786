import type { Edges } from '../part/edges.ts';
import type { Bar, Part } from '../part/part.ts';
import type { Solid } from '../part/solid.ts';
import { type Point, polar } from '../shape/point.ts';
import { type Region, rectangle, segmentsOf } from '../shape/region.ts';
import { arc, pointAlong, segmentLength } from '../shape/segment.ts';
import { dimensionsOf, edgesOfEnd } from './dimensions.ts';
import { CENTRE, DIMENSION, HIDDEN, LETTER_HEIGHT, OUTLINE, PICKED, THIN } from './ink.ts';
import type { Pen } from './pen.ts';
import { type Asked, placeDimensions, type Stroke } from './placement.ts';

/** What the drawing shows of a part: worked out once for each part, then drawn at any scale. */
export interface Drawing {
  readonly part: Part;
  readonly outline: Region;
  readonly solid: Solid;
  readonly front: Edges;
  readonly back: Edges;
}

export const barRegion = (bar: Bar): Region =>
  rectangle(bar.corner, { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width });

/** The bar round the part, and beyond it what the saw left. */
export const drawBar = (pen: Pen, bar: Bar): void => {
  pen.region(barRegion(bar), { stroke: { role: 'soft', weight: 'thin', dash: 'phantom' } });
  if (bar.sawn <= 0) return;
  const { x, y } = bar.corner;
  for (const [from, to] of [
    [x - bar.sawn, x],
    [x + bar.length, x + bar.length + bar.sawn],
  ] as const) {
    pen.region(rectangle({ x: from, y }, { x: to, y: y + bar.width }), {
      stroke: { role: 'soft', weight: 'hair', dash: 'phantom' },
    });
  }
};

/** The part filled with a metal tone, the deeper where more metal stands. */
export const drawBody = (pen: Pen, drawing: Drawing): void => {
  const whole = drawing.part.bar.thickness;
  for (const slab of drawing.solid.slabs) {
    const share = (slab.top - slab.bottom) / whole;
    pen.region(slab.region, { fill: { role: 'body', opacity: Math.min(0.5, 0.06 + 0.44 * share) } });
  }
};

/** The part's edges from the side that is up: heavy as the drawing itself, or thin where they only guide the eye. */
export const drawEdges = (pen: Pen, drawing: Drawing, weight: 'heavy' | 'thin' = 'heavy'): void => {
  const edges = pen.camera.turned ? drawing.back : drawing.front;
  for (const s of edges.hidden) pen.chain([s], HIDDEN);
  for (const s of edges.visible) pen.chain([s], weight === 'heavy' ? OUTLINE : THIN);
  for (const h of drawing.part.holes) {
    if (h.purpose !== 'tapped') continue;
    // ISO 6410: the thread's outside as three quarters of a thin circle.
    const from = polar(h.centre, h.major / 2, Math.PI * 0.06);
    const to = polar(h.centre, h.major / 2, Math.PI * 1.56);
    pen.chain([arc(from, to, h.centre, true)], THIN);
  }
};

export const drawCentres = (pen: Pen, { part, outline }: Drawing): void => {
  const past = 7 / pen.camera.scale;
  const cross = (c: Point, radius: number): void => {
    const r = radius + past;
    pen.polyline([pen.at({ x: c.x - r, y: c.y }), pen.at({ x: c.x + r, y: c.y })], CENTRE);
    pen.polyline([pen.at({ x: c.x, y: c.y - r }), pen.at({ x: c.x, y: c.y + r })], CENTRE);
  };
  const ends = new Map(part.ends.map((e) => [e.name, e.centre]));
  for (const e of part.ends) if (edgesOfEnd(e, outline).length > 0) cross(e.centre, e.radius);
  for (const h of part.holes) cross(h.centre, h.diameter / 2);
  for (const s of part.slots) {
    cross(s.from, s.width / 2);
    cross(s.to, s.width / 2);
  }
  for (const a of part.arms) {
    const from = ends.get(a.from);
    const to = ends.get(a.to);
    if (from && to) pen.polyline([pen.at(from), pen.at(to)], CENTRE);
  }
  for (const f of part.forks) {
    const d = { x: Math.cos(f.direction), y: Math.sin(f.direction) };
    const back = { x: f.mouth.x - d.x * past, y: f.mouth.y - d.y * past };
    const root = { x: f.mouth.x + d.x * (f.depth + past), y: f.mouth.y + d.y * (f.depth + past) };
    pen.polyline([pen.at(back), pen.at(root)], CENTRE);
  }
};

const outlineChain = (pen: Pen, region: Region): Point[] =>
  region.contours
    .slice(0, 1)
    .flatMap((c) => c.segments)
    .flatMap((s) => {
      const count = Math.max(1, Math.min(48, Math.ceil((segmentLength(s) * pen.camera.scale) / 14)));
      return Array.from({ length: count }, (_, i) => pen.at(pointAlong(s, i / count)));
    });

const barLines = (pen: Pen, bar: Bar): Stroke[] => {
  const lines: Stroke[] = [];
  for (const s of segmentsOf(barRegion(bar))) lines.push([pen.at(s.from), pen.at(s.to)]);
  return lines;
};

let ruler: CanvasRenderingContext2D | null = null;
/** Width of a text in the sheet's lettering, pixels. */
export const widthOf = (text: string, font: string): number => {
  ruler ??= document.createElement('canvas').getContext('2d');
  if (!ruler) return text.length * 9;
  ruler.font = `${LETTER_HEIGHT}px ${font}`;
  return ruler.measureText(text).width;
};

/** The part's measures, laid out so that no two stand on each other. */
export const drawDimensions = (
  pen: Pen,
  drawing: Drawing,
  picked: string | null,
  kept: readonly Point[],
  font: string,
): void => {
  const { part, outline } = drawing;
  const v = pen.viewport;
  const sense = pen.camera.turned ? 1 : -1;
  const asked: Asked[] = dimensionsOf(part, outline).map((d) =>
    d.kind === 'linear'
      ? {
          ...d,
          from: pen.at(d.from),
          to: pen.at(d.to),
          along: { x: d.along.x, y: sense * d.along.y },
        }
      : {
          ...d,
          at: pen.at(d.at),
          radius: d.radius * pen.camera.scale,
          toward: d.toward === null ? null : sense * d.toward,
          edges: d.edges?.map(([from, sweep]) => [sense * from, sense * sweep] as const) ?? null,
        },
  );
  const placed = placeDimensions(asked, {
    outline: outlineChain(pen, outline),
    // A handle and the arrow under it.
    kept: kept.flatMap((p) => {
      const at = pen.at(p);
      return [at, { x: at.x, y: at.y + 24 }];
    }),
    lines: barLines(pen, part.bar),
    free: {
      min: { x: v.covered.left + 6, y: v.covered.top + 6 },
      max: { x: v.width - v.covered.right - 6, y: v.height - v.covered.bottom - 6 },
    },
    widthOf: (text) => widthOf(text, font),
  });
  for (const d of placed) {
    const chosen = picked !== null && d.feature === picked;
    const role = chosen ? 'picked' : 'ink';
    for (const line of d.lines) {
      pen.polyline(line, chosen ? { role: 'picked', weight: 'thin' } : DIMENSION);
    }
    for (const a of d.arrows) pen.arrow(a.tip, a.direction, chosen ? 'picked' : 'soft');
    if (d.dot) pen.dot(d.dot, 3, chosen ? 'picked' : 'soft');
    pen.text(d.label.at, d.label.text, { turn: d.label.turn, clear: true, role, bold: chosen });
  }
};

/** The picked feature gone round in the accent. */
export const drawPicked = (pen: Pen, part: Part, name: string): void => {
  for (const e of part.ends) if (e.name === name) pen.circle(e.centre, e.radius, PICKED);
  for (const h of part.holes) if (h.name === name) pen.circle(h.centre, h.diameter / 2, PICKED);
  for (const f of part.forks) {
    if (f.name !== name) continue;
    const d = { x: Math.cos(f.direction), y: Math.sin(f.direction) };
    const n = { x: -d.y * (f.width / 2), y: d.x * (f.width / 2) };
    const deep = f.depth - (f.root.kind === 'round' ? f.width / 2 : 0);
    const root = { x: f.mouth.x + d.x * deep, y: f.mouth.y + d.y * deep };
    for (const k of [1, -1]) {
      const a = { x: f.mouth.x + k * n.x, y: f.mouth.y + k * n.y };
      const b = { x: root.x + k * n.x, y: root.y + k * n.y };
      pen.polyline([pen.at(a), pen.at(b)], PICKED);
    }
  }
  for (const s of part.slots) {
    if (s.name !== name) continue;
    pen.circle(s.from, s.width / 2, PICKED);
    pen.circle(s.to, s.width / 2, PICKED);
  }
  for (const p of part.plates)
    if (p.name === name)
      pen.patch(
        p.corners.map((c) => pen.at(c)),
        { role: 'picked', opacity: 0.12 },
        PICKED,
      );
  for (const l of part.lands) {
    if (l.name !== name) continue;
    if (l.shape.kind === 'disc') pen.circle(l.shape.centre, l.shape.radius, PICKED);
    if (l.shape.kind === 'polygon') {
      pen.patch(
        l.shape.corners.map((c) => pen.at(c)),
        { role: 'picked', opacity: 0.12 },
        PICKED,
      );
    }
  }
  const ends = new Map(part.ends.map((e) => [e.name, e.centre]));
  for (const a of part.arms) {
    const from = ends.get(a.from);
    const to = ends.get(a.to);
    if (a.name === name && from && to) pen.polyline([pen.at(from), pen.at(to)], PICKED);
  }
};

/** The feature nearest to a place, if one lies within reach: the smallest that holds the place wins. */
export const featureAt = (part: Part, p: Point, reach: number): string | null => {
  const hits: { name: string; size: number }[] = [];
  const near = (name: string, c: Point, radius: number): void => {
    if (Math.hypot(p.x - c.x, p.y - c.y) <= radius + reach) hits.push({ name, size: radius });
  };
  for (const h of part.holes) near(h.name, h.centre, h.diameter / 2);
  for (const s of part.slots) {
    near(s.name, s.from, s.width / 2);
    near(s.name, s.to, s.width / 2);
  }
  for (const f of part.forks) {
    const dx = p.x - f.mouth.x;
    const dy = p.y - f.mouth.y;
    const along = dx * Math.cos(f.direction) + dy * Math.sin(f.direction);
    const across = Math.abs(dy * Math.cos(f.direction) - dx * Math.sin(f.direction));
    if (along > -reach && along < f.depth + reach && across < f.width / 2 + reach) {
      hits.push({ name: f.name, size: f.width });
    }
  }
  for (const e of part.ends) near(e.name, e.centre, e.radius);
  return hits.sort((a, b) => a.size - b.size)[0]?.name ?? null;
};
