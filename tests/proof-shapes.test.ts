import { describe, expect, it } from 'vitest';
import { passGroups } from '../gcode/proof/passes.ts';
import { eachNeighbour, piecesOf } from '../gcode/proof/pieces.ts';
import { type Proof, type ProofInput, prove } from '../gcode/proof/proof.ts';
import { readProgram } from '../gcode/reading/read.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { polygon, type Region, rectangle, reverseContour } from '../sketch/shape/region.ts';
import { circle } from '../sketch/shape/segment.ts';
import type { Cutter } from '../toolpath/machine/cutter.ts';
import { barMap } from '../toolpath/removal/height-map.ts';
import { frameOf } from '../toolpath/route/frame.ts';
import { cutters, POINT, smallBar } from './proof-plate.ts';

// One small bar, one setup, one feature at a time: what counts as part, as corner, as loose, as meant.

const bar = smallBar(4);
const whole = rectangle({ x: 0, y: 0 }, { x: 40, y: 30 });
const block = (region: Region): Solid => ({ slabs: [{ bottom: 0, top: 4, region }] });
const HEAD = ['G21 G90 G17 G40 G49 G80 G94', 'G54'];
const with1 = ['T1 M6', 'S1500 M3', 'G0 Z10'];
const program = (...lines: string[]): string => [...HEAD, ...lines, 'G0 Z20', 'M5', 'M30'].join('\n');

const proveOne = (wanted: Solid, text: string, more: Partial<ProofInput> = {}, grip = 0): Proof =>
  prove({
    bar,
    wanted,
    setups: [
      {
        number: 1,
        frame: frameOf(bar, 'front', 'left-near'),
        hold: { kind: 'vice', jaws: { from: 5, to: 35 }, grip, parallels: null, gripped: 'sides' },
        tools: cutters,
        text,
      },
    ],
    tolerance: { gouge: 0.02, excess: 0.05 },
    cell: 0.1,
    ...more,
  });
const codes = (proof: Proof): readonly string[] => proof.findings.map((f) => f.code);

describe('a large hole cut as a ring', () => {
  const wanted = block({ contours: [...whole.contours, { segments: [circle({ x: 20, y: 15 }, 8, false)] }] });
  const ring = (label: boolean, ...depths: number[]): string =>
    program(
      ...with1,
      ...depths.flatMap((z, k) => [
        ...(label ? [`(STEP ring - PASS ${k + 1} OF ${depths.length} ROUGH)`] : []),
        'G0 X25 Y15',
        'G0 Z1',
        `G1 Z-${z} F50`,
        'G2 X25 Y15 I-5 J0 F100',
        'G0 Z10',
      ]),
    );

  it('lets its core come free: said once, with the pass, and not counted as left standing', () => {
    const proof = proveOne(wanted, ring(true, 2, 4.1));
    expect(proof.verdict).toBe('fits');
    expect(codes(proof)).toEqual(['piece-comes-free']);
    const [f] = proof.findings;
    expect(f!.severity).toBe('warning');
    expect(f!.message).toContain('2 OF 2');
    expect(f!.message).toContain('4.0 × 4.0');
    expect(Math.hypot(f!.at!.x - 20, f!.at!.y - 15)).toBeLessThan(2.01);
  });

  it('with a web left, holds its core', () => {
    const proof = proveOne(wanted, ring(false, 2, 3.5));
    expect(codes(proof)).toContain('web-not-released');
    expect(codes(proof)).not.toContain('piece-comes-free');
  });
});

