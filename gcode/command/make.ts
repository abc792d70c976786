import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import { advise, provePlan, surviveShown, writePrograms } from '../chain.ts';
import type { TableProof } from '../handwork/prove-table.ts';
import { slug } from '../program/name.ts';
import { proofJson } from '../proof/json.ts';
import { handworkOf } from '../sheet/handwork.ts';
import { partSvg } from '../sheet/part-svg.ts';
import { sheetHtml } from '../sheet/sheet.ts';
import { surveyPages } from '../sheet/survey-pages.ts';
import { adviceLines, survivalLines } from '../survival/report.ts';
import type { Table } from '../table/table.ts';
import type { Request } from './arguments.ts';
import { type OutputFile, writeAll } from './files.ts';
import { plannedOf } from './inputs.ts';
import { type Paper, printPdf } from './pdf.ts';
import { CAUTION, engagementLines, findingLines, proofLines } from './summary.ts';

/** What a command has to say, and whether the part fits. */
export interface Outcome {
  readonly lines: readonly string[];
  readonly fits: boolean;
}

/** Everything that leaves for the workshop, written into a folder. */
export const make = (request: Extract<Request, { kind: 'make' }>): Outcome => {
  const planned = plannedOf(request);
  const { part, plan, profile } = planned;
  const programs = writePrograms(part, plan, profile);
  const proof = provePlan(part, plan, programs, profile, request.tolerance);
  const base = slug(part.name);
  const survey = request.stiffness ? surviveShown(planned, programs) : null;
  const survival = survey?.survival ?? null;
  const advice = request.stiffness ? advise(planned) : null;
  const { table, text, proof: handwork, sound } = handworkOf(planned, request.tolerance);
  const report = {
    ...proofJson(proof),
    table: tableReport(table, handwork),
    ...(survival === null ? {} : { survival: { ...survival, advice } }),
  };
  const estimates = survey === null ? '' : surveyPages(part, survey.survival, survey.pictures);
  const sheet = sheetHtml(planned, proof, handwork, estimates);
  const pdf = request.pdf === null ? null : printPdf(sheet, paperOf(request.pdf, part.unit));
  const files: readonly OutputFile[] = [
    ...programs.map((program) => ({ name: program.fileName, text: program.text })),
    // A table with a doubtful figure is not handed on as if it were good; the sheet says so beside it.
    ...(sound ? [{ name: `${base}-table.csv`, text }] : []),
    { name: `${base}-sheet.html`, text: sheet },
    ...(pdf?.ok ? [{ name: `${base}-sheet.pdf`, text: pdf.bytes }] : []),
    { name: `${base}-proof.json`, text: `${JSON.stringify(report, null, 2)}\n` },
    { name: `${base}.svg`, text: partSvg(part) },
  ];
  writeAll(request.out, files);
  return {
    fits: proof.verdict === 'fits' && sound,
    lines: [
      ...proofLines(part.name, proof, part.unit),
      ...engagementLines(proof),
      tableLine(handwork, sound, part.unit),
      ...findingLines([
        ...[...planned.findings, ...table.findings, ...proof.findings],
        ...(sound ? [] : handwork.findings),
        ...(survival?.findings ?? []),
      ]),
      ...(pdf === null || pdf.ok ? [] : [`  Note: ${pdf.why}`]),
      ...(survival === null ? [] : survivalLines(survival, part.unit)),
      ...(advice === null ? [] : adviceLines(advice)),
      `Written in ${request.out}:`,
      ...files.map((file) => `  ${file.name}`),
      ...staleLines(request.out, base, new Set(files.map((file) => file.name))),
      CAUTION,
    ],
  };
};

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
