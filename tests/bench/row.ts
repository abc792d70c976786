/**
 * One line of the table that `npm run bench` prints. Times depend on the machine and on what else runs, so the figure
 * that is kept is a ratio to something measured in the same run.
 */
export interface Row {
  readonly name: string;
  /** What was measured, with its unit. */
  readonly ours: string;
  /** What it is held against, with its unit. */
  readonly baseline: string;
  /** `ours` over `baseline`, or the other way round where the name says "times as fast". Left out where there is none. */
  readonly ratio?: number;
  /** Exponent of the cost over the size, from three sizes. */
  readonly growth?: number;
  /** What the ratio is meant to be, as "≥ 5"; left out where a row only tells. */
  readonly goal?: string;
}

/** A benchmark of this folder gives rows, one after another as they are done. */
export type Bench = () => Iterable<Row> | AsyncIterable<Row>;

/** Processor seconds of the best of several runs: what else runs on the machine disturbs them least. */
export const best = (times: number, work: () => void): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < times; n++) {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    least = Math.min(least, user + system);
  }
  return least / 1e6;
};

/**
 * Two works measured in turn, several times; the best of each, s. What slows the machine for a while slows both, so
 * that their ratio stands.
 */
export const besides = (times: number, ours: () => void, other: () => void): readonly [number, number] => {
  let [a, b] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let n = 0; n < times; n++) {
    a = Math.min(a, best(1, ours));
    b = Math.min(b, best(1, other));
  }
  return [a, b];
};

/** Slope of the logarithms, by least squares: cost grows as size to this power. */
export const exponent = (sizes: readonly number[], costs: readonly number[]): number => {
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const x = sizes.map(Math.log);
  const y = costs.map(Math.log);
  const [mx, my] = [mean(x), mean(y)];
  const rise = x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0);
  return rise / x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
};

/** A time to be read: ms below a second. */
export const time = (seconds: number): string =>
  seconds >= 1 ? `${seconds.toFixed(1)} s` : `${(1000 * seconds).toFixed(seconds < 0.01 ? 2 : 1)} ms`;

const HEADS = ['name', 'ours', 'baseline', 'ratio', 'goal', 'growth'] as const;
const WIDTHS = [82, 16, 16, 7, 8, 6] as const;

const line = (cells: readonly string[]): string =>
  `| ${cells.map((cell, i) => (i === 0 ? cell.padEnd(WIDTHS[0]) : cell.padStart(WIDTHS[i]!))).join(' | ')} |`;

/** The head of the table, in Markdown. */
export const tableHead = (): string =>
  [
    line(HEADS),
    `| ${WIDTHS.map((w, i) => (i === 0 ? '-'.repeat(w) : `${'-'.repeat(w - 1)}:`)).join(' | ')} |`,
  ].join('\n');

const figure = (value: number | undefined): string =>
  value === undefined ? '' : Number(value.toPrecision(3)).toString();

export const tableLine = (row: Row): string =>
  line([
    row.name,
    row.ours,
    row.baseline,
    figure(row.ratio),
    row.goal ?? '',
    row.growth === undefined ? '' : row.growth.toFixed(2),
  ]);
