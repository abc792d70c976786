import type { ProofInput } from '../../gcode/proof/proof.ts';
import type { Bar } from '../../sketch/part/part.ts';
import { rectangle } from '../../sketch/shape/region.ts';
import { frameOf } from '../../toolpath/route/frame.ts';

/**
 * A program of about so many lines that cuts a plate over and over in short lines and arcs, one level below the other,
 * as a dense tool path does. Millimetres; work of 70 × 16 × 6 mm with its zero at the left, near, upper corner.
 */
export const longProgram = (lines: number, levels = 8): string => {
  const text: string[] = ['%', 'G17 G21 G40 G49 G54 G80 G90 G94', 'T2 M6', 'S4000 M3', 'G0 Z5.', 'X-5. Y8.'];
  const each = Math.max(1, Math.floor((lines - 9 - 3 * levels) / levels));
  for (let level = 1; level <= levels; level++) {
    text.push('G0 X-5. Y8.', `G1 Z${(-0.5 * level).toFixed(3)} F120.`, `(STEP face - PASS level ${level})`);
    for (let i = 0; i < each; i++) {
      // Round a long thin figure whose width goes to and fro, so that no two rounds are the same.
      const t = (2 * Math.PI * i) / 997;
      const wide = 5 + 3 * Math.sin(i / 7919);
      const x = (35 + 38 * Math.cos(t)).toFixed(4);
      const y = (8 + wide * Math.sin(t)).toFixed(4);
      if (i % 50 === 49) text.push(`G3 X${x} Y${y} R40.`);
      else if (i % 50 === 0) text.push(`G1 X${x} Y${y} F350.`);
      else text.push(`X${x} Y${y}`);
    }
    text.push('G0 Z5.');
  }
  return [...text.slice(0, -1), 'G0 Z5.', 'M5', 'M30', '%', ''].join('\n');
};

/** What a proof of such a program is asked: the bar it is cut from, in a vice, and the bar itself as the part. */
export const longInput = (text: string): ProofInput => {
  const bar: Bar = {
    length: 70,
    width: 16,
    thickness: 6,
    material: 'brass',
    corner: { x: 0, y: 0 },
    sawn: 0,
  };
  const region = rectangle({ x: 0, y: 0 }, { x: 70, y: 16 });
  return {
    bar,
    wanted: { slabs: [{ bottom: 0, top: 2, region }] },
    setups: [
      {
        number: 1,
        frame: frameOf(bar, 'front', 'left-near'),
        hold: { kind: 'vice', jaws: { from: 0, to: 70 }, grip: 1, parallels: null, gripped: 'the bar' },
        tools: [
          {
            name: 'endmill 6',
            number: 2,
            kind: 'endmill',
            diameter: 6,
            flutes: 3,
            fluteLength: 13,
            material: 'carbide',
            pointAngle: Math.PI,
            plunge: { straight: true, ramp: 0.05 },
          },
        ],
        text,
      },
    ],
    tolerance: { gouge: 0.02, excess: 0.05 },
  };
};
