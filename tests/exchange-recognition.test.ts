import { describe, expect, it } from 'vitest';
import { readDxf } from '../sketch/exchange/dxf-in.ts';
import { dxfOf } from '../sketch/exchange/dxf-out.ts';
import { recognise } from '../sketch/exchange/recognition.ts';
import { readSvg } from '../sketch/exchange/svg-in.ts';
import { readPart } from '../sketch/part/document.ts';
import { outlineOf } from '../sketch/part/outline.ts';
import { union } from '../sketch/shape/boolean.ts';
import { disc, type Region, rectangle, segmentsOf } from '../sketch/shape/region.ts';
import { drawingOf, drawingSvg } from './exchange-files.ts';

const OPTIONS = { name: 'Link', thickness: 3, material: 'brass' } as const;
const ofSvg = (body: string) => recognise(drawingOf(readSvg(drawingSvg(body))), OPTIONS);
const ofRegion = (region: Region) =>
  recognise(
    drawingOf(
      readDxf(
        dxfOf(
          segmentsOf(region).map((segment) => ({ segment, layer: '0' })),
          'mm',
        ),
      ),
    ),
    OPTIONS,
  );
const counts = (list: readonly { what: string; count: number }[]) =>
  Object.fromEntries(list.map((l) => [l.what, l.count]));

describe('what becomes of a drawing', () => {
  it('a disc is one end, a disc in it a hole', () => {
    const { document, became } = ofSvg('<circle cx="20" cy="20" r="10"/><circle cx="20" cy="20" r="3"/>');
    expect(document).toMatchObject({
      unit: 'mm',
      bar: { length: 20, width: 20, thickness: 3, material: 'brass' },
      ends: [{ centre: [20, -20], radius: 10 }],
      holes: [{ purpose: 'clearance', centre: [20, -20], diameter: 6 }],
    });
    expect(counts(became)).toEqual({ 'round end': 1, hole: 1 });
    expect(readPart(document).ok).toBe(true);
  });

  it('a circle drawn as four Bézier curves is still a hole, to the fit', () => {
    const k = 4 * 0.5522847498;
    const bezier = `M24 20C24 ${20 + k} ${20 + k} 24 20 24S16 ${20 + k} 16 20S${20 - k} 16 20 16S24 ${20 - k} 24 20Z`;
    const { document, became } = ofSvg(`<rect width="40" height="40"/><path d="${bezier}"/>`);
    expect(counts(became)).toEqual({ plate: 1, hole: 1 });
    const hole = document?.holes?.[0];
    expect(hole?.purpose === 'clearance' && Number(hole.diameter)).toBeCloseTo(8, 2);
    expect(Number(hole?.centre[0])).toBeCloseTo(20, 2);
  });

  it('a plate keeps its corner radius', () => {
    const { document, areaOff } = ofSvg('<rect x="5" y="5" width="40" height="20" rx="4"/>');
    expect(document?.plates).toMatchObject([{ cornerRadius: 4 }]);
    expect(document?.plates?.[0]?.corners).toHaveLength(4);
    expect(document?.ends).toBeUndefined();
    expect(areaOff).toBeLessThan(1e-3);
  });

  it('four ends in a row of one size are joined one to the next', () => {
    const at = (x: number, y: number, name: string) => ({ name, centre: { x, y }, radius: 5 });
    const ends = [at(0, 0, 'a'), at(30, 0, 'b'), at(30, 25, 'c')];
    const region = outlineOf({
      ends,
      arms: [
        { name: '', from: 'a', to: 'b' },
        { name: '', from: 'b', to: 'c' },
      ],
      plates: [],
    });
    const { became, areaOff } = ofRegion(region);
    expect(counts(became)).toEqual({ 'round end': 3, arm: 2 });
    expect(areaOff).toBeLessThan(0.005);
  });

  it('names openings that are neither round nor slots, and outlines beside and within', () => {
    const { document, leftOut, findings } = ofSvg(
      `<rect width="60" height="40"/><rect x="5" y="5" width="8" height="8"/>
       <rect x="20" y="5" width="20" height="20"/><rect x="25" y="10" width="4" height="4"/>
       <rect x="70" width="5" height="5"/><path d="M1 1L3 3"/>`,
    );
    expect(document).not.toBe(null);
    expect(counts(leftOut)).toEqual({
      'opening of 4 lines': 2,
      'outline within a hole': 1,
      'outline beside the largest one': 1,
      'chain of lines that closes nothing': 1,
    });
    expect(findings.map((f) => f.code)).toEqual(['drawing-left-out']);
  });

  it('of two circles round one centre the smaller is the hole, and the other is named', () => {
    const { document, leftOut } = ofSvg(
      '<rect width="60" height="40"/><circle cx="20" cy="20" r="5"/><circle cx="20" cy="20" r="2"/>',
    );
    expect(document?.holes).toMatchObject([{ diameter: 4 }]);
    expect(counts(leftOut)).toEqual({ 'larger circle round a hole, whose depth is not said': 1 });
  });

  it('what is not plain is reported and makes no part', () => {
    const { document, leftOut, findings } = ofSvg('<ellipse cx="30" cy="20" rx="25" ry="10"/>');
    expect(document).toBe(null);
    expect(findings[0]?.code).toBe('outline-not-plain');
    expect(leftOut[0]?.what).toMatch(/^outline of \d+ arcs$/);
  });

  it('an outline that only looks like ends is not taken for them', () => {
    // A disc that sticks out of a plate by less than half: its whole disc lies within the plate, the corners do not fit.
    const region = union([rectangle({ x: 0, y: 0 }, { x: 30, y: 4 }), disc({ x: 15, y: 1 }, 6)]);
    const { document, areaOff } = ofRegion(region);
    if (document !== null) expect(areaOff).toBeLessThan(0.005);
    const read = document === null ? null : readPart(document);
    expect(read === null || read.ok).toBe(true);
  });

  it('says so when nothing is closed', () => {
    expect(ofSvg('<path d="M0 0H10V10"/>').findings[0]?.code).toBe('drawing-open');
  });

  it('takes any name as text', () => {
    const drawing = drawingOf(readSvg(drawingSvg('<circle r="9"/>')));
    for (const name of ['', '   ', 'x'.repeat(500), '<b>\n\u0000']) {
      expect(readPart(recognise(drawing, { ...OPTIONS, name }).document).ok).toBe(true);
    }
  });
});
