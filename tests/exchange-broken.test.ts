import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DrawingReading } from '../sketch/exchange/drawing.ts';
import { readDxf } from '../sketch/exchange/dxf-in.ts';
import { writeDxf } from '../sketch/exchange/dxf-out.ts';
import { recognise } from '../sketch/exchange/recognition.ts';
import { readSvg } from '../sketch/exchange/svg-in.ts';
import { writeSvg } from '../sketch/exchange/svg-out.ts';
import { drawingDxf, drawingOf, drawingSvg, type Groups, lineGroups } from './exchange-files.ts';
import { samplePart } from './samples.ts';

const first = (r: DrawingReading) => ({
  kind: r.kind,
  code: r.findings[0]?.code,
  said: r.findings[0]?.message,
});

describe('broken DXF', () => {
  const at = (groups: Groups) => drawingDxf(groups);
  it.each([
    ['nothing', '', 'drawing-empty', /no line/],
    ['a letter', 'Dear Sir,\n', 'dxf-group-code', /^Line 1: .*“Dear Sir,”/],
    [
      'a broken group code',
      at([
        [0, 'LINE'],
        [10, 1],
      ]).replace('\n10\n1\n', '\n1x0\n1\n'),
      'dxf-group-code',
      /^Line 17: .*“1x0”/,
    ],
    [
      'no number',
      at([
        [0, 'LINE'],
        [10, 1],
        [20, 'two'],
      ]),
      'dxf-number',
      /^Line 20: .*“two”/,
    ],
    [
      'a comma for a point',
      at([
        [0, 'CIRCLE'],
        [10, '1,5'],
      ]),
      'dxf-number',
      /“1,5”/,
    ],
    [
      'nan',
      at([
        [0, 'CIRCLE'],
        [10, 'nan'],
      ]),
      'dxf-number',
      /“nan”/,
    ],
    [
      'an endless number',
      at([
        [0, 'CIRCLE'],
        [10, '1e999'],
      ]),
      'dxf-number',
      /“1e999”/,
    ],
    [
      'a missing coordinate',
      at([
        [0, 'LINE'],
        [10, 1],
        [20, 2],
        [11, 3],
      ]),
      'dxf-group-missing',
      /^Line 16: a LINE lacks its group 21/,
    ],
    [
      'a corner without Y',
      at([
        [0, 'LWPOLYLINE'],
        [10, 1],
        [10, 2],
        [20, 2],
      ]),
      'dxf-group-missing',
      /group 20/,
    ],
    [
      'a radius of nought',
      at([
        [0, 'CIRCLE'],
        [10, 1],
        [20, 2],
        [40, 0],
      ]),
      'dxf-radius',
      /radius 0/,
    ],
    [
      'a negative radius',
      at([
        [0, 'ARC'],
        [10, 1],
        [20, 2],
        [40, -3],
        [50, 0],
        [51, 9],
      ]),
      'dxf-radius',
      /radius -3/,
    ],
    ['an end within a pair', '0\nSECTION\n2\nENTITIES\n0', 'dxf-cut-short', /^Line 5: /],
    ['a binary file', 'Somebody Binary DXF\r\n\u001a\0\0', 'dxf-binary', /text/],
    ['other binary', 'PK\u0003\u0004\0\0', 'dxf-binary', /text/],
    [
      'only what is not read',
      at([
        [0, 'SPLINE'],
        [0, 'HATCH'],
      ]),
      'drawing-empty',
      /no line/,
    ],
    ['an absurd size', at(lineGroups(0, 0, 1e9, 0)), 'drawing-too-large', /unit/],
    ['another form', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'dxf-group-code', /Line 1/],
  ])('%s', (_, text, code, said) => {
    const answer = first(readDxf(text));
    expect(answer).toMatchObject({ kind: 'refused', code });
    expect(answer.said).toMatch(said);
  });

  it('names what it left out even where nothing remains', () => {
    expect(
      readDxf(
        at([
          [0, 'SPLINE'],
          [0, 'SPLINE'],
        ]),
      )
        .findings.map((f) => f.message)
        .join(' '),
    ).toContain('2 × SPLINE');
  });

  it('reads what a cut-off file has, and says that it stops', () => {
    const text = drawingDxf(lineGroups(0, 0, 5, 5));
    const reading = readDxf(
      text.slice(0, text.indexOf('  0\nENDSEC') < 0 ? text.lastIndexOf('0\nENDSEC') : undefined),
    );
    expect(reading.kind).toBe('read');
    expect(reading.findings.map((f) => f.code)).toContain('dxf-no-end');
  });

  it('any cut or bent copy of a good file is answered', () => {
    const text = writeDxf(samplePart('damper-yoke'));
    fc.assert(
      fc.property(fc.nat(text.length), fc.nat(40), fc.string({ maxLength: 6 }), (from, count, put) => {
        const reading = readDxf(text.slice(0, from) + put + text.slice(from + count));
        if (reading.kind === 'refused') expect(reading.findings[0]?.code).not.toBe('drawing-unreadable');
        if (reading.kind === 'read')
          recognise(reading.drawing, { name: put, thickness: 3, material: 'brass' });
      }),
      { numRuns: 120 },
    );
  });
});

