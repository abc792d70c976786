import type { Part } from '../../sketch/part/part.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import { figure, unitSign } from './figures.ts';
import { tableRows } from './rows.ts';

/**
 * The coordinate table as comma-separated values by RFC 4180, lines ending with CR LF. X, Y and Z are the cutter's
 * centre and tip in each setup's own coordinates, in the part's unit.
 */
export const tableCsv = (plan: Plan, part: Pick<Part, 'unit'>): string => {
  const { unit } = part;
  const sign = unitSign(unit);
  const head = ['setup', 'job step', 'pass', `X (${sign})`, `Y (${sign})`, `Z (${sign})`, 'note'];
  const lines = tableRows(plan, unit).map((row) => [
    String(row.setup),
    words(row.step),
    String(row.pass),
    figure(row.at.x, unit),
    figure(row.at.y, unit),
    figure(row.at.z, unit),
    words([row.about, row.note].filter((s) => s !== '').join('; ')),
  ]);
  return csvText([head, ...lines]);
};

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
