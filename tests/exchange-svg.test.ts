import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { affineOf, apply } from '../sketch/exchange/affine.ts';
import { fitCurve } from '../sketch/exchange/biarc.ts';
import { type Curve, curveAt } from '../sketch/exchange/curves.ts';
import { drawingRegion } from '../sketch/exchange/region.ts';
import { readSvg } from '../sketch/exchange/svg-in.ts';
import { pathCurves } from '../sketch/exchange/svg-path.ts';
import type { Point } from '../sketch/shape/point.ts';
import { regionArea } from '../sketch/shape/region.ts';
import { nearestOn, radiusOf } from '../sketch/shape/segment.ts';
import { drawingOf, drawingSvg } from './exchange-files.ts';

const read = (body: string, attributes?: string) => drawingOf(readSvg(drawingSvg(body, attributes)));
const areaOf = (body: string): number => regionArea(drawingRegion(read(body)));

describe('path data', () => {
  it.each([
    ['absolute lines', 'M10 20 L30 20 L30 50 L10 50 Z'],
    ['relative lines', 'm10 20 l20 0 l0 30 l-20 0 z'],
    ['lines implied after a move', 'M10,20 30,20 30,50 10,50z'],
    ['across and up', 'M10 20H30V50H10Z'],
    ['across and up, relative', 'm10 20h20v30h-20z'],
    ['figures run together', 'M10 20l20.0.0 0 30-20 0z'],
    ['exponents', 'M1e1 2E1h2e+1v300e-1h-20z'],
  ])('%s: the same rectangle', (_, d) => {
    expect(areaOf(`<path d="${d}"/>`)).toBeCloseTo(600, 9);
  });

  it('reads flags that run together with what follows', () => {
    const apart = read('<path d="M10 20 A5 5 0 0 1 20 20 A5 5 0 1 1 10 20 Z"/>').strokes;
    expect(read('<path d="M10 20A5 5 0 0120 20A5 5 0 1110 20Z"/>').strokes).toEqual(apart);
    expect(read('<path d="M10 20a5 5 0 0110 0 5 5 0 11-10 0z"/>').strokes).toEqual(apart);
    expect(areaOf('<path d="M10 20A5 5 0 0120 20A5 5 0 1110 20Z"/>')).toBeCloseTo(25 * Math.PI, 9);
  });

  it('goes on from z at the start of the part', () => {
    const curves = pathCurves('M1 1h4v4zl-1 -1', 1);
    expect(curves.at(-1)).toMatchObject({ from: { x: 1, y: 1 }, to: { x: 0, y: 0 } });
  });

  it('mirrors the last control point for S and T, and only after their own kind', () => {
    expect(pathCurves('M0 0C1 2 3 2 4 0S7 -2 8 0', 1)[1]).toMatchObject({
      p: [
        { x: 4, y: 0 },
        { x: 5, y: -2 },
        { x: 7, y: -2 },
        { x: 8, y: 0 },
      ],
    });
    expect(pathCurves('M0 0L4 0S7 -2 8 0', 1)[1]).toMatchObject({ p: [{ x: 4 }, { x: 4, y: 0 }, {}, {}] });
    const smooth = pathCurves('M0 0q2 4 4 0t4 0', 1);
    expect(smooth[1]).toEqual(pathCurves('M4 0Q6 -4 8 0', 1)[0]);
  });

  it('grows radii that are too small for their chord', () => {
    const [s] = read('<path d="M0 0A1 1 0 0 1 10 0"/>').strokes;
    expect(s?.segment.kind === 'arc' && radiusOf(s.segment)).toBeCloseTo(5, 9);
  });
});

