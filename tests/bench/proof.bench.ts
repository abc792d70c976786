import { proveInSteps } from '../../gcode/proof/prove.ts';
import { longInput, longProgram } from './long-program.ts';
import { exponent, type Row, time } from './row.ts';

const LINES = [10_000, 100_000, 1_000_000];

/** Processor seconds of a proof in steps, and by how much memory grows meanwhile, bytes. */
const proven = (text: string): { readonly cost: number; readonly grown: number; readonly steps: number } => {
  const input = longInput(text);
  globalThis.gc?.();
  const before = process.memoryUsage().rss;
  const start = process.cpuUsage();
  let [most, steps] = [before, 0];
  for (const _ of proveInSteps(input)) {
    if (steps++ % 16 === 0) most = Math.max(most, process.memoryUsage().rss);
  }
  const { user, system } = process.cpuUsage(start);
  return { cost: (user + system) / 1e6, grown: most - before, steps };
};

/** A million lines of steps of a few tenths of a millimetre, read, cut, watched for gouges and walls, and compared. */
export default function* (): Generator<Row> {
  const texts = LINES.map((n) => longProgram(n));
  proven(texts[0]!);
  const runs = texts.map(proven);
  const [, , whole] = runs;
  const lines = texts.map((text) => text.split('\n').length - 1);
  yield {
    name: `proof: ${lines[2]} lines proven in ${whole!.steps} steps, a line's cost to one of 100 000; growth over lines`,
    ours: time(whole!.cost),
    baseline: time(runs[1]!.cost),
    ratio: whole!.cost / lines[2]! / (runs[1]!.cost / lines[1]!),
    growth: exponent(
      lines,
      runs.map((r) => r.cost),
    ),
  };
  yield {
    name: 'proof: memory that a million lines take at most, to the bytes of their text',
    ours: `${(whole!.grown / 1e6).toFixed(0)} MB`,
    baseline: `${(texts[2]!.length / 1e6).toFixed(0)} MB`,
    ratio: whole!.grown / texts[2]!.length,
  };
}
