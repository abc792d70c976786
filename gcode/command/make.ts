import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { advicePictures, adviseInSteps } from '../advice.ts';
import {
  type PlannedPart,
  type ProgramFile,
  proofInput,
  surviveShownInSteps,
  writePrograms,
} from '../chain.ts';
import type { TableProof } from '../handwork/prove-table.ts';
import { slug } from '../program/name.ts';
import { proofJson } from '../proof/json.ts';
import { proveInSteps } from '../proof/prove.ts';
import type { ShownAdvice } from '../sheet/advice-pages.ts';
import { handworkOf } from '../sheet/handwork.ts';
import { partSvg } from '../sheet/part-svg.ts';
import { sheetHtml } from '../sheet/sheet.ts';
import { surveyPages } from '../sheet/survey-pages.ts';
import type { Doing } from '../survival/doing.ts';
import { adviceLines, type Survival, survivalLines } from '../survival/report.ts';
import type { WorstPicture } from '../survival/worst-pictures.ts';
import type { Table } from '../table/table.ts';
import type { Request } from './arguments.ts';
import { type OutputFile, writeAll } from './files.ts';
import { plannedOf } from './inputs.ts';
import { type Paper, printPdf } from './pdf.ts';
import { withDoing, withProgress } from './progress.ts';
import { CAUTION, engagementLines, findingLines, proofLines } from './summary.ts';

/** What a command has to say, and whether the part fits. */
export interface Outcome {
  readonly lines: readonly string[];
  readonly fits: boolean;
}

/**
 * Everything that leaves for the workshop, written into a folder. With the survey asked for, all is written without it
 * first, and again with it once it is done: whoever stops it keeps files that are whole. `say` is told what came of each.
 */
export const make = (
  request: Extract<Request, { kind: 'make' }>,
  say: (lines: readonly string[]) => void,
): Outcome => {
  const planned = plannedOf(request);
  const { part, plan, profile } = planned;
  const programs = writePrograms(part, plan, profile);
  const proof = withProgress(proveInSteps(proofInput(part, plan, programs, profile, request.tolerance)));
  const base = slug(part.name);
  const handwork = handworkOf(planned, request.tolerance);
  const { table, proof: tableProof, sound } = handwork;
  /** The sheet and the report, with the estimates where they are known. */
  const papersOf = (
    estimates: Estimates | null,
  ): { readonly files: readonly OutputFile[]; readonly why: string | null } => {
    const report = {
      ...proofJson(proof),
      table: tableReport(table, tableProof),
      ...(estimates && { survival: { ...estimates.survival, advice: estimates.better.advice } }),
    };
    const pages = estimates
      ? surveyPages(part, estimates.survival, estimates.pictures, estimates.better)
      : '';
    const sheet = sheetHtml(planned, proof, tableProof, pages);
    const pdf = request.pdf === null ? null : printPdf(sheet, paperOf(request.pdf, part.unit));
    return {
      why: pdf === null || pdf.ok ? null : pdf.why,
      files: [
        { name: `${base}-sheet.html`, text: sheet },
        ...(pdf?.ok ? [{ name: `${base}-sheet.pdf`, text: pdf.bytes }] : []),
        { name: `${base}-proof.json`, text: `${JSON.stringify(report, null, 2)}\n` },
      ],
    };
  };
  const plain = papersOf(null);
  const files: readonly OutputFile[] = [
    ...programs.map((program) => ({ name: program.fileName, text: program.text })),
    // A table with a doubtful figure is not handed on as if it were good; the sheet says so beside it.
    ...(sound ? [{ name: `${base}-table.csv`, text: handwork.text }] : []),
    ...plain.files,
    { name: `${base}.svg`, text: partSvg(part) },
  ];
  writeAll(request.out, files);
  say([
    ...proofLines(part.name, proof, part.unit),
    ...engagementLines(proof),
    tableLine(tableProof, sound, part.unit),
    ...findingLines([
      ...[...planned.findings, ...table.findings, ...proof.findings],
      ...(sound ? [] : tableProof.findings),
    ]),
    ...(plain.why === null ? [] : [`  Note: ${plain.why}`]),
    `Written in ${request.out}:`,
    ...files.map((file) => `  ${file.name}`),
    ...staleLines(request.out, base, new Set(files.map((file) => file.name))),
  ]);
  if (request.stiffness) {
    const estimates = withDoing(estimatesInSteps(planned, programs));
    const { files: papers } = papersOf(estimates);
    writeAll(request.out, papers);
    say([
      ...survivalLines(estimates.survival, part.unit),
      ...findingLines(estimates.survival.findings),
      ...adviceLines(estimates.better.advice, part.unit),
      'Written once more, with these estimates:',
      ...papers.map((file) => `  ${file.name}`),
    ]);
  }
  say([CAUTION]);
  return { fits: proof.verdict === 'fits' && sound, lines: [] };
};

/** Letters side by side over a picture of an order, two of which stand beside each other. */
const ACROSS = 25;

interface Estimates {
  readonly survival: Survival;
  readonly pictures: readonly WorstPicture[];
  readonly better: ShownAdvice;
}

/** The survey, its pictures and what would be better. */
function* estimatesInSteps(
  planned: PlannedPart,
  programs: readonly ProgramFile[],
): Generator<Doing, Estimates> {
  const shown = yield* surviveShownInSteps(planned, programs);
  const { advice, orders } = yield* adviseInSteps(planned);
  yield { what: 'Drawing the orders', share: null, secondsLeft: null };
  // Of an order that has no other the worst passes are drawn already.
  const pictures = orders.length > 1 ? advicePictures(planned, orders, ACROSS) : [];
  return { ...shown, better: { advice, pictures } };
}

const tableReport = (table: Table, proof: TableProof): object => ({
  verdict: proof.verdict,
  readBy: table.hand === null ? 'figures' : table.hand.readout ? 'readout' : 'figures and dials',
  stops: proof.rows,
  gougeMax_mm: Number(proof.gougeMax_mm.toFixed(4)),
  excessMax_mm: Number(proof.excessMax_mm.toFixed(4)),
  findings: [...table.findings, ...proof.findings].map(({ code, message, severity, setup }) => ({
    ...{ code, message, severity },
    setup: setup ?? null,
  })),
});

const tableLine = (proof: TableProof, sound: boolean, unit: Unit): string =>
  `  the table of ${proof.rows} stops, done by hand: ${sound ? 'fits' : 'does not fit, so it is not written'}; deepest gouge ${lengthText(proof.gougeMax_mm, unit)}, most left standing ${lengthText(proof.excessMax_mm, unit)}`;

const paperOf = (wish: Paper | 'auto', unit: Unit): Paper =>
  wish === 'auto' ? (unit === 'mm' ? 'A4' : 'Letter') : wish;

/** What is left over from an earlier making, and not made now, could be cut by mistake. */
const staleLines = (folder: string, base: string, written: ReadonlySet<string>): readonly string[] =>
  readdirSync(folder)
    .filter((name) => name.startsWith(base) && !written.has(name))
    .filter((name) => /^(-setup-\d+\.ngc|-table\.csv|-sheet\.pdf)$/.test(name.slice(base.length)))
    .map(
      (name) => `  Look: ${join(folder, name)} is from an earlier making and no longer belongs to this part.`,
    );