describe('a part cut out by a groove', () => {
  const island = rectangle({ x: 10, y: 8 }, { x: 30, y: 22 });
  const groove = (z: number, bridge: boolean): string[] => [
    'G0 X7 Y5',
    'G0 Z1',
    `G1 Z-${z} F50`,
    ...(bridge ? ['G1 X15 F100', 'G1 Z-3', 'G1 X25', `G1 Z-${z}`, 'G1 X33'] : ['G1 X33 F100']),
    'G1 Y25',
    ...(bridge ? ['G1 X25', 'G1 Z-3', 'G1 X15', `G1 Z-${z}`, 'G1 X7'] : ['G1 X7']),
    'G1 Y5',
    'G0 Z10',
  ];
  const bridges = [
    { at: { x: 20, y: 8 }, outward: { x: 0, y: -1 }, length: 10, width: 6, height: 1 },
    { at: { x: 20, y: 22 }, outward: { x: 0, y: 1 }, length: 10, width: 6, height: 1 },
  ];

  it('fits without the frame round it, and is told to come free when the jaws held the frame', () => {
    const text = program(...with1, ...groove(2, false), ...groove(4.1, false));
    const proof = proveOne(block(island), text, {}, 1);
    expect(proof.verdict).toBe('fits');
    expect(codes(proof)).toEqual(['piece-comes-free']);
    expect(proof.findings[0]!.message).toContain('The part itself comes free');
  });

  it('comes free on a plate whose clamps hold the frame alone, and not where a clamp stands on it', () => {
    const text = program(...with1, ...groove(2, false), ...groove(4.1, false));
    const clampedAt = (x: number, y: number): readonly string[] => {
      const fastening = { kind: 'clamps', force: 500, places: [{ x, y }] } as const;
      const hold = { kind: 'plate', fastening } as const;
      const frame = frameOf(bar, 'front', 'left-near');
      const proof = proveOne(block(island), text, {
        setups: [{ number: 1, frame, hold, tools: cutters, text }],
      });
      return proof.findings.flatMap((f) => (f.code === 'piece-comes-free' ? [f.message] : []));
    };
    expect(clampedAt(2, 2)).toEqual([expect.stringContaining('The part itself comes free')]);
    expect(clampedAt(20, 15)).toEqual([expect.stringMatching(/^A piece about 40\.0 × 30\.0 mm comes free/)]);
  });

  it('fits on bridges that are told of, each named for hand work', () => {
    const text = program(...with1, ...groove(2, true), ...groove(4.1, true));
    const proof = proveOne(block(island), text, { bridges }, 1);
    expect(codes(proof)).toEqual(['bridge-for-hand', 'bridge-for-hand']);
    expect(proof.verdict).toBe('fits');
    expect(proof.excessMax_mm).toBeLessThan(0.005);
    for (const f of proof.findings) {
      expect(f.message).toContain('1.00 mm thick');
      expect(Math.abs(f.at!.x - 20)).toBeLessThan(2.5);
    }
  });

  it('fits on told bridges taller than half the bar', () => {
    const tall = [...groove(2, true), ...groove(4.1, true)].map((l) => l.replace('Z-3', 'Z-1.5'));
    const told = bridges.map((b) => ({ ...b, height: 2.5 }));
    const proof = proveOne(block(island), program(...with1, ...tall), { bridges: told }, 1);
    expect(codes(proof)).toEqual(['bridge-for-hand', 'bridge-for-hand']);
    expect(proof.verdict).toBe('fits');
  });

  it('stands alone in the next setup once the frame has come off', () => {
    const text = program(...with1, ...groove(2, false), ...groove(4.1, false));
    const hold = {
      kind: 'vice' as const,
      jaws: { from: 12, to: 28 },
      grip: 1,
      parallels: null,
      gripped: 'sides',
    };
    const setup = (face: 'front' | 'back', lines: string, number: number) => ({
      number,
      frame: frameOf(bar, face, 'left-near'),
      hold,
      tools: cutters,
      text: lines,
    });
    const idle = program(...with1, 'G0 X5 Y5');
    const proof = proveOne(block(island), text, {
      setups: [setup('front', text, 1), setup('back', idle, 2)],
    });
    const [min, max] = [proof.setups[1]!.stock_mm.min, proof.setups[1]!.stock_mm.max];
    for (const [k, v] of [10, 8, -4].entries()) expect(min[k]).toBeCloseTo(v, 5);
    for (const [k, v] of [30, 22, 0].entries()) expect(max[k]).toBeCloseTo(v, 5);
  });

  it('does not fit on bridges that nobody told of', () => {
    const text = program(...with1, ...groove(2, true), ...groove(4.1, true));
    const proof = proveOne(block(island), text, {}, 1);
    expect(proof.verdict).toBe('does not fit');
    expect(codes(proof).filter((c) => c === 'web-not-released')).toHaveLength(2);
    expect(proof.excessMax_mm).toBeGreaterThanOrEqual(1);
  });

  it('does not fit when a told bridge is thicker than told', () => {
    const text = program(...with1, ...groove(2, true), ...groove(4.1, true));
    const thin = bridges.map((b) => ({ ...b, height: 0.5 }));
    expect(proveOne(block(island), text, { bridges: thin }, 1).verdict).toBe('does not fit');
  });

  it('does not fit while a web ties it to the frame, and the frame is not counted', () => {
    const text = program(...with1, ...groove(2, false), ...groove(3.2, false));
    const proof = proveOne(block(island), text, {}, 1);
    expect(codes(proof)).toEqual(['web-not-released']);
    expect(proof.excessMax_mm).toBeCloseTo(0.8, 4);
  });
});