describe('basic shapes', () => {
  it.each([
    ['rect', '<rect x="1" y="2" width="30" height="20"/>', 600],
    ['rounded rect', '<rect width="30" height="20" rx="5"/>', 600 - (4 - Math.PI) * 25],
    ['circle', '<circle cx="50" cy="50" r="4"/>', 16 * Math.PI],
    ['polygon', '<polygon points="0,0 10,0 10,10"/>', 50],
    ['polyline closed by itself', '<polyline points="0 0 10 0 10 10 0 0"/>', 50],
    ['lines', '<line x2="10"/><line x1="10" x2="10" y2="10"/><line x1="10" y1="10"/>', 50],
  ])('%s', (_, body, area) => {
    expect(areaOf(body)).toBeCloseTo(area, 9);
    expect(read(body).fit).toMatchObject({ worst: 0, curves: 0 });
  });

  it('fits an ellipse within the tolerance and says how well', () => {
    const drawing = read('<ellipse cx="50" cy="50" rx="20" ry="7"/>');
    expect(drawing.fit.curves).toBe(1);
    expect(drawing.fit.worst).toBeGreaterThan(0);
    expect(drawing.fit.worst).toBeLessThanOrEqual(0.01);
    expect(regionArea(drawingRegion(drawing))).toBeCloseTo(140 * Math.PI, 0);
  });
});

describe('fitting curves', () => {
  const place = fc.record({
    x: fc.double({ min: -30, max: 30, noNaN: true }),
    y: fc.double({ min: -30, max: 30, noNaN: true }),
  });
  const curve = fc.oneof(
    fc.tuple(place, place, place, place).map((p): Curve => ({ kind: 'cubic', p })),
    fc
      .tuple(
        place,
        place,
        place,
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: -6, max: 6, noNaN: true }),
      )
      .map(([centre, u, v, start, sweep]): Curve => {
        const at = (t: number): Point => ({
          x: centre.x + u.x * Math.cos(t) + v.x * Math.sin(t),
          y: centre.y + u.y * Math.cos(t) + v.y * Math.sin(t),
        });
        return { kind: 'oval', centre, u, v, start, sweep, from: at(start), to: at(start + sweep) };
      }),
  );

  it('stays within the tolerance everywhere, and the chain holds together', () => {
    fc.assert(
      fc.property(curve, fc.constantFrom(0.1, 0.01, 0.002), (c, tolerance) => {
        const { segments, worst } = fitCurve(c, tolerance);
        expect(worst).toBeLessThanOrEqual(tolerance);
        // Looked at five hundred places, seven times as densely as it was fitted.
        let stray = 0;
        for (let i = 0; i <= 500; i++) {
          const p = curveAt(c, i / 500);
          stray = Math.max(stray, Math.min(...segments.map((s) => nearestOn(s, p).distance)));
        }
        if (segments.length > 0) expect(stray).toBeLessThanOrEqual(tolerance);
        segments.slice(1).forEach((s, i) => {
          const before = segments[i]!.to;
          expect(Math.hypot(s.from.x - before.x, s.from.y - before.y)).toBeLessThan(1e-6);
        });
      }),
      { numRuns: 150 },
    );
  });

  it('leaves few pieces: an egg-shaped curve of 60 mm within 0.01 in fewer than forty', () => {
    const { segments } = fitCurve(
      {
        kind: 'cubic',
        p: [
          { x: 0, y: 0 },
          { x: 0, y: 40 },
          { x: 60, y: 40 },
          { x: 60, y: 0 },
        ],
      },
      0.01,
    );
    expect(segments.length).toBeGreaterThan(3);
    expect(segments.length).toBeLessThan(40);
  });
});

