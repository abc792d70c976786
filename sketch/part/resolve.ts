import type { Point } from '../shape/point.ts';
import { anticlockwise } from './corners.ts';
import { type Quantity, workOut } from './dimensions.ts';
import { quoted, sentence } from './names.ts';
import { outlineBox } from './outline.ts';
import type { Bar, Face, Finding, Fork, Hole, Land, Part, Plate } from './part.ts';
import type { DocumentHole, DocumentLand, DocumentPlate, PartDocument } from './schema.ts';
import { engagementOf, parseThread, tapDrillFor, USUAL_ENGAGEMENT } from './threads.ts';
import { mmPer, radians } from './units.ts';

/** A wall thinner than this is refused when the file says nothing, mm. Common practice, no source. */
export const USUAL_LEAST_WALL = 0.8;

type Given<T> = T | undefined;
type Pair = readonly [Quantity, Quantity];

/**
 * A document's part in mm and radians, every formula worked out; `values` are the named dimensions in the file's unit.
 * What cannot be worked out is told in `findings`, and the part is then not to be used.
 */
export const resolvePart = (
  document: PartDocument,
  values: ReadonlyMap<string, number>,
): { readonly part: Part; readonly findings: readonly Finding[] } => {
  const findings: Finding[] = [];
  const mm = mmPer(document.unit);

  const report = (code: string, message: string, feature?: string): void => {
    findings.push({ code, message, severity: 'error', ...(feature === undefined ? {} : { feature }) });
  };
  /** A bare number (an angle in degrees, a share). A dummy stands in for one that fails: the part is refused anyway. */
  const number = (quantity: Quantity, feature: string, field: string): number => {
    const worked = workOut(quantity, values);
    if (worked.ok) return worked.value;
    const where = feature === '' ? `The part’s ${field}` : `The ${field} of ${quoted(feature)}`;
    report('formula', sentence(`${where}: ${worked.message}`), feature === '' ? undefined : feature);
    return 1;
  };
  const length = (quantity: Quantity, feature: string, field: string): number =>
    number(quantity, feature, field) * mm;
  const point = (pair: Pair, feature: string, field: string): Point => ({
    x: length(pair[0], feature, `${field} in x`),
    y: length(pair[1], feature, `${field} in y`),
  });
  const lengthOr = (quantity: Given<Quantity>, otherwise: number, feature: string, field: string): number =>
    quantity === undefined ? otherwise : length(quantity, feature, field);

  /** Corners of a polygon or rectangle, anticlockwise; the schema sees to it that one of the two is there. */
  const cornersOf = (
    shape: { readonly corners?: Given<readonly Pair[]>; readonly rectangle?: Given<readonly [Pair, Pair]> },
    feature: string,
  ): readonly Point[] => {
    if (shape.rectangle === undefined) {
      return anticlockwise((shape.corners ?? []).map((c, i) => point(c, feature, `corner ${i + 1}`)));
    }
    const [a, b] = shape.rectangle.map((c, i) => point(c, feature, `corner ${i + 1}`)) as [Point, Point];
    const [left, right] = [Math.min(a.x, b.x), Math.max(a.x, b.x)];
    const [low, high] = [Math.min(a.y, b.y), Math.max(a.y, b.y)];
    return [
      { x: left, y: low },
      { x: right, y: low },
      { x: right, y: high },
      { x: left, y: high },
    ];
  };

  const plate = (p: DocumentPlate): Plate => ({
    name: p.name,
    corners: cornersOf(p, p.name),
    cornerRadius: lengthOr(p.cornerRadius, 0, p.name, 'corner radius'),
  });

  const tapped = (h: Extract<DocumentHole, { purpose: 'tapped' }>) => {
    const reading = parseThread(h.thread);
    if (!reading.ok) {
      report('thread-unknown', sentence(`Hole ${quoted(h.name)}: ${reading.message}`), h.name);
      return { diameter: 1, designation: h.thread, major: 2, pitch: 1, engagement: 1 };
    }
    const { thread } = reading;
    const wanted =
      h.engagement === undefined ? USUAL_ENGAGEMENT : number(h.engagement, h.name, 'thread engagement');
    if (!(wanted >= 0.4 && wanted <= 1)) {
      report(
        'engagement-out-of-range',
        `Hole ${quoted(h.name)} asks for a thread engagement of ${wanted}: it must be a share from 0.4 to 1.`,
        h.name,
      );
    }
    const diameter = lengthOr(h.drill, tapDrillFor(thread, wanted).chosen, h.name, 'tap drill');
    return {
      diameter,
      designation: thread.designation,
      major: thread.major,
      pitch: thread.pitch,
      engagement: engagementOf(thread, diameter),
    };
  };

  const hole = (h: DocumentHole): Hole => {
    const from: Face = h.from ?? 'front';
    const base = {
      name: h.name,
      centre: point(h.centre, h.name, 'centre'),
      depth: h.depth === undefined ? null : length(h.depth, h.name, 'depth'),
      from,
    };
    switch (h.purpose) {
      case 'tapped':
        return { ...base, purpose: h.purpose, ...tapped(h) };
      case 'counterbored':
        return {
          ...base,
          purpose: h.purpose,
          diameter: length(h.diameter, h.name, 'diameter'),
          boreDiameter: length(h.boreDiameter, h.name, 'bore diameter'),
          boreDepth: length(h.boreDepth, h.name, 'bore depth'),
        };
      case 'clearance':
      case 'reamed':
        return { ...base, purpose: h.purpose, diameter: length(h.diameter, h.name, 'diameter') };
    }
  };

  const root = (f: NonNullable<PartDocument['forks']>[number]): Fork['root'] => {
    if ((f.root ?? 'round') === 'round') {
      if (f.cornerRadius !== undefined) {
        report(
          'fork-corner-radius',
          `Fork ${quoted(f.name)} has a round root and a corner radius: leave out the radius, or make the root square.`,
          f.name,
        );
      }
      return { kind: 'round' };
    }
    if (f.cornerRadius === undefined) {
      report(
        'fork-corner-radius',
        `Fork ${quoted(f.name)} has a square root but no corner radius: state the radius its cutter leaves.`,
        f.name,
      );
      return { kind: 'round' };
    }
    return { kind: 'square', cornerRadius: length(f.cornerRadius, f.name, 'corner radius') };
  };

  const area = (land: DocumentLand): Land['shape'] => {
    if (land.area === 'whole') return { kind: 'whole' };
    const { disc } = land.area;
    if (disc !== undefined) {
      return {
        kind: 'disc',
        centre: point(disc.centre, land.name, 'centre'),
        radius: length(disc.radius, land.name, 'radius'),
      };
    }
    return {
      kind: 'polygon',
      corners: cornersOf(land.area, land.name),
      cornerRadius: lengthOr(land.area.cornerRadius, 0, land.name, 'corner radius'),
    };
  };

  const thickness = length(document.bar.thickness, '', 'bar thickness');
  const outline = {
    ends: (document.ends ?? []).map((e) => ({
      name: e.name,
      centre: point(e.centre, e.name, 'centre'),
      radius: length(e.radius, e.name, 'radius'),
    })),
    arms: (document.arms ?? []).map((a) => ({
      name: a.name ?? `${a.from} – ${a.to}`,
      from: a.from,
      to: a.to,
    })),
    plates: (document.plates ?? []).map(plate),
  };
  const barLength = length(document.bar.length, '', 'bar length');
  const barWidth = length(document.bar.width, '', 'bar width');
  const bar: Bar = {
    length: barLength,
    width: barWidth,
    thickness,
    material: document.bar.material,
    corner:
      document.bar.corner === undefined
        ? cornerRoundOutline(outline, barLength, barWidth)
        : point(document.bar.corner, '', 'bar corner'),
    sawn: lengthOr(document.bar.sawn, 0, '', 'sawn allowance'),
  };

  const part: Part = {
    name: document.name,
    unit: document.unit,
    bar,
    ...outline,
    ...(document.insideRadius === undefined
      ? {}
      : { insideRadius: length(document.insideRadius, '', 'inside radius') }),
    holes: (document.holes ?? []).map(hole),
    slots: (document.slots ?? []).map((s) => ({
      name: s.name,
      from: point(s.from, s.name, 'first centre'),
      to: point(s.to, s.name, 'second centre'),
      width: length(s.width, s.name, 'width'),
      depth: s.depth === undefined ? null : length(s.depth, s.name, 'depth'),
      face: s.face ?? 'front',
    })),
    forks: (document.forks ?? []).map((f) => ({
      name: f.name,
      mouth: point(f.mouth, f.name, 'mouth'),
      direction: radians(number(f.direction, f.name, 'direction')),
      width: length(f.width, f.name, 'width'),
      depth: length(f.depth, f.name, 'depth'),
      root: root(f),
    })),
    lands: (document.lands ?? []).map((l) => ({
      name: l.name,
      shape: area(l),
      top: lengthOr(l.top, thickness, l.name, 'top'),
      bottom: lengthOr(l.bottom, 0, l.name, 'bottom'),
    })),
    leastWall: lengthOr(document.leastWall, USUAL_LEAST_WALL, '', 'least wall'),
  };
  return { part, findings };
};

/** The lower left corner of a bar that has the outline's box in its middle. */
const cornerRoundOutline = (
  outline: Pick<Part, 'ends' | 'arms' | 'plates'>,
  length: number,
  width: number,
): Point => {
  const box = outlineBox(outline);
  if (box === null) return { x: 0, y: 0 };
  return {
    x: (box.min.x + box.max.x - length) / 2,
    y: (box.min.y + box.max.y - width) / 2,
  };
};
