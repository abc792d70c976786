import type { Part } from '../../sketch/part/part.ts';
import { mmPer } from '../../sketch/part/units.ts';
import type { PlannedSetup, PlannedStep } from '../../toolpath/passes/pass.ts';
import { toProgram } from '../../toolpath/route/frame.ts';
import { cuttersOf, type PlannedPart } from '../chain.ts';
import type { TableProof } from '../handwork/prove-table.ts';
import type { Proof } from '../proof/proof.ts';
import { secondsATurn } from '../table/csv.ts';
import { figure, timeText, unitSign } from '../table/figures.ts';
import { type Table, tableOf } from '../table/table.ts';
import { guidedPages, roundEndPages } from './by-hand.ts';
import { FIGURE_STYLE, figureFromAbove, figureFromEnd } from './figures.ts';
import { partSvg } from './part-svg.ts';
import { readingWords, settingTable } from './setting-up.ts';
import { stepTable } from './step-table.ts';
import { PAGE_WIDTH, STYLE } from './style.ts';
import { SURVEY_STYLE } from './survey-pages.ts';
import { harmless } from './svg.ts';
import { barWords, CAUTIONS, datumWords, faceWords, holdWords, holeWords, layOutWords } from './words.ts';

/**
 * The printable sheets of a part: a page for the part, then pages for each setup with its pictures, holding, cutters
 * and the table of places, then what is measured on the way and round ends by hand. One file that needs nothing else,
 * in black and white, for A4 and Letter. `handwork` is the proof of the table, null where it was not made; `estimates` are
 * the pages of the survey (`surveyPages`), none where it was not made.
 */