describe('transforms', () => {
  it('nest from the outside in', () => {
    const [s] = read(
      '<g transform="translate(10 20)"><g transform="rotate(90)"><line transform="scale(2)" x1="0" y1="0" x2="5" y2="0"/></g></g>',
    ).strokes;
    // Turned by 90° clockwise on the screen: the line runs down from (10, 20) to (10, 30); Y is up here.
    expect(s?.segment.from).toEqual({ x: 10, y: -20 });
    expect(s?.segment.to.x).toBeCloseTo(10, 9);
    expect(s?.segment.to.y).toBeCloseTo(-30, 9);
  });

  it.each([
    ['matrix(1 2 3 4 5 6)', { x: 1 + 6 + 5, y: 2 + 8 + 6 }],
    ['translate(3)', { x: 4, y: 2 }],
    ['scale(3,-1)', { x: 3, y: -2 }],
    ['rotate(180 5 5)', { x: 9, y: 8 }],
    ['skewX(45)', { x: 3, y: 2 }],
    ['translate(1,1) scale(2)', { x: 3, y: 5 }],
    ['translate(10-5)scale(2)', { x: 12, y: -1 }],
  ])('%s', (text, p) => {
    const q = apply(affineOf(text, 1), { x: 1, y: 2 });
    expect(q.x).toBeCloseTo(p.x, 9);
    expect(q.y).toBeCloseTo(p.y, 9);
  });

  it('keep circles exact when they turn, mirror and scale evenly, and areas under any of them', () => {
    const figure = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(figure, figure, figure, figure, (a, b, c, d) => {
        const det = Math.abs(a * d - b * c);
        fc.pre(det > 0.3);
        const drawing = read(`<circle transform="matrix(${a} ${b} ${c} ${d} 7 -3)" r="5"/>`);
        const area = regionArea(drawingRegion(drawing));
        // Twice the perimeter's worth of the tolerance is more than it may ever be off.
        expect(Math.abs(area - det * 25 * Math.PI)).toBeLessThan(2);
        const round = read(`<circle transform="rotate(${a * 50}) scale(${-1 - a * a} ${1 + a * a})" r="5"/>`);
        expect(round.fit.worst).toBe(0);
        expect(round.strokes).toHaveLength(1);
      }),
      { numRuns: 60 },
    );
  });
});

describe('the unit of an SVG', () => {
  const box = '<rect width="10" height="4"/>';
  it.each([
    ['width="100mm" viewBox="0 0 100 50"', 1],
    ['width="10cm" height="5cm" viewBox="0 0 1000 500"', 0.1],
    ['width="2in" viewBox="0 0 144 72"', 25.4 / 72],
    ['width="100mm" height="50mm"', 25.4 / 96],
  ])('%s', (attributes, mm) => {
    expect(read(box, attributes).mmPerUnit).toBeCloseTo(mm, 12);
  });
  it.each([
    '',
    'viewBox="0 0 100 100"',
    'width="100" height="100"',
    'width="100%" viewBox="0 0 10 10"',
    'width="640px" viewBox="0 0 640 480"',
  ])('is asked for with <svg %s>', (attributes) => {
    expect(readSvg(drawingSvg(box, attributes))).toMatchObject({
      kind: 'question',
      question: { width: 10, height: 4, choices: expect.arrayContaining([{ name: 'mm', mmPerUnit: 1 }]) },
    });
    const reading = readSvg(drawingSvg(box, attributes), { mmPerUnit: 2 });
    expect(regionArea(drawingRegion(drawingOf(reading)))).toBeCloseTo(160, 9);
  });
});

describe('what an SVG holds besides', () => {
  it('is named by kind and count, and nothing in it runs or is drawn', () => {
    const drawing = read(
      `<title>t</title><script>throw 1</script><text>a</text><text>b</text><image href="file:///etc/passwd"/>
       <defs><circle r="4"/></defs><g style="display:none"><rect width="3" height="3"/></g><use href="#x"/>
       <rect width="10" height="10" onclick="x()"/>`,
    );
    expect(drawing.strokes).toHaveLength(4);
    expect(Object.fromEntries(drawing.leftOut.map((l) => [l.what, l.count]))).toEqual({
      script: 1,
      text: 2,
      image: 1,
      'circle in a definition': 1,
      'hidden g': 1,
      'rect in hidden g': 1,
      use: 1,
    });
  });
  it('expands no entity of the file', () => {
    const text = `<!DOCTYPE svg [<!ENTITY a "10"><!ENTITY b SYSTEM "file:///etc/passwd">]>${drawingSvg('<rect width="&a;" height="1"/>')}`;
    expect(readSvg(text)).toMatchObject({ kind: 'refused', findings: [{ code: 'svg-not-xml' }] });
  });
});
