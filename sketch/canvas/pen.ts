import paper from 'paper/dist/paper-core';
import type { Point } from '../shape/point.ts';
import type { Region } from '../shape/region.ts';
import { pointAlong, radiusOf, type Segment } from '../shape/segment.ts';
import { type Camera, toScreen, type Viewport } from './camera.ts';
import { DASH, hueOf, LETTER_HEIGHT, LETTERING, type Role, type Stroke, WEIGHT } from './ink.ts';

export interface Fill {
  readonly role: Role;
  readonly opacity?: number;
}

export interface Lettering {
  readonly role?: Role;
  readonly size?: number;
  /** Degrees clockwise on the screen, about the anchor. */
  readonly turn?: number;
  readonly align?: 'left' | 'center' | 'right';
  readonly bold?: boolean;
  /** Paper colour behind the letters, so that lines stop short of them. */
  readonly clear?: boolean;
}

/**
 * Puts ink on one layer of the sheet. Regions and chains are given in the part's mm, everything else in pixels;
 * line weights and lettering keep their size at every scale.
 */
export class Pen {
  readonly camera: Camera;
  readonly viewport: Viewport;
  private readonly hues = new Map<Role, paper.Color>();

  constructor(camera: Camera, viewport: Viewport) {
    this.camera = camera;
    this.viewport = viewport;
  }

  at(p: Point): Point {
    return toScreen(this.camera, this.viewport, p);
  }

  hue(role: Role): paper.Color {
    let hue = this.hues.get(role);
    if (!hue) {
      hue = new paper.Color(hueOf(role));
      this.hues.set(role, hue);
    }
    return hue;
  }

  region(region: Region, style: { fill?: Fill; stroke?: Stroke }): void {
    if (region.contours.length === 0) return;
    const children = region.contours.map((c) => this.trace(c.segments, true));
    const item = new paper.CompoundPath({ children, fillRule: 'nonzero' });
    if (style.fill) {
      const colour = this.hue(style.fill.role).clone();
      if (style.fill.opacity !== undefined) colour.alpha = style.fill.opacity;
      item.fillColor = colour;
    }
    if (style.stroke) this.ink(item, style.stroke);
  }

  /** A chain of lines and arcs, mm. */
  chain(segments: readonly Segment[], stroke: Stroke): void {
    if (segments.length > 0) this.ink(this.trace(segments, false), stroke);
  }

  circle(centre: Point, radius: number, stroke: Stroke): void {
    const c = this.at(centre);
    this.ink(new paper.Path.Circle(new paper.Point(c.x, c.y), radius * this.camera.scale), stroke);
  }

  /** Straight pieces between pixels. */
  polyline(points: readonly Point[], stroke: Stroke): void {
    const path = new paper.Path(points.map((p) => new paper.Point(p.x, p.y)));
    this.ink(path, stroke);
  }

  /** An arc in pixels; angles in radians on the screen. */
  arcAt(centre: Point, radius: number, from: number, sweep: number, stroke: Stroke): void {
    const go = (angle: number): paper.Point =>
      new paper.Point(centre.x + radius * Math.cos(angle), centre.y + radius * Math.sin(angle));
    this.ink(new paper.Path.Arc(go(from), go(from + sweep / 2), go(from + sweep)), stroke);
  }

  patch(points: readonly Point[], fill: Fill, stroke?: Stroke): void {
    const path = new paper.Path(points.map((p) => new paper.Point(p.x, p.y)));
    path.closed = true;
    const colour = this.hue(fill.role).clone();
    if (fill.opacity !== undefined) colour.alpha = fill.opacity;
    path.fillColor = colour;
    if (stroke) this.ink(path, stroke);
  }

  dot(at: Point, radius: number, role: Role): void {
    const item = new paper.Path.Circle(new paper.Point(at.x, at.y), radius);
    item.fillColor = this.hue(role);
  }

  /** A slim filled arrowhead with its tip at `tip`, pointing along `direction` (radians, screen). */
  arrow(tip: Point, direction: number, role: Role, size = 10): void {
    const back = (turn: number): paper.Point =>
      new paper.Point(tip.x - size * Math.cos(direction + turn), tip.y - size * Math.sin(direction + turn));
    const head = new paper.Path([new paper.Point(tip.x, tip.y), back(0.17), back(-0.17)]);
    head.closed = true;
    head.fillColor = this.hue(role);
  }

  text(at: Point, content: string, style: Lettering = {}): void {
    const size = style.size ?? LETTER_HEIGHT;
    const item = new paper.PointText({
      point: new paper.Point(at.x, at.y + size * 0.34),
      content,
      fontFamily: LETTERING,
      fontSize: size,
      justification: style.align ?? 'center',
      fillColor: this.hue(style.role ?? 'ink'),
    });
    if (style.bold) item.fontWeight = 'bold';
    if (style.turn) item.rotate(style.turn, new paper.Point(at.x, at.y));
    if (style.clear) {
      const back = new paper.Path.Rectangle(item.bounds.expand(4, -2));
      back.fillColor = this.hue('paper');
      back.insertBelow(item);
    }
  }

  /** A picture whose pixels are cells of `cell` mm, its lower left corner at `corner`; row 0 is the lowest. */
  image(picture: HTMLCanvasElement, corner: Point, cell: number): void {
    const raster = new paper.Raster(picture);
    raster.smoothing = 'off';
    const a = this.at(corner);
    const b = this.at({ x: corner.x + picture.width * cell, y: corner.y + picture.height * cell });
    const k = cell * this.camera.scale;
    raster.matrix = new paper.Matrix(k, 0, 0, a.y < b.y ? k : -k, (a.x + b.x) / 2, (a.y + b.y) / 2);
  }

  private trace(segments: readonly Segment[], closed: boolean): paper.Path {
    const path = new paper.Path();
    const first = segments[0];
    if (!first) return path;
    if (segments.length === 1 && first.kind === 'arc' && Math.abs(first.sweep) > 2 * Math.PI - 1e-9) {
      const c = this.at(first.centre);
      const round = new paper.Path.Circle(new paper.Point(c.x, c.y), radiusOf(first) * this.camera.scale);
      if (first.sweep > 0 === this.camera.turned) round.reverse();
      path.remove();
      return round;
    }
    const go = (p: Point): paper.Point => {
      const q = this.at(p);
      return new paper.Point(q.x, q.y);
    };
    path.moveTo(go(first.from));
    for (const s of segments) {
      if (s.kind === 'line') {
        path.lineTo(go(s.to));
        continue;
      }
      // A turn of more than half is drawn in two, so that its three points never fall together.
      const parts = Math.abs(s.sweep) > Math.PI ? 2 : 1;
      for (let i = 0; i < parts; i++) {
        path.arcTo(go(pointAlong(s, (i + 0.5) / parts)), go(pointAlong(s, (i + 1) / parts)));
      }
    }
    if (closed) path.closePath();
    return path;
  }

  private ink(item: paper.PathItem, stroke: Stroke): void {
    item.strokeColor = this.hue(stroke.role);
    item.strokeWidth = WEIGHT[stroke.weight];
    item.dashArray = [...DASH[stroke.dash ?? 'solid']];
    item.strokeJoin = 'round';
    item.strokeCap = 'butt';
  }
}