describe('a notch with sharp inner corners', () => {
  const notch = rectangle({ x: 28, y: 9 }, { x: 40, y: 21 });
  const outline = polygon([
    { x: 0, y: 0 },
    { x: 40, y: 0 },
    { x: 40, y: 9 },
    { x: 28, y: 9 },
    { x: 28, y: 21 },
    { x: 40, y: 21 },
    { x: 40, y: 30 },
    { x: 0, y: 30 },
  ]);
  const wanted = block({ contours: [outline] });
  const clearNotch = (radius: number, tool: number): string =>
    program(
      `T${tool} M6`,
      'S1500 M3',
      'G0 Z10',
      'G0 X46 Y15',
      'G0 Z-4.1',
      ...[0, 1, 2].flatMap((k) => {
        const off = radius + 2 * (2 - k);
        return off > 5.9 ? [] : [`G1 X46 Y${9 + off} F100`, `G1 X${28 + off}`, `G1 Y${21 - off}`, 'G1 X46'];
      }),
    );

  it('fits: what no owned cutter reaches is named apart, with place, gap and area', () => {
    expect(notch.contours).toHaveLength(1);
    const proof = proveOne(wanted, clearNotch(3, 1), { owned: [cutters[0]!] });
    expect(proof.verdict).toBe('fits');
    expect(codes(proof)).toEqual(['corner-not-reached', 'corner-not-reached']);
    const gap = 3 * (Math.SQRT2 - 1);
    for (const f of proof.findings) {
      expect(f.severity).toBe('note');
      expect(f.at!.x).toBeCloseTo(28, 6);
      expect([9, 21]).toContain(Math.round(f.at!.y * 1e6) / 1e6);
      expect(f.message).toContain(`${gap.toFixed(2)} mm is left`);
      // What a round cutter leaves in a square corner is r²(1 − π/4).
      const area = Number(/about (\d+\.\d) mm²/.exec(f.message)![1]);
      expect(area).toBeGreaterThan(0.9 * 9 * (1 - Math.PI / 4));
      expect(area).toBeLessThan(1.1 * 9 * (1 - Math.PI / 4));
    }
    expect(proof.excessMax_mm).toBeLessThan(0.005);
  });

  it('does not fit when a smaller cutter is owned that would reach farther', () => {
    const proof = proveOne(wanted, clearNotch(3, 1));
    expect(proof.verdict).toBe('does not fit');
    expect(codes(proof)).toContain('wall-excess');
    // The 5 mm cutter would leave 2.5 (√2 − 1): the rest of the gap is the program's.
    expect(proof.excessMax_mm).toBeGreaterThan(0.2);
  });

  it('a small hole near the edge is no corner of the edge', () => {
    const hole = { segments: [circle({ x: 37, y: 15 }, 1, false)] };
    const proof = proveOne(block({ contours: [...whole.contours, hole] }), program(...with1, 'G0 X5 Y5'));
    expect(proof.verdict).toBe('does not fit');
    expect(codes(proof)).not.toContain('corner-not-reached');
    expect(codes(proof)).toContain('material-left');
  });

  it('an open slit narrower than every cutter is a corner at its mouth only', () => {
    const slit = polygon([
      { x: 0, y: 0 },
      { x: 40, y: 0 },
      { x: 40, y: 14 },
      { x: 32, y: 14 },
      { x: 32, y: 16 },
      { x: 40, y: 16 },
      { x: 40, y: 30 },
      { x: 0, y: 30 },
    ]);
    const proof = proveOne(block({ contours: [slit] }), program(...with1, 'G0 X5 Y5'));
    expect(proof.verdict).toBe('does not fit');
    // All but the 2.6 mm nearest the mouth, of 8 × 2.
    const left = proof.findings.find((f) => f.code === 'material-left');
    expect(Number(/about (\d+\.?\d*) mm²/.exec(left!.message)![1])).toBeGreaterThan(5);
  });

  it('a slot narrower than every cutter is no corner', () => {
    const slit = rectangle({ x: 10, y: 14 }, { x: 20, y: 16 }).contours.map(reverseContour);
    const proof = proveOne(block({ contours: [...whole.contours, ...slit] }), program(...with1, 'G0 X5 Y5'));
    expect(proof.verdict).toBe('does not fit');
    expect(codes(proof)).toContain('material-left');
  });
});