describe('broken SVG', () => {
  it.each([
    ['nothing', '', 'svg-not-xml', /Line 1/],
    ['no XML', 'M0 0L1 1', 'svg-not-xml', /Line 1/],
    ['an open element', '<svg>\n<g>\n<rect>', 'svg-not-xml', /^Line 3: /],
    ['a wrong root', '<html/>', 'svg-no-root', /“html”/],
    ['path data of words', drawingSvg('\n<path d="M0 0 nonsense"/>'), 'svg-path', /^Line 2: .*“nonsense/],
    ['a path without a start', drawingSvg('<path d="L1 1"/>'), 'svg-path', /“L1 1”/],
    ['a flag of 2', drawingSvg('<path d="M0 0A1 1 0 2 1 3 3"/>'), 'svg-path', /“2 1/],
    ['half a pair', drawingSvg('<path d="M0 0L1"/>'), 'svg-path', /cannot be read/],
    ['figures after z', drawingSvg('<path d="M0 0h1v1z 5 5"/>'), 'svg-path', /“5 5”/],
    ['an endless figure', drawingSvg('<path d="M0 0L1e999 1"/>'), 'svg-path', /1e999/],
    ['a broken transform', drawingSvg('<g transform="rotate(1 2)"/>'), 'svg-transform', /rotate/],
    ['an unknown transform', drawingSvg('<g transform="spin(1)"/>'), 'svg-transform', /spin/],
    ['a length in per cent', drawingSvg('<circle r="5%"/>'), 'svg-length', /“5%”/],
    ['a negative width', drawingSvg('<rect width="-5" height="1"/>'), 'svg-length', /“-5”/],
    [
      'a broken view box',
      drawingSvg('<circle r="5"/>', 'width="1mm" viewBox="0 0 0 x"'),
      'svg-view-box',
      /view box/,
    ],
    ['an endless size', drawingSvg('<circle r="1e308" transform="scale(1e308)"/>'), 'svg-length', /finite/],
    ['an absurd size', drawingSvg('<ellipse rx="1e200" ry="1e100"/>'), 'drawing-too-large', /unit/],
    ['nothing drawn', drawingSvg('<text>x</text>'), 'drawing-empty', /no line/],
    ['groups without end', `${'<svg>'}${'<g>'.repeat(5000)}`, 'svg-too-deep', /deep/],
  ])('%s', (_, text, code, said) => {
    const answer = first(readSvg(text));
    expect(answer).toMatchObject({ kind: 'refused', code });
    expect(answer.said).toMatch(said);
  });

  it('any cut or bent copy of a good file is answered', () => {
    const text = writeSvg(samplePart('damper-yoke'));
    fc.assert(
      fc.property(fc.nat(text.length), fc.nat(20), fc.string({ maxLength: 6 }), (from, count, put) => {
        const reading = readSvg(text.slice(0, from) + put + text.slice(from + count));
        if (reading.kind === 'refused') expect(reading.findings[0]?.code).not.toBe('drawing-unreadable');
      }),
      { numRuns: 120 },
    );
  });
});

describe('large files', () => {
  it('ten thousand entities are read and joined', () => {
    const side = 100;
    const groups: (readonly [number, string | number])[] = [];
    for (let i = 0; i < 10_000; i++) {
      const a = (2 * Math.PI * i) / 10_000;
      const b = (2 * Math.PI * ((i + 1) % 10_000)) / 10_000;
      groups.push(
        ...lineGroups(side * Math.cos(a), side * Math.sin(a), side * Math.cos(b), side * Math.sin(b)),
      );
    }
    const drawing = drawingOf(readDxf(drawingDxf(groups)));
    expect(drawing.strokes).toHaveLength(10_000);
    expect(recognise(drawing, { name: 'x', thickness: 3, material: 'brass' }).areaOff).toBe(null);
  });

  it('ten thousand circles are too many for a part', () => {
    const circles = Array.from(
      { length: 10_000 },
      (_, i): Groups => [
        [0, 'CIRCLE'],
        [10, i % 100],
        [20, Math.floor(i / 100)],
        [40, 0.2],
      ],
    );
    const { document, findings } = recognise(drawingOf(readDxf(drawingDxf(circles.flat()))), {
      name: 'x',
      thickness: 3,
      material: 'brass',
    });
    expect(document).toBe(null);
    expect(findings[0]).toMatchObject({
      code: 'drawing-too-many',
      message: expect.stringContaining('10000'),
    });
  });

  it('more lines than are read are refused with the number', () => {
    const text = drawingDxf(Array.from({ length: 50_001 }, (_, i) => lineGroups(i, 0, i, 1)).flat());
    expect(first(readDxf(text))).toMatchObject({ kind: 'refused', code: 'drawing-too-many' });
  });

  it('texts longer than are read are refused unread', () => {
    expect(first(readDxf('0\n'.repeat(33_000_000)))).toMatchObject({ code: 'drawing-too-long' });
    expect(first(readSvg(' '.repeat(21_000_000)))).toMatchObject({ code: 'drawing-too-long' });
  });
});
