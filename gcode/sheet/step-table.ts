import type { Part } from '../../sketch/part/part.ts';
import { pointHeight } from '../../toolpath/machine/cutter.ts';
import type { PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { secondsATurn } from '../table/csv.ts';
import type { DialRow } from '../table/dials.ts';
import { figure, unitSign } from '../table/figures.ts';
import type { TableRow } from '../table/rows.ts';
import type { RowDials, Table } from '../table/table.ts';
import type { VisitRow } from '../table/visits.ts';
import { groupLevels, type LevelGroup, type RowHeight } from './levels.ts';
import { harmless } from './svg.ts';

/** A row with what stands beside it on paper. */
interface SheetRow extends TableRow {
  readonly stop: number;
  readonly before: TableRow | null;
  readonly dials: RowDials | null;
  /** Over the pass's own level, mm. */
  readonly above: number;
}

/** One job step's places as a table whose head, with the job step's name, comes again on every page. */
export const stepTable = (
  part: Part,
  table: Table,
  setup: PlannedSetup,
  step: PlannedStep,
  number: number,
): string => {
  const rows = sheetRows(table, setup.setup.number, step);
  const columns = columnsOf(table, setup.setup.number);
  const groups = groupLevels(step.passes, rows, sameDials);
  const sign = unitSign(part.unit);
  const body = groups.map((group) => groupRows(part, step, group, columns)).join('');
  const across = COLUMNS[columns].length + 6;
  const heads = COLUMNS[columns].map((name) => `<th class="n">${name}</th>`).join('');
  return `<table class="places ${columns}"><colgroup><col class="stop"><col class="at"><col class="at"><col class="at">${COLUMNS[columns].map(() => '<col class="dial">').join('')}<col><col class="tick"></colgroup><thead>
<tr><th class="title" colspan="${across}">${number}. ${harmless(step.step.name)} – ${harmless(step.cutter.name)}${harmless(termsOf(part, table, step))}</th></tr>
<tr><th class="n">Stop</th><th class="n">X ${sign}</th><th class="n">Y ${sign}</th><th class="n">Z ${sign}</th>${heads}<th>How</th><th>✓</th></tr>
</thead><tbody>${body}</tbody></table>`;
};

type Columns = 'plain' | 'readout' | 'dials';
const COLUMNS: Readonly<Record<Columns, readonly string[]>> = {
  plain: [],
  readout: ['from before X', 'from before Y'],
  dials: ['X dial', 'Y dial', 'Z dial'],
};

/** How places are told besides from the datum: on from the place before, or on dials. */
export const columnsOf = (table: Table, setup: number): Columns => {
  if (table.hand === null) return 'plain';
  return table.setups.find((s) => s.number === setup)?.dials ? 'dials' : 'readout';
};

const sheetRows = (table: Table, setup: number, step: PlannedStep): readonly SheetRow[] => {
  const own = table.setups.find((s) => s.number === setup);
  return (own?.rows ?? []).flatMap((row, i): SheetRow[] =>
    row.step === step.step.name
      ? [
          {
            ...row,
            stop: i + 1,
            before: own?.rows[i - 1] ?? null,
            dials: own?.dials?.[i] ?? null,
            above: row.at.z - (step.passes[row.pass - 1]?.z ?? row.at.z),
          },
        ]
      : [],
  );
};

/** Printed once only if the dials stand alike; a height that differs by row would need a dial of its own each time. */
const sameDials = (a: SheetRow, b: SheetRow): boolean =>
  a.dials === null ||
  b.dials === null ||
  (a.dials.x.total.count === b.dials.x.total.count &&
    a.dials.y.total.count === b.dials.y.total.count &&
    (Math.abs(a.at.z - b.at.z) < 1e-6 || Math.abs(a.above) < 5e-4));

/** Speed, feed, and the hand's own measure of a feed: the seconds of one turn. */
const termsOf = (part: Part, { hand }: Table, step: PlannedStep): string => {
  if (step.cutter.kind === 'tap') return ', by hand: half a turn back after every turn, to break the chip';
  const speed = `, ${Math.round(step.speed)} turns/min`;
  const drilled = isHoleStep(step);
  const feed = drilled ? step.plungeFeed : step.feed;
  const turn = hand === null ? '' : ` (${secondsText(secondsATurn(drilled ? hand.z : hand.x, feed))} a turn)`;
  const most = fastestIn(step);
  const gentle = 'engagement' in step.step && step.step.engagement !== null;
  const where = gentle
    ? 'less of the cutter is buried, so that its chips stay as thick'
    : 'nothing is left to cut';
  const faster = most > feed * 1.02 ? `, up to ${feedText(part, most)} where ${where}` : '';
  const way =
    'direction' in step.step && hand !== null
      ? step.step.direction === 'conventional'
        ? ', against the cutter'
        : ', with the cutter (climbing)'
      : '';
  return `${speed}, feed ${feedText(part, feed)}${turn}${faster}${way}`;
};

const feedText = ({ unit }: Part, feed: number): string =>
  unit === 'mm' ? `${Math.round(feed)} mm/min` : `${(feed / 25.4).toFixed(1)} in/min`;

/** The fastest feed along any way that a milling step cuts, mm/min. */
const fastestIn = ({ passes }: PlannedStep): number =>
  passes.reduce(
    (most, pass) =>
      pass.moves.reduce(
        (m, move) => (move.kind === 'feed' || move.kind === 'arc' ? Math.max(m, move.feed) : m),
        most,
      ),
    0,
  );

const secondsText = (seconds: number): string =>
  `${seconds < 10 ? seconds.toFixed(1) : Math.round(seconds)} s`;

const groupRows = (part: Part, step: PlannedStep, group: LevelGroup<SheetRow>, columns: Columns): string => {
  const say = (mm: number): string => figure(mm, part.unit);
  const across = COLUMNS[columns].length + 6;
  const head = isHoleStep(step)
    ? holeHead(step, group, say, across)
    : `<tr class="group"><td colspan="${across}">${groupHead(step, group, say)}</td></tr>`;
  return head + group.rows.map((row, i) => rowCells(row, group, i, say, columns)).join('');
};

/** Holes stand by themselves: they have no levels. */
const isHoleStep = ({ step }: PlannedStep): boolean =>
  step.kind === 'spot' || step.kind === 'drill' || step.kind === 'ream' || step.kind === 'tap';

/** How deep to the point, and how deep the full diameter then is. */
const holeHead = (
  { cutter }: PlannedStep,
  group: LevelGroup<SheetRow>,
  say: (mm: number) => string,
  across: number,
): string => {
  const point = pointHeight(cutter);
  const row = group.rows[0];
  if (point === 0 || cutter.kind === 'tap' || row === undefined) return '';
  return `<tr class="group"><td colspan="${across}">Z is the point’s; the full diameter stands ${say(point)} above it</td></tr>`;
};

const KIND = { rough: 'rough', finish: 'finish', release: 'release, light' } as const;

/** Which passes the rows below are for, how deep each goes, and what web it leaves. */
const groupHead = (step: PlannedStep, group: LevelGroup<SheetRow>, say: (mm: number) => string): string => {
  const kind = KIND[group.passes[0]!.kind];
  const last = group.first + group.passes.length - 1;
  const of = step.passes.length;
  const which =
    group.passes.length === 1
      ? `Pass ${group.first} of ${of}, ${kind}`
      : `Passes ${group.first} to ${last} of ${of}, ${kind}, the same places at each level`;
  const levels = group.passes.map((pass, i) => {
    const web = pass.web !== null && pass.web > 1e-6 ? ` (leaves ${say(pass.web)})` : '';
    const row = group.sheets[i]!.find((r) => Math.abs(r.at.z - pass.z) < 1e-6);
    const dial = row?.dials ? ` = ${dialFigure(row.dials.z.total)}` : '';
    return `<span class="level">☐ Z ${say(pass.z)}${dial}${web}</span>`;
  });
  return `${which}: ${group.passes.length === 1 ? '' : 'levels '}${levels.join(', ')}`;
};

const rowCells = (
  row: SheetRow,
  group: LevelGroup<SheetRow>,
  index: number,
  say: (mm: number) => string,
  columns: Columns,
): string => {
  const height = group.heights[index]!;
  const z = height.kind === 'fixed' ? say(height.z) : levelText(height.above, say);
  const more = moreCells(row, group, index, say, columns, height);
  return `<tr><td class="n">${row.stop}</td><td class="n">${say(row.at.x)}</td><td class="n">${say(row.at.y)}</td><td class="n">${z}</td>${more}<td>${harmless(row.note)}</td><td class="tick"></td></tr>`;
};

const moreCells = (
  row: SheetRow,
  group: LevelGroup<SheetRow>,
  index: number,
  say: (mm: number) => string,
  columns: Columns,
  height: RowHeight,
): string => {
  switch (columns) {
    case 'plain':
      return '';
    case 'readout': {
      // Lifted across, one goes by the datum: where one came from differs from pass to pass.
      if (row.coming === 'enter') return '<td></td><td></td>';
      const step = (axis: 'x' | 'y'): string => between(row, axis, say);
      return `<td class="n">${step('x')}</td><td class="n">${step('y')}</td>`;
    }
    case 'dials': {
      if (row.dials === null) return '<td></td><td></td><td></td>';
      // To go past a place where it is not needed does no harm; to leave it out where it is does.
      const past = (axis: 'x' | 'y'): DialRow['total'] | null =>
        group.sheets.map((rows) => rows[index]!.dials?.[axis].pastTotal ?? null).find((t) => t !== null) ??
        null;
      const cell = (dial: VisitRow, before: DialRow['total'] | null): string =>
        `<td class="n">${before === null ? '' : `<small>past ${dialFigure(before)}</small><br>`}${dialFigure(dial.total)}${dial.against ? ' ‹' : ''}</td>`;
      const z =
        height.kind === 'level'
          ? `<td class="n">${Math.abs(height.above) < 5e-4 ? 'level' : ''}</td>`
          : `<td class="n">${dialFigure(row.dials.z.total)}</td>`;
      return cell(row.dials.x, past('x')) + cell(row.dials.y, past('y')) + z;
    }
  }
};

/** On from the place before, between the figures as printed, so that adding them up agrees. */
const between = (row: SheetRow, axis: 'x' | 'y', say: (mm: number) => string): string => {
  const decimals = say(0).split('.')[1]?.length ?? 0;
  const step = (Number(say(row.at[axis])) - Number(say(row.before?.at[axis] ?? 0))).toFixed(decimals);
  return Number(step) === 0 ? say(0) : step;
};

/** Turns and divisions from nought as they stand on paper. */
const dialFigure = ({ count, turns, divisions }: DialRow['total']): string =>
  `${count < 0 ? '−' : ''}${Math.abs(turns)} t ${Math.round(Math.abs(divisions) * 10) / 10}`;

const levelText = (above: number, say: (mm: number) => string): string =>
  Math.abs(above) < 5e-4 ? 'level' : `level ${above > 0 ? '+' : '−'} ${say(Math.abs(above))}`;
