import { parseStringSync } from 'gcode-parser';
import { readInSteps } from '../../gcode/reading/read.ts';
import { longProgram } from './long-program.ts';
import { besides, exponent, type Row } from './row.ts';

const rate = (perSecond: number): string => `${(perSecond / 1e6).toFixed(2)} M lines/s`;

const readAll = (text: string): number => {
  let motions = 0;
  for (const step of readInSteps(text)) motions += step.motions.length;
  return motions;
};

/** Reading to motions with all faults, against a parser from npm that only takes lines apart into words. */
export default function* (): Generator<Row> {
  const SIZES = [25_000, 100_000, 400_000];
  const texts = SIZES.map((n) => longProgram(n));
  const lines = texts.map((text) => text.split('\n').length - 1);
  const own = texts.map(
    (text) =>
      besides(
        5,
        () => readAll(text),
        () => undefined,
      )[0],
  );
  const [ours, theirs] = besides(
    5,
    () => readAll(texts[1]!),
    () => parseStringSync(texts[1]!),
  );
  yield {
    name: 'reading: text to motions and faults, times the lines a second of gcode-parser',
    ours: rate(lines[1]! / ours),
    baseline: rate(lines[1]! / theirs),
    ratio: theirs / ours,
    goal: '≥ 5',
    growth: exponent(lines, own),
  };
}
