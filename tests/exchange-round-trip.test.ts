import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../sketch/exchange/dxf-in.ts';
import { dxfOf, writeDxf } from '../sketch/exchange/dxf-out.ts';
import { areaBetween } from '../sketch/exchange/likeness.ts';
import { planRegion } from '../sketch/exchange/plan.ts';
import { recognise } from '../sketch/exchange/recognition.ts';
import { drawingRegion } from '../sketch/exchange/region.ts';
import { readSvg } from '../sketch/exchange/svg-in.ts';
import { svgOf, writeSvg } from '../sketch/exchange/svg-out.ts';
import { readPart } from '../sketch/part/document.ts';
import { difference, union } from '../sketch/shape/boolean.ts';
import { disc, type Region, rectangle, regionArea, segmentsOf } from '../sketch/shape/region.ts';
import { drawingOf } from './exchange-files.ts';
import { SAMPLES, samplePart } from './samples.ts';

describe.each(SAMPLES)('%s, out and in again', (name) => {
  const part = samplePart(name);
  const plan = planRegion(part);
  const ways = [
    ['DXF in mm', () => readDxf(writeDxf(part, 'mm'))],
    ['DXF in inches', () => readDxf(writeDxf(part, 'inch'))],
    ['SVG', () => readSvg(writeSvg(part))],
  ] as const;

  it.each(ways)('is the same region by %s', (_, again) => {
    const back = drawingRegion(drawingOf(again()));
    expect(regionArea(plan)).toBeGreaterThan(100);
    expect(areaBetween(plan, back)).toBeLessThan(0.01);
  });

  it.each(ways)('becomes a part of the same plan by %s', (_, again) => {
    const { document, areaOff } = recognise(drawingOf(again()), {
      name: part.name,
      thickness: part.bar.thickness,
      material: part.bar.material,
    });
    expect(areaOff).toBeLessThan(0.005);
    const read = readPart(document);
    if (!read.ok) throw new Error(read.findings.map((f) => f.message).join(' '));
    expect(areaBetween(planRegion(read.part), plan)).toBeLessThan(0.01);
    expect(read.part.holes).toHaveLength(part.holes.length);
    expect(read.part.slots).toHaveLength(part.slots.length);
    expect(read.part.forks).toHaveLength(part.forks.length);
  });
});

describe('any region', () => {
  const shapes = fc
    .array(
      fc.record({
        x: fc.double({ min: -40, max: 40, noNaN: true }),
        y: fc.double({ min: -40, max: 40, noNaN: true }),
        r: fc.double({ min: 1, max: 15, noNaN: true }),
        square: fc.boolean(),
        out: fc.boolean(),
      }),
      { minLength: 1, maxLength: 6 },
    )
    .map((list): Region => {
      const of = (s: (typeof list)[number]): Region =>
        s.square
          ? rectangle({ x: s.x, y: s.y }, { x: s.x + s.r, y: s.y + 2 * s.r })
          : disc({ x: s.x, y: s.y }, s.r);
      const kept = union([
        rectangle({ x: -10, y: -10 }, { x: 10, y: 10 }),
        ...list.filter((s) => !s.out).map(of),
      ]);
      const away = list.filter((s) => s.out).map(of);
      return away.length === 0 ? kept : difference(kept, union(away));
    })
    // Corners that all but touch may be told apart by nobody; edges shorter than ends are joined within are not meant.
    .filter(
      (r) =>
        r.contours.length > 0 &&
        segmentsOf(r).every(
          (s) =>
            Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) > 0.05 ||
            (s.kind === 'arc' && Math.abs(s.sweep) > 1),
        ),
    );

  it('comes back from DXF', () => {
    fc.assert(
      fc.property(shapes, (region) => {
        const edges = segmentsOf(region).map((segment) => ({ segment, layer: 'OUTLINE' }));
        // Backwards and mixed up: nothing hangs on the order of the entities.
        const back = drawingRegion(drawingOf(readDxf(dxfOf([...edges].reverse(), 'mm'))));
        expect(areaBetween(region, back)).toBeLessThan(0.01);
      }),
      { numRuns: 60 },
    );
  });

  it('comes back from SVG', () => {
    fc.assert(
      fc.property(shapes, (region) => {
        expect(areaBetween(region, drawingRegion(drawingOf(readSvg(svgOf(region)))))).toBeLessThan(0.01);
      }),
      { numRuns: 60 },
    );
  });
});

describe('what is written', () => {
  const part = {
    ...samplePart('damper-yoke'),
    name: 'Yoke\r\n  0\r\nEOF\r\n<script>alert(1)</script> \u202e é',
  };

  it('has true arcs and circles on plain layers, in release 12', () => {
    const text = writeDxf(part);
    expect(text).toContain('AC1009');
    expect(text).not.toMatch(/LWPOLYLINE|SPLINE/);
    for (const layer of ['OUTLINE', 'HOLES', 'FORKS', 'SLOTS', 'COUNTERBORES', 'LANDS']) {
      expect(text.split('\r\n')).toContain(layer);
    }
    const { strokes } = drawingOf(readDxf(text));
    const holes = strokes.filter((s) => s.layer === 'HOLES').map((s) => s.segment);
    expect(holes).toHaveLength(2);
    expect(holes.every((s) => s.kind === 'arc' && Math.abs(s.sweep) === 2 * Math.PI)).toBe(true);
    expect(strokes.filter((s) => s.layer === 'SLOTS')).toHaveLength(4);
  });

  it('is not changed by a hostile name', () => {
    const named = writeDxf(part).split('\r\n');
    const plain = writeDxf({ ...part, name: 'x' }).split('\r\n');
    expect(named.slice(2)).toEqual(plain.slice(2));
    expect(named[1]).toMatch(/^[\x20-\x7e]*$/);
    expect(writeSvg(part)).not.toContain('script');
  });

  it('says lands and counterbores are left aside when read again', () => {
    const drawing = drawingOf(readDxf(writeDxf(part)));
    const { leftOut } = recognise(drawing, { name: 'x', thickness: 3, material: 'brass' });
    expect(leftOut.map((l) => l.what).join()).toMatch(/COUNTERBORES.*LANDS/);
  });
});
