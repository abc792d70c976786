import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../sketch/exchange/dxf-in.ts';
import { drawingRegion } from '../sketch/exchange/region.ts';
import { contourArea, regionArea } from '../sketch/shape/region.ts';
import { pointAlong, radiusOf } from '../sketch/shape/segment.ts';
import { drawingDxf, drawingOf, dxf, type Groups, lineGroups } from './exchange-files.ts';

const only = (entities: Groups, insunits: number | null = 4) =>
  drawingOf(readDxf(drawingDxf(entities, insunits))).strokes.map((s) => s.segment);

// Rules of the entities: DXF reference, group codes.
describe('the entities of a DXF', () => {
  it('reads a line', () => {
    expect(only(lineGroups(1, 2, 30, -4))).toEqual([
      { kind: 'line', from: { x: 1, y: 2 }, to: { x: 30, y: -4 } },
    ]);
  });

  it('runs an arc anticlockwise from group 50 to group 51, through zero too', () => {
    const [s] = only([
      [0, 'ARC'],
      [10, 5],
      [20, 0],
      [40, 2],
      [50, 350],
      [51, 20],
    ]);
    expect(s).toMatchObject({ kind: 'arc', centre: { x: 5, y: 0 } });
    if (s?.kind !== 'arc') return;
    expect(s.sweep).toBeCloseTo((30 * Math.PI) / 180, 12);
    expect(pointAlong(s, 0.5)).toMatchObject({ x: expect.closeTo(5 + 2 * Math.cos(Math.PI / 36), 9) });
  });

  it('reads a circle whole', () => {
    const [s] = only([
      [0, 'CIRCLE'],
      [10, 5],
      [20, 6],
      [40, 2.5],
    ]);
    expect(s?.kind === 'arc' && [s.sweep, radiusOf(s)]).toEqual([2 * Math.PI, 2.5]);
  });

  it('takes a bulge as the tangent of a quarter of the sweep', () => {
    // A bulge of 1 is a half turn to the right of the way: from (0,0) to (10,0) below the line.
    const [s] = only([
      [0, 'LWPOLYLINE'],
      [90, 2],
      [70, 0],
      [10, 0],
      [20, 0],
      [42, 1],
      [10, 10],
      [20, 0],
    ]);
    expect(s).toMatchObject({ kind: 'arc', sweep: Math.PI });
    expect(pointAlong(s!, 0.5)).toMatchObject({ x: expect.closeTo(5, 9), y: expect.closeTo(-5, 9) });
  });

  it('any bulge, old and new polylines alike, gives the same arc', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }).filter((b) => Math.abs(b) > 1e-3),
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.double({ min: 1, max: 50, noNaN: true }),
        (bulge, x, y) => {
          const [a] = only([
            [0, 'LWPOLYLINE'],
            [70, 0],
            [10, 0],
            [20, 0],
            [42, bulge],
            [10, x],
            [20, y],
          ]);
          const [b] = only([
            [0, 'POLYLINE'],
            [66, 1],
            [70, 0],
            [0, 'VERTEX'],
            [10, 0],
            [20, 0],
            [42, bulge],
            [0, 'VERTEX'],
            [10, x],
            [20, y],
            [0, 'SEQEND'],
          ]);
          expect(a).toEqual(b);
          if (a?.kind !== 'arc') throw new Error('no arc');
          expect(Math.tan(a.sweep / 4)).toBeCloseTo(bulge, 9);
          // The sagitta is the bulge times half the chord: the middle of the arc lies that far to the right.
          const middle = pointAlong(a, 0.5);
          const chord = Math.hypot(x, y);
          const right = ((middle.x - x / 2) * y - (middle.y - y / 2) * x) / chord;
          expect(right).toBeCloseTo((bulge * chord) / 2, 6);
        },
      ),
    );
  });

  it('closes a polyline by its flag, with the last bulge', () => {
    const region = drawingRegion(
      drawingOf(
        readDxf(
          drawingDxf([
            [0, 'LWPOLYLINE'],
            [70, 1],
            [10, 0],
            [20, 0],
            [42, 1],
            [10, 10],
            [20, 0],
            [42, 1],
          ]),
        ),
      ),
    );
    expect(regionArea(region)).toBeCloseTo(Math.PI * 25, 9);
  });

  it('mirrors what lies in a plane that faces down, and names what is tilted', () => {
    const arc: Groups = [
      [0, 'ARC'],
      [10, 5],
      [20, 0],
      [40, 2],
      [50, 0],
      [51, 90],
    ];
    const [s] = only([...arc, [230, -1]]);
    expect(s).toMatchObject({ kind: 'arc', centre: { x: -5, y: 0 } });
    expect(s?.kind === 'arc' && s.sweep).toBeCloseTo(-Math.PI / 2, 12);
    const reading = readDxf(drawingDxf([...lineGroups(0, 0, 1, 0), ...arc, [210, 1], [230, 0]]));
    expect(drawingOf(reading).leftOut).toEqual([{ what: 'ARC in a tilted plane', count: 1 }]);
  });

  it('names what it does not read by kind and count', () => {
    const reading = readDxf(
      drawingDxf([
        ...lineGroups(0, 0, 1, 0),
        [0, 'SPLINE'],
        [10, 'not even a number'],
        [0, 'SPLINE'],
        [0, 'TEXT'],
        [1, 'hello'],
        [0, 'INSERT'],
        [0, 'LINE'],
        [67, 1],
        [10, 0],
        [20, 0],
        [11, 1],
        [21, 1],
        [0, 'POLYLINE'],
        [70, 8],
        [0, 'VERTEX'],
        [10, 0],
        [20, 0],
        [0, 'SEQEND'],
        ...lineGroups(3, 3, 3, 3),
      ]),
    );
    const drawing = drawingOf(reading);
    expect(drawing.strokes).toHaveLength(1);
    expect(Object.fromEntries(drawing.leftOut.map((l) => [l.what, l.count]))).toEqual({
      SPLINE: 2,
      TEXT: 1,
      INSERT: 1,
      'LINE on a layout sheet': 1,
      'POLYLINE in space': 1,
      'line or arc without length': 1,
    });
    expect(reading.findings[0]?.message).toContain('2 × SPLINE');
  });
});

