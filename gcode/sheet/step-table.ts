import type { Part } from '../../sketch/part/part.ts';
import type { PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { figure, unitSign } from '../table/figures.ts';
import { setupRows, type TableRow } from '../table/rows.ts';
import { groupLevels, type LevelGroup, type RowHeight } from './levels.ts';
import { harmless } from './svg.ts';

/** One job step's places as a table whose head, with the job step's name, comes again on every page. */
export const stepTable = (part: Part, setup: PlannedSetup, step: PlannedStep, number: number): string => {
  const sign = unitSign(part.unit);
  const rows = setupRows({ ...setup, steps: [step] }, part.unit);
  const groups = groupLevels(step.passes, rows);
  const byHand = step.cutter.kind === 'tap';
  const terms = byHand ? 'by hand' : `${Math.round(step.speed)} turns/min`;
  const body = groups.map((group) => groupRows(part, step, group)).join('');
  return `<table class="places"><colgroup><col class="at"><col class="at"><col class="at"><col><col class="tick"></colgroup><thead>
<tr><th class="title" colspan="5">${number}. ${harmless(step.step.name)} – ${harmless(step.cutter.name)}, ${terms}</th></tr>
<tr><th class="n">X ${sign}</th><th class="n">Y ${sign}</th><th class="n">Z ${sign}</th><th>How</th><th>✓</th></tr>
</thead><tbody>${body}</tbody></table>`;
};

const groupRows = (part: Part, step: PlannedStep, group: LevelGroup): string => {
  const say = (mm: number): string => figure(mm, part.unit);
  const head = isHoleStep(step)
    ? ''
    : `<tr class="group"><td colspan="5">${groupHead(step, group, say)}</td></tr>`;
  return head + group.rows.map((row, i) => rowCells(row, group.heights[i]!, say)).join('');
};

/** Holes stand by themselves: they have no levels. */
const isHoleStep = ({ step }: PlannedStep): boolean =>
  step.kind === 'spot' || step.kind === 'drill' || step.kind === 'ream' || step.kind === 'tap';

const KIND = { rough: 'rough', finish: 'finish', release: 'release, light' } as const;

/** Which passes the rows below are for, how deep each goes, and what web it leaves. */
const groupHead = (step: PlannedStep, group: LevelGroup, say: (mm: number) => string): string => {
  const kind = KIND[group.passes[0]!.kind];
  const last = group.first + group.passes.length - 1;
  const of = step.passes.length;
  const which =
    group.passes.length === 1
      ? `Pass ${group.first} of ${of}, ${kind}`
      : `Passes ${group.first} to ${last} of ${of}, ${kind}, the same places at each level`;
  const levels = group.passes.map((pass) => {
    const web = pass.web !== null && pass.web > 1e-6 ? ` (leaves ${say(pass.web)})` : '';
    return `Z ${say(pass.z)}${web}`;
  });
  return `${which}: ${group.passes.length === 1 ? '' : 'levels '}${levels.join(', ')}`;
};

const rowCells = (row: TableRow, height: RowHeight, say: (mm: number) => string): string => {
  const z = height.kind === 'fixed' ? say(height.z) : levelText(height.above, say);
  return `<tr><td class="n">${say(row.at.x)}</td><td class="n">${say(row.at.y)}</td><td class="n">${z}</td><td>${harmless(row.note)}</td><td class="tick"></td></tr>`;
};

const levelText = (above: number, say: (mm: number) => string): string =>
  Math.abs(above) < 5e-4 ? 'level' : `level ${above > 0 ? '+' : '−'} ${say(Math.abs(above))}`;
