import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passGroups, passSplitter } from '../gcode/proof/passes.ts';
import { flood, isMaterial, piecesOf } from '../gcode/proof/pieces.ts';
import type { ProofInput } from '../gcode/proof/proof.ts';
import { type ProofProgress, prove, proveInSteps, proveReadings } from '../gcode/proof/prove.ts';
import { readInSteps, readProgram } from '../gcode/reading/read.ts';
import { barMap } from '../toolpath/removal/height-map.ts';
import { longInput, longProgram } from './bench/long-program.ts';

describe('a long program', () => {
  const input: ProofInput = longInput(longProgram(30_000));

  it('is proven in steps, from the first line to the last, and tells how far it is', () => {
    const told: ProofProgress[] = [];
    const steps = proveInSteps(input);
    let step = steps.next();
    for (; !step.done; step = steps.next()) told.push(step.value);
    expect(step.value).toEqual(prove(input));
    expect(told.length).toBeGreaterThan(25);
    for (const [i, { share }] of told.entries()) {
      expect(share).toBeGreaterThanOrEqual(told[i - 1]?.share ?? 0);
      expect(share).toBeLessThanOrEqual(1);
    }
    expect(new Set(told.map((t) => t.kind))).toEqual(new Set(['reading', 'cutting', 'comparing']));
    expect(told.at(-1)!.share).toBeGreaterThan(0.9);
  });

  it('is stopped between two steps, and nothing more is done', () => {
    const steps = proveInSteps(input);
    for (let k = 0; k < 5; k++) steps.next();
    expect(steps.return(undefined as never).done).toBe(true);
    expect(steps.next().done).toBe(true);
  });

  it('comes to the same whether its motions are kept or not', () => {
    const kept = proveReadings(
      input,
      input.setups.map((s) => readProgram(s.text)),
    );
    expect(kept).toEqual(prove(input));
  });

  it('is handed on some thousand motions at a time', () => {
    let [most, count] = [0, 0];
    for (const { motions } of readInSteps(input.setups[0]!.text)) {
      most = Math.max(most, motions.length);
      count += motions.length;
    }
    expect(count).toBe(readProgram(input.setups[0]!.text).motions.length);
    expect(most).toBeLessThanOrEqual(2000);
  });

  it('has the same passes however its motions come', () => {
    const unlabelled = input.setups[0]!.text.replace(/\(STEP.*\)\n/g, '');
    for (const text of [input.setups[0]!.text, unlabelled]) {
      const reading = readProgram(text);
      const splitter = passSplitter(reading.labels);
      const sizes: number[] = [];
      const take = (parts: ReturnType<typeof splitter.take>): void => {
        for (const { begins, motions } of parts) {
          if (begins !== null) sizes.push(0);
          sizes[sizes.length - 1]! += motions.length;
        }
      };
      for (let k = 0; k < reading.motions.length; k += 7)
        take(splitter.take(reading.motions.slice(k, k + 7)));
      take(splitter.end());
      const groups = passGroups(reading);
      expect(sizes).toEqual(groups.map((g) => g.end - g.first));
      expect(groups.length).toBeGreaterThanOrEqual(8);
    }
  });
});

describe('a hostile file', () => {
  it('of one line of 100 MB is a fault, and is read at once', () => {
    for (const line of [
      'X1'.repeat(50_000_000),
      '('.padEnd(100_000_000, 'a'),
      `G1 X${'9'.repeat(100_000_000)}`,
    ]) {
      const reading = readProgram(`G21 G90\n${line}\nM30\n`);
      expect(reading.faults.map((f) => f.code)).toContain('line-endless');
      expect(reading.ended).toBe(true);
      expect(reading.motions).toEqual([]);
    }
  });

  it('of one line of 100 MB of blanks is empty', () => {
    expect(readProgram(`G21${' '.repeat(100_000_000)}`).faults.map((f) => f.code)).toContain('line-endless');
    expect(readProgram(`${' '.repeat(100_000_000)}\nM30`).faults).toEqual([]);
  });
});

describe('pieces', () => {
  it('are what a flood reaches from each of their cells', () => {
    const bar = {
      length: 9,
      width: 7,
      thickness: 3,
      material: 'brass',
      corner: { x: 0, y: 0 },
      sawn: 0,
    } as const;
    const heights = fc.array(fc.tuple(fc.constantFrom(0, 0, 1, 2, 3), fc.constantFrom(0, 1, 2)), {
      minLength: 63,
      maxLength: 63,
    });
    fc.assert(
      fc.property(heights, (columns) => {
        const map = barMap(bar, 1);
        columns.forEach(([top, bottom], i) => {
          map.top[i] = top;
          map.bottom[i] = bottom;
        });
        const pieces = piecesOf(map, (i) => i % 10 === 0);
        const labels = new Int32Array(63).fill(-1);
        pieces.forEach(({ runs }, k) => {
          for (let r = 0; r < runs.length; r += 2) labels.fill(k, runs[r]!, runs[r + 1]!);
        });
        for (const [i, label] of labels.entries()) expect(label >= 0).toBe(isMaterial(map, i));
        for (const [number, piece] of pieces.entries()) {
          const reached = flood(map, [piece.at], () => true);
          const own = [...labels.keys()].filter((i) => labels[i] === number);
          expect([...reached.keys()].filter((i) => reached[i] === 1)).toEqual(own);
          expect(piece.cells).toBe(own.length);
          expect(piece.wanted).toBe(own.some((i) => i % 10 === 0));
          const at = own.map((i) => [i % map.columns, Math.floor(i / map.columns)] as const);
          expect(piece.columns).toEqual([Math.min(...at.map((a) => a[0])), Math.max(...at.map((a) => a[0]))]);
          expect(piece.rows).toEqual([Math.min(...at.map((a) => a[1])), Math.max(...at.map((a) => a[1]))]);
        }
      }),
      { numRuns: 300 },
    );
  });
});