describe('a blind hole', () => {
  const hole = { segments: [circle({ x: 20, y: 15 }, 3, false)] };
  const wanted: Solid = {
    slabs: [
      { bottom: 0, top: 1.9, region: whole },
      { bottom: 1.9, top: 4, region: { contours: [...whole.contours, hole] } },
    ],
  };
  const point = 3 / Math.tan(POINT / 2);
  const drill = (depth: number, y = 15): string =>
    program(
      'T3 M6',
      'S900 M3',
      'G0 Z10',
      `G0 X20 Y${y}`,
      'G0 Z1',
      `G1 Z${(-depth).toFixed(4)} F40`,
      'G0 Z10',
    );

  it('may have the cone of its own drill under its flat bottom', () => {
    const proof = proveOne(wanted, drill(2.1 + point));
    expect(codes(proof)).toEqual([]);
    expect(proof.verdict).toBe('fits');
    expect(proof.gougeMax_mm).toBeLessThan(0.001);
  });

  it('drilled 0.06 too deep is a gouge of 0.06', () => {
    const proof = proveOne(wanted, drill(2.16 + point));
    expect(codes(proof)).toEqual(['gouge-floor']);
    expect(proof.gougeMax_mm).toBeCloseTo(0.06, 3);
  });

  it('drilled 0.2 short is left too shallow by 0.2', () => {
    const proof = proveOne(wanted, drill(1.9 + point));
    expect(proof.verdict).toBe('does not fit');
    expect(proof.excessMax_mm).toBeGreaterThan(0.1);
  });

  it('drilled at the wrong place is a gouge', () => {
    const proof = proveOne(wanted, drill(2.1 + point, 14.9));
    expect(codes(proof)).toContain('gouge-wall');
    expect(proof.gougeMax_mm).toBeGreaterThanOrEqual(0.0999);
  });

  it('a cone drilled where no hole is wanted is a gouge as deep as its tip', () => {
    const text = program('T3 M6', 'S900 M3', 'G0 Z10', 'G0 X8 Y8', 'G0 Z1', 'G1 Z-1 F40', 'G0 Z10');
    const proof = proveOne(wanted, text);
    expect(codes(proof)).toContain('gouge-floor');
    expect(proof.gougeMax_mm).toBeCloseTo(1, 3);
  });

  it('the cone is not forgiven under a pocket with straight sides', () => {
    const straight: Solid = {
      slabs: [
        { bottom: 0, top: 1.9, region: whole },
        {
          bottom: 1.9,
          top: 4,
          region: {
            contours: [
              ...whole.contours,
              ...rectangle({ x: 17, y: 5 }, { x: 23, y: 25 }).contours.map(reverseContour),
            ],
          },
        },
      ],
    };
    const proof = proveOne(straight, drill(2.1 + point));
    expect(codes(proof)).toContain('gouge-floor');
    expect(proof.gougeMax_mm).toBeCloseTo(point, 3);
  });

  it('the cone is not forgiven under a wider pocket', () => {
    const pocket: Solid = {
      slabs: [
        { bottom: 0, top: 1.9, region: whole },
        {
          bottom: 1.9,
          top: 4,
          region: { contours: [...whole.contours, { segments: [circle({ x: 20, y: 15 }, 7, false)] }] },
        },
      ],
    };
    const proof = proveOne(pocket, drill(2.1 + point));
    expect(codes(proof)).toContain('gouge-floor');
    expect(proof.gougeMax_mm).toBeCloseTo(point, 3);
  });
});

