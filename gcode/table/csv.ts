import type { Part } from '../../sketch/part/part.ts';
import { mmPer } from '../../sketch/part/units.ts';
import type { HandWheels, MachineProfile } from '../../toolpath/machine/profile.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import type { DialRow } from './dials.ts';
import { figure, unitSign } from './figures.ts';
import type { TableRow } from './rows.ts';
import { isLifted, type RowDials, type Table, tableOf } from './table.ts';
import type { VisitRow } from './visits.ts';

/**
 * The coordinate table of a plan as comma-separated values by RFC 4180, lines ending with CR LF. X, Y and Z are the
 * cutter's centre and tip in each setup's own coordinates, in the part's unit.
 */
export const tableCsv = (
  plan: Plan,
  part: Pick<Part, 'unit'>,
  profile: Pick<MachineProfile, 'hand'> = {},
): string => tableText(tableOf(plan, part.unit, profile));

/**
 * A table as comma-separated values. Places are told from the datum and from the place before; of an arc also its
 * centre. A machine with dials has them as turns and divisions from nought.
 */
export const tableText = (table: Table): string => {
  const { unit, hand } = table;
  const sign = unitSign(unit);
  const head = [
    ...['setup', 'job step', 'pass', 'stop', 'way', `X (${sign})`, `Y (${sign})`, `Z (${sign})`],
    ...[`from before X (${sign})`, `from before Y (${sign})`],
    ...(table.setups.some((s) => s.dials !== null) ? ['X past', 'X dial', 'Y past', 'Y dial', 'Z dial'] : []),
    ...[`centre X (${sign})`, `centre Y (${sign})`, 'cutter', 'turns/min', `feed (${sign}/min)`],
    ...(hand === null ? [] : ['seconds a turn']),
    'note',
  ];
  const lines = table.setups.flatMap(({ rows, dials }) =>
    rows.map((row, i) => rowCells(table, row, rows[i - 1], i, dials?.[i] ?? null)),
  );
  return csvText([head, ...lines]);
};

const rowCells = (
  { unit, hand }: Table,
  row: TableRow,
  before: TableRow | undefined,
  index: number,
  dials: RowDials | null,
): readonly string[] => {
  const say = (mm: number): string => figure(mm, unit);
  // Between figures as printed, so that adding them up gives the figures as printed.
  const step = (axis: 'x' | 'y'): string =>
    say((Number(say(row.at[axis])) - Number(say(before?.at[axis] ?? 0))) * mmPer(unit));
  return [
    String(row.setup),
    words(row.step),
    String(row.pass),
    String(index + 1),
    row.coming,
    say(row.at.x),
    say(row.at.y),
    say(row.at.z),
    step('x'),
    step('y'),
    ...(dials === null
      ? []
      : [
          ...[pastText(dials.x), dialText(dials.x.total), pastText(dials.y), dialText(dials.y.total)],
          dialText(dials.z.total),
        ]),
    row.round === null ? '' : say(row.round.centre.x),
    row.round === null ? '' : say(row.round.centre.y),
    String(row.tool),
    String(Math.round(row.speed)),
    feedText(row.feed, unit),
    ...(hand === null ? [] : [secondsText(row, hand)]),
    words([row.about, row.note].filter((s) => s !== '').join('; ')),
  ];
};

const feedText = (feed: number, unit: Part['unit']): string =>
  unit === 'mm' ? String(Math.round(feed)) : (feed / mmPer(unit)).toFixed(2);

/** Seconds for one turn of the handwheel that feeds, by its screw's pitch; empty where nothing is fed. */
const secondsText = (row: TableRow, hand: HandWheels): string => {
  if (row.feed <= 0) return '';
  const screw = isLifted(row) || row.coming === 'plunge' ? hand.z : row.note === 'along Y' ? hand.y : hand.x;
  return secondsATurn(screw, row.feed).toFixed(1);
};

/** Seconds of one turn of a handwheel at a feed in mm/min. */
export const secondsATurn = (screw: Pick<HandWheels['x'], 'pitch'>, feed: number): number =>
  (screw.pitch / feed) * 60;

/** Turns and divisions from nought: `3 t 42`, and `under 3 t 42` below it; so written no spreadsheet computes it. */
export const dialText = (total: DialRow['total']): string =>
  `${total.count < 0 ? 'under ' : ''}${Math.abs(total.turns)} t ${plainCount(Math.abs(total.divisions))}`;

const pastText = ({ pastTotal }: VisitRow): string => (pastTotal === null ? '' : dialText(pastTotal));

const plainCount = (count: number): string => String(Math.round(count * 10) / 10);

/** Rows of cells as comma-separated values by RFC 4180. */
export const csvText = (rows: readonly (readonly string[])[]): string =>
  rows.map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');

/**
 * Words that no spreadsheet will take for a formula: those that begin like one get an apostrophe in front. Control
 * characters become spaces. Figures do not pass through here, so a minus stays a minus.
 */
export const words = (text: string): string => {
  const plain = text.replace(/\p{Cc}+/gu, ' ').trim();
  return /^[=+\-@]/.test(plain) ? `'${plain}` : plain;
};

const quoted = (cell: string): string => (/[",\r\n]/.test(cell) ? `"${cell.replace(/"/g, '""')}"` : cell);
