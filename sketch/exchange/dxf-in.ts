import type { Finding } from '../part/part.ts';
import type { Point } from '../shape/point.ts';
import { line, type Segment } from '../shape/segment.ts';
import {
  type DrawingReading,
  FIT_TOLERANCE,
  FileFault,
  guarded,
  MM_PER_INCH,
  MOST_STROKES,
  type ReadingOptions,
  refused,
  type Stroke,
  Tally,
  type UnitChoice,
} from './drawing.ts';
import {
  CODES,
  type Corner,
  cornersOf,
  type Entity,
  facing,
  figureOf,
  type Group,
  mirrored,
  polylineSegments,
  segmentsOfEntity,
} from './dxf-entities.ts';
import { numberOf, pairCursor } from './dxf-pairs.ts';
import { finish } from './finish.ts';

/** Longer texts than this are refused unread. */
const LONGEST_TEXT = 64_000_000;
/** A layer's or entity's name is cut to this. */
const LONGEST_NAME = 255;

/** Length in mm of the units that $INSUNITS can name (DXF reference, header variables); others are asked for. */
const INSUNITS: Readonly<Record<number, number>> = {
  1: MM_PER_INCH,
  2: 304.8,
  4: 1,
  5: 10,
  6: 1000,
  8: MM_PER_INCH * 1e-6,
  9: MM_PER_INCH * 1e-3,
  10: 914.4,
  13: 1e-3,
  14: 100,
};

const CHOICES: readonly UnitChoice[] = [
  { name: 'mm', mmPerUnit: 1 },
  { name: 'inch', mmPerUnit: MM_PER_INCH },
  { name: 'cm', mmPerUnit: 10 },
  { name: 'm', mmPerUnit: 1000 },
];

interface OpenPolyline {
  readonly head: Entity;
  readonly corners: Corner[];
}

/**
 * Reads an ASCII DXF of any release: LINE, ARC, CIRCLE, LWPOLYLINE and POLYLINE of the drawing itself. Everything else
 * in it is named by kind and count. The unit is the option's, else the header's, else asked for. Never throws.
 */
export const readDxf = (text: string, options: ReadingOptions = {}): DrawingReading =>
  guarded(() => {
    if (text.length > LONGEST_TEXT) {
      return refused(
        'drawing-too-long',
        `The file has ${Math.round(text.length / 1e6)} million characters; at most ${LONGEST_TEXT / 1e6} million are read. Save just the part.`,
      );
    }
    if (/^\S+ Binary DXF/.test(text.slice(0, 40))) {
      return refused('dxf-binary', 'This is a binary DXF; save it as ASCII (text) DXF, best of release 12.');
    }
    if (text.slice(0, 4096).includes('\0')) return refused('dxf-binary', 'This is not a text file.');
    return read(text, options);
  });

const tooMany = (line: number): FileFault =>
  new FileFault(
    'drawing-too-many',
    line,
    `the drawing has more than ${MOST_STROKES} lines and arcs; save just the part`,
  );

