import type { Edges } from '../part/edges.ts';
import type { Bar, Part } from '../part/part.ts';
import type { Solid } from '../part/solid.ts';
import { type Point, polar } from '../shape/point.ts';
import { type Region, rectangle } from '../shape/region.ts';
import { arc } from '../shape/segment.ts';
import { CENTRE, CONSTRUCTION, HIDDEN, OUTLINE, PICKED, THIN } from './ink.ts';
import { edgesOfEnd } from './notes.ts';
import type { Pen } from './pen.ts';

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
  const joined = new Set(part.arms.flatMap((a) => [a.from, a.to]));
  for (const e of part.ends) {
    const seen = edgesOfEnd(e, outline).length > 0;
    if (seen || joined.has(e.name)) cross(e.centre, e.radius);
    // An end that a plate has swallowed still shapes its arm: its round is drawn as a construction.
    if (!seen && joined.has(e.name)) pen.circle(e.centre, e.radius, CONSTRUCTION);
  }
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