describe('ramps and helices are judged where they are, not where they end', () => {
  const hole = (r: number): Solid =>
    block({ contours: [...whole.contours, { segments: [circle({ x: 20, y: 15 }, r, false)] }] });
  const cutter: Cutter = cutters[0]!;

  it('a hole bored by a helix fits, and 0.04 too wide a helix gouges by 0.04', () => {
    const helix = (r: number): string =>
      program(
        ...with1,
        `G0 X${20 + r} Y15`,
        'G0 Z0.5',
        'G1 Z0 F50',
        ...[1, 2, 3, 4].map((z) => `G3 X${20 + r} Y15 Z-${z} I-${r} J0 F80`),
        `G3 X${20 + r} Y15 Z-4.1 I-${r} J0`,
        `G3 X${20 + r} Y15 I-${r} J0`,
        'G0 Z10',
      );
    expect(cutter.diameter).toBe(6);
    const good = proveOne(hole(4.5), helix(1.5));
    expect(codes(good)).toEqual([]);
    const wide = proveOne(hole(4.5), helix(1.54));
    expect(wide.gougeMax_mm).toBeCloseTo(0.04, 3);
    const narrow = proveOne(hole(4.5), helix(1.42));
    expect(narrow.excessMax_mm).toBeCloseTo(0.08, 3);
    expect(codes(narrow)).toContain('wall-excess');
  });

  it('a helix without its level turn leaves a step at the bottom', () => {
    const proof = proveOne(
      hole(4.5),
      program(
        ...with1,
        'G0 X21.5 Y15',
        'G0 Z0.5',
        'G1 Z0 F50',
        ...[1, 2, 3, 4].map((z) => `G3 X21.5 Y15 Z-${z} I-1.5 J0 F80`),
        'G0 Z10',
      ),
    );
    expect(proof.verdict).toBe('does not fit');
    expect(codes(proof)).toContain('web-not-released');
  });

  it('a wall finished on the way down a ramp only keeps its skin where the ramp was still high', () => {
    const wanted = block(rectangle({ x: 0, y: 0 }, { x: 30, y: 30 }));
    const clear = [38, 33.1].flatMap((x) => [`G0 X${x} Y-5`, 'G0 Z-4.1', 'G1 Y35 F100', 'G0 Z10']);
    const ramp = (z: number): string[] => ['G0 X33 Y-5', `G0 Z${z}`, 'G1 Y35 Z-4.1 F80', 'G0 Z10'];
    const sloped = proveOne(wanted, program(...with1, ...clear, ...ramp(0)));
    expect(codes(sloped)).toEqual(['wall-excess']);
    expect(sloped.excessMax_mm).toBeCloseTo(0.1, 3);
    expect(sloped.findings[0]!.at!.y).toBeLessThan(25);
    expect(proveOne(wanted, program(...with1, ...clear, ...ramp(-4.1))).verdict).toBe('fits');
  });

  it('a ramp that dips 0.1 under a floor at its middle is a gouge of 0.1', () => {
    const pocket: Solid = {
      slabs: [
        { bottom: 0, top: 2, region: whole },
        {
          bottom: 2,
          top: 4,
          region: {
            contours: [
              ...whole.contours,
              ...rectangle({ x: 6, y: 12 }, { x: 34, y: 18 }).contours.map(reverseContour),
            ],
          },
        },
      ],
    };
    const proof = proveOne(
      pocket,
      program(...with1, 'G0 X9 Y15', 'G0 Z1', 'G1 Z-2 F50', 'G1 X20 Z-2.1', 'G1 X31 Z-2', 'G0 Z10'),
      { owned: [cutters[0]!] },
    );
    expect(proof.gougeMax_mm).toBeCloseTo(0.1, 3);
    expect(codes(proof)).toContain('gouge-floor');
    const at = proof.findings.find((f) => f.code === 'gouge-floor')!.at!;
    expect(at.x).toBeCloseTo(20, 1);
    expect(codes(proof)).toContain('corner-not-reached');
  });
});

