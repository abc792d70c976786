import { describe, expect, it } from 'vitest';
import { withProgress } from '../gcode/command/progress.ts';
import { prove, proveInSteps } from '../gcode/proof/prove.ts';
import { longInput, longProgram } from './bench/long-program.ts';

describe('progress on the command line', () => {
  const input = longInput(longProgram(10_000));
  const run = (isTTY: boolean): string => {
    let text = '';
    let clock = 0;
    const out = {
      isTTY,
      write: (more: string | Uint8Array) => {
        text += more;
        return true;
      },
    };
    const now = (): number => {
      clock += 200;
      return clock;
    };
    expect(withProgress(proveInSteps(input), out, now)).toEqual(prove(input));
    return text;
  };

  it('is told on a terminal, line over line, and wiped away at the end', () => {
    const lines = run(true).split('\r');
    const shares = lines.flatMap((line) => /(\d+) %/.exec(line)?.[1] ?? []).map(Number);
    expect(shares.length).toBeGreaterThan(4);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(lines.some((line) => line.startsWith('Cutting setup 1'))).toBe(true);
    expect(lines.at(-2)!.trim()).toBe('');
    expect(lines.at(-2)!.length).toBeGreaterThanOrEqual(Math.max(...lines.map((l) => l.length)));
  });

  it('is not told where nobody looks on', () => {
    expect(run(false)).toBe('');
  });
});