const read = (text: string, options: ReadingOptions): DrawingReading => {
  const cursor = pairCursor(text);
  const strokes: { segment: Segment; layer: string }[] = [];
  const leftOut = new Tally();
  const findings: Finding[] = [];
  let section = '';
  let variable = '';
  let insunits: number | null = null;
  let measurement: number | null = null;
  let entity: { type: string; layer: string; line: number; groups: Group[]; onSheet: boolean } | null = null;
  let polyline: OpenPolyline | null = null;
  let ended = false;

  const put = (segments: readonly Segment[], e: Entity): void => {
    const side = facing(e);
    if (side === null) {
      leftOut.add(`${e.type} in a tilted plane`);
      return;
    }
    for (const s of segments) strokes.push({ segment: side === 1 ? s : mirrored(s), layer: e.layer });
    if (strokes.length > MOST_STROKES) {
      throw tooMany(e.line);
    }
  };
  const endPolyline = (): void => {
    if (polyline === null) return;
    const { head, corners } = polyline;
    polyline = null;
    const flags = figureOf(head, 70) ?? 0;
    if ((flags & (16 | 64)) !== 0) leftOut.add('POLYLINE that is a mesh');
    else if ((flags & 8) !== 0) leftOut.add('POLYLINE in space');
    else put(polylineSegments(corners, (flags & 1) === 1), head);
  };
  const endEntity = (): void => {
    const e = entity;
    entity = null;
    if (e === null) return;
    if (e.type === 'VERTEX') {
      // Flag 16: a control point of a spline's frame, not a place on the curve.
      if (polyline !== null) {
        if (((figureOf(e, 70) ?? 0) & 16) === 0) polyline.corners.push(...cornersOf(e));
      } else leftOut.add('VERTEX outside a polyline');
      return;
    }
    endPolyline();
    if (e.onSheet) leftOut.add(`${e.type} on a layout sheet`);
    else if (e.type === 'POLYLINE') polyline = { head: e, corners: [] };
    else put(segmentsOfEntity(e), e);
  };

  while (!ended && cursor.next()) {
    const code = cursor.code();
    if (code === 0) {
      endEntity();
      const word = cursor.value();
      if (word === 'EOF') ended = true;
      else if (word === 'SECTION' || word === 'ENDSEC') {
        endPolyline();
        section = word === 'SECTION' ? '?' : '';
      } else if (section === 'ENTITIES') {
        if (word === 'SEQEND') endPolyline();
        else if (Object.hasOwn(CODES, word)) {
          entity = { type: word, layer: '', line: cursor.line(), groups: [], onSheet: false };
        } else {
          endPolyline();
          leftOut.add(word.slice(0, LONGEST_NAME) === '' ? 'entity without a name' : plainName(word));
        }
      }
    } else if (section === '?') {
      section = code === 2 ? cursor.value() : '';
    } else if (entity !== null) {
      const { type, groups } = entity;
      if (code === 8) entity.layer = cursor.value().slice(0, LONGEST_NAME);
      else if (code === 67) entity.onSheet = cursor.value() === '1';
      else if (CODES[type]!.includes(code)) {
        if (groups.length > 8 * MOST_STROKES) throw tooMany(entity.line);
        groups.push({ code, value: numberOf(cursor.value(), cursor.line()), line: cursor.line() });
      }
    } else if (section === 'HEADER') {
      if (code === 9) variable = cursor.value();
      else if (code === 70 && variable === '$INSUNITS') insunits = numberOf(cursor.value(), cursor.line());
      else if (code === 70 && variable === '$MEASUREMENT')
        measurement = numberOf(cursor.value(), cursor.line());
    }
  }
  endEntity();
  endPolyline();
  if (!ended) {
    findings.push({
      code: 'dxf-no-end',
      severity: 'warning',
      message: `Line ${cursor.line()}: the file stops without its end mark (EOF); some of it may be missing.`,
    });
  }
  const mmPerUnit = options.mmPerUnit ?? stated(insunits, measurement, findings);
  return finish({
    strokes: mmPerUnit === null || mmPerUnit === 1 ? strokes : strokes.map((s) => scaled(s, mmPerUnit)),
    mmPerUnit,
    choices: CHOICES,
    leftOut,
    fit: { tolerance: options.tolerance ?? FIT_TOLERANCE, worst: 0, curves: 0 },
    findings,
  });
};

/** The unit by the header: $INSUNITS where it names one, else what $MEASUREMENT leads to suppose, and that is said. */
const stated = (insunits: number | null, measurement: number | null, findings: Finding[]): number | null => {
  const named = insunits === null ? undefined : INSUNITS[insunits];
  if (named !== undefined) return named;
  if (measurement !== 0 && measurement !== 1) return null;
  findings.push({
    code: 'drawing-unit-supposed',
    severity: 'warning',
    message: `The file names no unit but calls itself ${measurement === 1 ? 'metric: mm' : 'English: inches'} are supposed. Check a size.`,
  });
  return measurement === 1 ? 1 : MM_PER_INCH;
};

const plainName = (word: string): string => word.replace(/[^\x20-\x7e]/g, '?').slice(0, 40);

const scaled = ({ segment: s, layer }: Stroke, k: number): Stroke => {
  const grow = (p: Point): Point => ({ x: p.x * k, y: p.y * k });
  return {
    layer,
    segment:
      s.kind === 'line'
        ? line(grow(s.from), grow(s.to))
        : { ...s, from: grow(s.from), to: grow(s.to), centre: grow(s.centre) },
  };
};