describe('the unit of a DXF', () => {
  it.each([
    [1, 25.4, 'inch'],
    [4, 1, 'mm'],
    [5, 10, 'mm'],
    [2, 304.8, 'inch'],
  ])('is $INSUNITS %d', (code, mm, unit) => {
    const drawing = drawingOf(readDxf(drawingDxf(lineGroups(0, 0, 2, 0), code)));
    expect(drawing).toMatchObject({ mmPerUnit: mm, unit });
    expect(drawing.strokes[0]?.segment.to.x).toBeCloseTo(2 * mm, 12);
  });

  it('is supposed from $MEASUREMENT, and that is said', () => {
    const text = dxf([
      [0, 'SECTION'],
      [2, 'HEADER'],
      [9, '$INSUNITS'],
      [70, 0],
      [9, '$MEASUREMENT'],
      [70, 0],
      [0, 'ENDSEC'],
      [0, 'SECTION'],
      [2, 'ENTITIES'],
      ...lineGroups(0, 0, 1, 0),
      [0, 'ENDSEC'],
      [0, 'EOF'],
    ]);
    const reading = readDxf(text);
    expect(drawingOf(reading).mmPerUnit).toBe(25.4);
    expect(reading.findings.map((f) => f.code)).toEqual(['drawing-unit-supposed']);
  });

  it('is asked for where nothing says it, with the size to choose by', () => {
    const text = drawingDxf(lineGroups(1, 2, 4, 7), null);
    const reading = readDxf(text);
    expect(reading).toMatchObject({ kind: 'question', question: { kind: 'unit', width: 3, height: 5 } });
    expect(drawingOf(readDxf(text, { mmPerUnit: 25.4 })).strokes[0]?.segment.from.x).toBeCloseTo(25.4, 12);
  });
});

describe('joining loose entities', () => {
  const square: Groups = [
    ...lineGroups(0, 0, 10, 0),
    ...lineGroups(10, 10, 10, 0.004),
    ...lineGroups(0, 10, 10, 10),
    ...lineGroups(0, 0, 0, 10),
  ];
  it('closes gaps of a few thousandths, whatever the order and sense', () => {
    const region = drawingRegion(drawingOf(readDxf(drawingDxf(square))));
    expect(region.contours).toHaveLength(1);
    expect(contourArea(region.contours[0]!)).toBeCloseTo(100, 1);
  });
  it('leaves out lines drawn twice', () => {
    const region = drawingRegion(drawingOf(readDxf(drawingDxf([...square, ...square]))));
    expect(region.contours).toHaveLength(1);
  });
  it('reads line ends of every system, comments, and blank lines at the end', () => {
    const text = drawingDxf(lineGroups(0, 0, 1, 0));
    const expected = drawingOf(readDxf(text)).strokes;
    for (const end of ['\r\n', '\r']) {
      expect(drawingOf(readDxf(text.replaceAll('\n', end))).strokes).toEqual(expected);
    }
    expect(drawingOf(readDxf(`\ufeff999\na comment\n${text}\n\n`)).strokes).toEqual(expected);
  });
});
