import type { Finding, Unit } from '../../sketch/part/part.ts';
import { mmPer } from '../../sketch/part/units.ts';
import type { Point, Point3 } from '../../sketch/shape/point.ts';

/** One row as it stands in the table's text: mm, turns/min, mm/min. Nothing here comes from the plan. */
export interface ReadRow {
  /** Line of the text, from 1 for the head. */
  readonly line: number;
  readonly setup: number;
  readonly step: string;
  readonly pass: number;
  readonly stop: number;
  readonly way: string;
  readonly at: Point3;
  readonly centre: Point | null;
  readonly tool: number;
  readonly speed: number;
  readonly feed: number;
  /** Where the dials are turned to, in divisions from nought, the over-travel first; null in a table without dials. */
  readonly dials: ReadDials | null;
  readonly note: string;
}

export interface ReadDials {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: readonly number[];
}

/** Divisions in one turn of each dial. */
export interface DialDivisions {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export interface TableReading {
  readonly rows: readonly ReadRow[];
  readonly findings: readonly Finding[];
}

/**
 * A table's text read back, knowing nothing of who wrote it. `dials` are the divisions of one turn, wanted only where
 * the table speaks of turns. What cannot be read is an error, never a guess.
 */
export const readTable = (text: string, unit: Unit, dials: DialDivisions | null): TableReading => {
  const lines = cellsOf(text);
  const head = lines[0] ?? [];
  const findings: Finding[] = [];
  const column = (name: string): number => head.findIndex((h) => h === name || h.startsWith(`${name} (`));
  const wanted = ['setup', 'job step', 'pass', 'stop', 'way', 'X', 'Y', 'Z', 'cutter', 'turns/min', 'feed'];
  const missing = wanted.filter((name) => column(name) < 0);
  if (missing.length > 0) {
    return { rows: [], findings: [error(`The table has no column for ${missing.join(', ')}.`)] };
  }
  const k = mmPer(unit);
  const turns = dials !== null && column('X dial') >= 0 ? dials : null;
  const rows = lines.slice(1).flatMap((cells, i): ReadRow[] => {
    const line = i + 2;
    const cell = (name: string): string => (column(name) < 0 ? '' : (cells[column(name)] ?? ''));
    const figure = (name: string): number => {
      const said = cell(name);
      if (/^-?\d+(\.\d+)?$/.test(said)) return Number(said);
      findings.push(error(`Row ${line}: “${said}” under ${name} is no figure.`));
      return Number.NaN;
    };
    const dial = (axis: 'X' | 'Y' | 'Z', divisions: number): readonly number[] =>
      [`${axis} past`, `${axis} dial`].flatMap((name) => {
        const said = cell(name);
        if (said === '' && name.endsWith('past')) return [];
        const count = countOf(said, divisions);
        if (count === null)
          findings.push(error(`Row ${line}: “${said}” under ${name} is no turn of a dial.`));
        return count === null ? [] : [count];
      });
    const centred = cell('centre X') !== '';
    const row: ReadRow = {
      line,
      setup: figure('setup'),
      step: cell('job step'),
      pass: figure('pass'),
      stop: figure('stop'),
      way: cell('way'),
      at: { x: figure('X') * k, y: figure('Y') * k, z: figure('Z') * k },
      centre: centred ? { x: figure('centre X') * k, y: figure('centre Y') * k } : null,
      tool: figure('cutter'),
      speed: figure('turns/min'),
      feed: figure('feed') * k,
      dials: turns === null ? null : { x: dial('X', turns.x), y: dial('Y', turns.y), z: dial('Z', turns.z) },
      note: cell('note'),
    };
    return [row];
  });
  findings.push(...missingStops(rows));
  return { rows: findings.length > 0 ? [] : rows, findings };
};

const error = (message: string): Finding => ({ code: 'table-unreadable', severity: 'error', message });

/** `3 t 42`, `under 3 t 42`: divisions from nought. */
const countOf = (said: string, divisions: number): number | null => {
  const found = /^(under )?(\d+) t (\d+(?:\.\d)?)$/.exec(said);
  if (found === null) return null;
  const count = Number(found[2]) * divisions + Number(found[3]);
  return found[1] === undefined ? count : -count;
};

/** Stops are numbered through each setup, so that one left out shows. */
const missingStops = (rows: readonly ReadRow[]): readonly Finding[] =>
  rows.flatMap((row, i) => {
    const before = rows[i - 1];
    const due = before === undefined || before.setup !== row.setup ? 1 : before.stop + 1;
    return row.stop === due
      ? []
      : [
          {
            code: 'table-stop-missing',
            severity: 'error' as const,
            message: `Row ${row.line}: setup ${row.setup} goes on with stop ${row.stop} where stop ${due} is due.`,
            setup: row.setup,
          },
        ];
  });

/** Cells of comma-separated text by RFC 4180. */
const cellsOf = (text: string): readonly (readonly string[])[] => {
  const rows: string[][] = [];
  let row: string[] = [];
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/gy;
  while (cell.lastIndex < text.length) {
    const found = cell.exec(text);
    if (found === null) break;
    row.push(found[1]?.replace(/""/g, '"') ?? found[2] ?? '');
    if (found[3] !== ',') {
      rows.push(row);
      row = [];
    }
  }
  return rows;
};
