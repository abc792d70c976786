import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { provePlan, survive, writePrograms } from '../chain.ts';
import { slug } from '../program/name.ts';
import { proofJson } from '../proof/json.ts';
import { partSvg } from '../sheet/part-svg.ts';
import { sheetHtml } from '../sheet/sheet.ts';
import { tableCsv } from '../table/csv.ts';
import type { Request } from './arguments.ts';
import { writeAll } from './files.ts';
import { plannedOf } from './inputs.ts';
import { CAUTION, findingLines, proofLines } from './summary.ts';

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
  const survival = request.stiffness ? survive(planned, programs) : null;
  const report = survival === null ? proofJson(proof) : { ...proofJson(proof), survival };
  const files = [
    ...programs.map((program) => ({ name: program.fileName, text: program.text })),
    { name: `${base}-table.csv`, text: tableCsv(plan, part) },
    { name: `${base}-sheet.html`, text: sheetHtml(planned, proof) },
    { name: `${base}-proof.json`, text: `${JSON.stringify(report, null, 2)}\n` },
    { name: `${base}.svg`, text: partSvg(part) },
  ];
  writeAll(request.out, files);
  return {
    fits: proof.verdict === 'fits',
    lines: [
      ...proofLines(part.name, proof, part.unit),
      ...findingLines([...planned.findings, ...proof.findings, ...(survival?.findings ?? [])]),
      `Written in ${request.out}:`,
      ...files.map((file) => `  ${file.name}`),
      ...staleLines(request.out, base, new Set(programs.map((p) => p.fileName))),
      CAUTION,
    ],
  };
};

/** A program left over from an earlier making with more setups could be run by mistake. */
const staleLines = (folder: string, base: string, written: ReadonlySet<string>): readonly string[] =>
  readdirSync(folder)
    .filter(
      (name) => name.startsWith(`${base}-setup-`) && /-setup-\d+\.ngc$/.test(name) && !written.has(name),
    )
    .map(
      (name) => `  Look: ${join(folder, name)} is from an earlier making and no longer belongs to this part.`,
    );