export const sheetHtml = (
  planned: PlannedPart,
  proof: Proof | null,
  handwork: TableProof | null = null,
  estimates = '',
): string => {
  const { part, plan, profile } = planned;
  const table = tableOf(plan, part.unit, profile);
  const guided = guidedPages(part, plan);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${harmless(part.name)} – setup sheets</title>
<style>${STYLE}${FIGURE_STYLE}${SURVEY_STYLE}</style>
</head>
<body>
${partPage(planned, proof, table, handwork)}
${plan.setups.map((setup) => setupPages(planned, setup, proof, table, handwork)).join('\n')}
${guided}
${roundEndPages(part, plan, guided === '')}
${estimates}
</body>
</html>
`;
};

const partPage = (
  { part, plan, profile, findings }: PlannedPart,
  proof: Proof | null,
  table: Table,
  handwork: TableProof | null,
): string => {
  const doubtful = isDoubtful(table, handwork) ? (handwork?.findings ?? []) : [];
  const said = [
    ...new Set(
      [...findings, ...table.findings, ...doubtful, ...(proof?.findings ?? [])].map((f) => f.message),
    ),
  ];
  const route = plan.setups.map(
    ({ setup, steps }) =>
      `<li>Setup ${setup.number}, ${setup.face} up: ${steps.map((s) => harmless(s.step.name)).join('; ')}.</li>`,
  );
  return `<section>
<h1>${harmless(part.name)}</h1>
<p>Saw the bar to ${harmless(barWords(part))}. Lengths in ${part.unit === 'mm' ? 'millimetres' : 'inches'}. Machine: ${harmless(profile.name)}.</p>
<p class="boxed">${verdictWords(part, proof)}<br>${tableWords(part, table, handwork)}</p>
<figure>${partSvg(part).replace(/<style>[\s\S]*?<\/style>/, '')}<figcaption>${drawingCaption(part)}</figcaption></figure>
<h2>Route</h2>
<ol class="route">${route.join('')}</ol>
${said.length === 0 ? '' : `<h2>To mind</h2><ul>${said.map((m) => `<li>${harmless(m)}</li>`).join('')}</ul>`}
${cautionBox()}
</section>`;
};

const verdictWords = (part: Part, proof: Proof | null): string => {
  if (proof === null) return 'Not proven.';
  const say = (mm: number): string => `${figure(mm, part.unit)} ${unitSign(part.unit)}`;
  return `Read back from the written programs, the part <strong>${proof.verdict}</strong>: deepest gouge ${say(proof.gougeMax_mm)}, most left standing ${say(proof.excessMax_mm)}.`;
};

/** Whether no figure of the table may be printed as if it were good. */
const isDoubtful = (table: Table, handwork: TableProof | null): boolean =>
  table.findings.some((f) => f.severity === 'error') || (handwork !== null && handwork.verdict !== 'fits');

const tableWords = (part: Part, table: Table, handwork: TableProof | null): string => {
  if (isDoubtful(table, handwork)) {
    return '<strong>Do not cut by the tables below:</strong> done row after row by hand, the part does not fit. See “To mind”.';
  }
  if (handwork === null) return 'The tables of places were not done over row after row.';
  const say = (mm: number): string => `${figure(mm, part.unit)} ${unitSign(part.unit)}`;
  const by = table.hand === null ? 'figures' : table.hand.readout ? 'readout' : 'dials';
  return `Done row after row by its ${by}, the table’s part <strong>${handwork.verdict}</strong>: ${handwork.rows} stops, deepest gouge ${say(handwork.gougeMax_mm)}, most left standing ${say(handwork.excessMax_mm)}.`;
};

/** A long part is drawn smaller than it is. */
const drawingCaption = (part: Part): string =>
  part.bar.length < PAGE_WIDTH - 20
    ? 'The finished part from its front, to scale 1:1 when printed at full size.'
    : 'The finished part from its front, not to scale.';

const cautionBox = (): string =>
  `<aside class="cautions"><h2>Cautions</h2><ul>${CAUTIONS.map((c) => `<li>${harmless(c)}</li>`).join('')}</ul></aside>`;

const setupPages = (
  { part, plan, profile }: PlannedPart,
  setup: PlannedSetup,
  proof: Proof | null,
  table: Table,
  handwork: TableProof | null,
): string => {
  const { number, face } = setup.setup;
  const seconds = proof?.setups.find((s) => s.number === number)?.time_s;
  const time =
    seconds === undefined
      ? ''
      : `<p><b>Time.</b> At the programmed feeds ${timeText(seconds)}, by estimate.</p>`;
  return `<section class="setup">
<h1>${harmless(part.name)}: setup ${number}, ${face} up</h1>
<figure>${figureFromAbove(part, setup)}<figcaption>From above. Heavy: the part; long chain: the work as it is now; ${setup.setup.hold.kind === 'vice' ? 'hatched: jaws and packing; fine dashes: parallels and blocks' : 'hatched: what holds it down and stands above it'}; in circles: holes; in squares: where each job step first goes in.</figcaption></figure>
<div class="pair">
<figure>${figureFromEnd(part, setup)}<figcaption>${setup.setup.hold.kind === 'vice' ? 'The vice from its right-hand end.' : 'The plate from its right-hand end.'}</figcaption></figure>
<div>
<p><b>Lie.</b> ${harmless(faceWords(setup, setup === plan.setups[0]))}</p>
<p><b>Datum.</b> ${harmless(datumWords(part, setup))}</p>
<p><b>Hold.</b> ${harmless(holdWords(part, setup))}</p>
${time}
</div>
</div>
<aside class="cautions"><p>${[CAUTIONS[0], CAUTIONS[1], CAUTIONS[3]].map((c) => harmless(c ?? '')).join(' ')}</p></aside>
<h2>Setting zero</h2>
${settingTable(part, setup)}
<h2>Lay out</h2>
${cutterTable(part, setup, table)}
<p>${harmless(layOutWords(part, setup, profile))}</p>
${holeTable(part, setup)}
<h2>Places of the cutter’s centre and tip</h2>
${isDoubtful(table, handwork) ? '<p class="doubtful">These figures are doubtful: do not cut by them.</p>' : ''}
${readingWords(part, table, setup)
  .map((w) => `<p>${harmless(w)}</p>`)
  .join('')}
${setup.steps.map((step, i) => stepTable(part, table, setup, step, i + 1)).join('\n')}
</section>`;
};

const cutterTable = (part: Part, setup: PlannedSetup, { hand }: Table): string => {
  const sign = unitSign(part.unit);
  const feedText = (mm: number): string =>
    part.unit === 'mm' ? String(Math.round(mm)) : (mm / mmPer(part.unit)).toFixed(1);
  const rows = cuttersOf(setup).map((cutter) => {
    const steps = setup.steps.filter((s) => s.cutter === cutter);
    const uses = steps.map((s) => harmless(s.step.name)).join('; ');
    const byHand = cutter.kind === 'tap';
    const speeds = byHand
      ? 'by hand'
      : spread(
          steps.map((s) => s.speed),
          (v) => String(Math.round(v)),
        );
    const feeds = byHand
      ? ''
      : spread(
          steps.map((s) => (isDrilled(s.step.kind) ? s.plungeFeed : s.feed)),
          feedText,
        );
    const turn = (step: PlannedStep): number =>
      isDrilled(step.step.kind) ? secondsATurn(hand!.z, step.plungeFeed) : secondsATurn(hand!.x, step.feed);
    const turns =
      hand === null ? '' : `<td class="n">${byHand ? '' : spread(steps.map(turn), (v) => v.toFixed(1))}</td>`;
    return `<tr><td class="n">${cutter.number}</td><td>${harmless(cutter.name)}</td><td class="n">${speeds}</td><td class="n">${feeds}</td>${turns}<td>${uses}</td><td class="tick"></td></tr>`;
  });
  return `<table><thead><tr><th class="n">Tool</th><th>Cutter</th><th class="n">Turns/min</th><th class="n">Feed ${sign}/min</th>${hand === null ? '' : '<th class="n">s a turn</th>'}<th>For</th><th>✓</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
};

const isDrilled = (kind: string): boolean => kind === 'drill' || kind === 'ream' || kind === 'spot';

/** One figure, or the least and the greatest. */
const spread = (values: readonly number[], say: (value: number) => string): string => {
  const low = say(Math.min(...values));
  const high = say(Math.max(...values));
  return low === high ? low : `${low} to ${high}`;
};

const holeTable = (part: Part, setup: PlannedSetup): string => {
  if (part.holes.length === 0) return '';
  const sign = unitSign(part.unit);
  const rows = part.holes.map((hole, i) => {
    const at = toProgram(setup.frame, { ...hole.centre, z: 0 });
    return `<tr><td class="n">${i + 1}</td><td>${harmless(hole.name)}</td><td class="n">${figure(at.x, part.unit)}</td><td class="n">${figure(at.y, part.unit)}</td><td>${harmless(holeWords(hole, part.unit))}</td></tr>`;
  });
  return `<table><thead><tr><th class="n">Hole</th><th>Name</th><th class="n">X ${sign}</th><th class="n">Y ${sign}</th><th>What</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
};