it('material that touches only edge to edge in height is not one piece', () => {
  const map = barMap({ ...bar, length: 0.4, width: 0.2 }, 0.1);
  // Left half: the lower 2 mm stand; right half: the upper 2 mm.
  for (let i = 0; i < map.top.length; i++) {
    if (i % map.columns < 2) map.top[i] = 2;
    else map.bottom[i] = 2;
  }
  const pieces = piecesOf(map, () => false);
  expect(pieces.map((p) => p.cells)).toEqual([4, 4]);
  map.top[1] = 2.5;
  expect(piecesOf(map, () => false).map((p) => p.cells)).toEqual([8]);
});

it('the neighbours of a cell are those beside it, none of them round the edge of the map', () => {
  const map = barMap({ ...bar, length: 0.3, width: 0.3 }, 0.1);
  const beside = (i: number): number[] => {
    const found: number[] = [];
    eachNeighbour(map, i, (n) => found.push(n));
    return found.sort((a, b) => a - b);
  };
  expect([map.columns, map.rows]).toEqual([3, 3]);
  expect([0, 1, 2, 3, 4, 5, 6, 7, 8].map(beside)).toEqual([
    [1, 3],
    [0, 2, 4],
    [1, 5],
    [0, 4, 6],
    [1, 3, 5, 7],
    [2, 4, 8],
    [3, 7],
    [4, 6, 8],
    [5, 7],
  ]);
});

describe('passes that nothing names', () => {
  const passes = (...lines: string[]) =>
    passGroups(readProgram(program(...with1, 'G0 X0 Y0', ...lines))).map((p) => [p.first, p.end, p.lowest]);
  const across = (z: number): string[] => ['G0 X0 Y0', `G1 Z${z} F50`, 'G1 X20', 'G0 Z10'];

  it('begin with the way to their level, be it by rapids or fed straight down', () => {
    expect(passes(...across(-1), ...across(-2))).toEqual([
      [0, 3, -1],
      [3, 9, -2],
    ]);
    expect(passes('G1 Z-1 F50', 'G1 X20', 'G1 Z-2', 'G1 X0', 'G1 Z-3', 'G1 X20')).toEqual([
      [0, 3, -1],
      [3, 5, -2],
      [5, 8, -3],
    ]);
  });

  it('go on over a rise and fall, over the same level again, and down a slope that goes across', () => {
    expect(passes('G1 Z-1 F50', 'G1 X5', 'G1 Z0', 'G1 X10', 'G1 Z-1', 'G1 X20')).toEqual([[0, 8, -1]]);
    expect(passes(...across(-1), ...across(-1.004))).toEqual([[0, 9, -1.004]]);
    expect(passes('G1 Z-1 F50', 'G1 X20 Z-2', 'G1 X0 Z-3', 'G1 X20')).toEqual([[0, 6, -3]]);
  });
});
