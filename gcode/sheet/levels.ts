import type { Pass } from '../../toolpath/passes/pass.ts';
import type { TableRow } from '../table/rows.ts';

/**
 * Passes of a job step that visit the same places one below the other, so that a sheet needs to print them once.
 * `rows` are those of the first of them; `heights` says how each row's Z follows from the pass.
 */
export interface LevelGroup<R extends TableRow = TableRow> {
  /** Number of the first pass in its job step, from 1. */
  readonly first: number;
  readonly passes: readonly Pass[];
  readonly rows: readonly R[];
  /** The rows of every pass, pass by pass: what besides the height may differ between them is looked up here. */
  readonly sheets: readonly (readonly R[])[];
  readonly heights: readonly RowHeight[];
}

/** A Z that is the same in every pass of the group, or one that lies so far above the pass's own level; mm. */
export type RowHeight =
  | { readonly kind: 'fixed'; readonly z: number }
  | { readonly kind: 'level'; readonly above: number };

/** Heights and places nearer than this are the same to a hand, mm. */
const SAME = 0.004;

/**
 * Groups neighbouring passes of one job step; `rows` are all its rows, in order. `alike` says what else must be the
 * same for two rows to be printed as one.
 */
export const groupLevels = <R extends TableRow>(
  passes: readonly Pass[],
  rows: readonly R[],
  alike: (a: R, b: R) => boolean = () => true,
): readonly LevelGroup<R>[] => {
  const groups: { first: number; passes: Pass[]; rows: readonly R[][] }[] = [];
  passes.forEach((pass, i) => {
    const own = rows.filter((row) => row.pass === i + 1);
    const last = groups.at(-1);
    if (last && canJoin(last, pass, own) && last.rows[0]!.every((row, k) => alike(row, own[k]!))) {
      last.passes.push(pass);
      last.rows = [...last.rows, own];
    } else groups.push({ first: i + 1, passes: [pass], rows: [own] });
  });
  return groups.map(({ first, passes: joined, rows: sheets }) => ({
    first,
    passes: joined,
    rows: sheets[0]!,
    sheets,
    heights: sheets[0]!.map((_, k) => heightOf(joined, sheets, k)!),
  }));
};

const canJoin = (
  group: { readonly passes: readonly Pass[]; readonly rows: readonly TableRow[][] },
  pass: Pass,
  own: readonly TableRow[],
): boolean => {
  const first = group.rows[0]!;
  return (
    group.passes[0]!.kind === pass.kind &&
    first.length === own.length &&
    first.every((row, k) => sameBesidesHeight(row, own[k]!)) &&
    first.every((_, k) => heightOf([...group.passes, pass], [...group.rows, [...own]], k) !== null)
  );
};

const sameBesidesHeight = (a: TableRow, b: TableRow): boolean =>
  a.coming === b.coming &&
  a.note === b.note &&
  Math.abs(a.at.x - b.at.x) < SAME &&
  Math.abs(a.at.y - b.at.y) < SAME;

/** How the height of row `k` follows from the pass; null when it follows no rule. */
const heightOf = (
  passes: readonly Pass[],
  sheets: readonly (readonly TableRow[])[],
  k: number,
): RowHeight | null => {
  const heights = sheets.map((rows) => rows[k]!.at.z);
  const above = heights.map((z, i) => z - passes[i]!.z);
  const same = (values: readonly number[]): boolean => values.every((v) => Math.abs(v - values[0]!) < SAME);
  // With a single pass its own figure says more than "level".
  if (same(heights)) return { kind: 'fixed', z: heights[0]! };
  return same(above) ? { kind: 'level', above: above[0]! } : null;
};
