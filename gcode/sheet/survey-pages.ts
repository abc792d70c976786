import type { Part, Unit } from '../../sketch/part/part.ts';
import { lengthText, mmPer, placeFigure, smallFigure, unitSign } from '../../sketch/part/units.ts';
import type { SurvivalRow } from '../../toolpath/survival/survival-rows.ts';
import { USUAL_LIMITS } from '../../toolpath/survival/verdict.ts';
import { holdCell, ringsCell } from '../survival/cells.ts';
import { exaggerationText, movementCell } from '../survival/movement-words.ts';
import { leftFigures, type Survival } from '../survival/report.ts';
import type { WorstPicture } from '../survival/worst-pictures.ts';
import { ADVICE_STYLE, advicePages, type ShownAdvice } from './advice-pages.ts';
import { MOVEMENT_STYLE, movementFigure } from './movement-figure.ts';
import { STYLE } from './style.ts';
import { harmless } from './svg.ts';
import { CAUTIONS } from './words.ts';

/** The estimates of a survey as pages: what to mind, for each setup its worst pass as a picture and all its passes, and what would be better where that was asked. */
export const surveyPages = (
  part: Part,
  survival: Survival,
  pictures: readonly WorstPicture[],
  better: ShownAdvice | null = null,
): string => {
  const { findings, passes, assumptions, tolerance_mm } = survival;
  const { unit } = part;
  const setups = [...new Set(passes.map((p) => p.setup))];
  const said =
    findings.length === 0
      ? `<p>By these estimates nothing moves more than ${lengthText(tolerance_mm, unit)} under the cutter, no finished wall or floor is left farther off, and the hold bears at least ${USUAL_LIMITS.hold} times the force.</p>`
      : `<ul>${findings.map((f) => `<li>${harmless(f.message)}</li>`).join('')}</ul>`;
  return `<section class="setup survey">
<h1>${harmless(part.name)}: will it survive?</h1>
<p class="boxed"><strong>Every figure on these pages is an estimate</strong>, worked out from the written programs, pass by pass, on the stock as it then is. They stand beside trained practice and never in place of it.</p>
<h2>To mind</h2>
${said}
<aside class="cautions"><p>${[CAUTIONS[0], CAUTIONS[1], CAUTIONS[2], CAUTIONS[4]].map((c) => harmless(c ?? '')).join(' ')}</p></aside>
<h2>What the estimates take for granted</h2>
<ul class="legend">${assumptions.map((a) => `<li>${harmless(a)}</li>`).join('')}</ul>
${squeezeTable(survival, unit)}
</section>
${setups
  .map(
    (setup) => `<section class="setup survey">
<h1>${harmless(part.name)}: estimates for setup ${setup}</h1>
${pictures
  .filter((p) => p.setup === setup)
  .map(figureOf)
  .join('')}
${passTable(
  setup,
  { unit, tolerance: tolerance_mm },
  passes.filter((p) => p.setup === setup),
)}
</section>`,
  )
  .join('\n')}
${better === null ? '' : advicePages(part, better)}`;
};

/** The same as a file of its own, in black and white, for A4 and Letter. */
export const surveyHtml = (
  part: Part,
  survival: Survival,
  pictures: readonly WorstPicture[],
  better: ShownAdvice | null = null,
): string => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${harmless(part.name)} – estimates</title>
<style>${STYLE}${SURVEY_STYLE}</style>
</head>
<body>
${surveyPages(part, survival, pictures, better).replace('class="setup survey"', 'class="survey"')}
</body>
</html>
`;

const figureOf = ({ setup, pass, picture, words }: WorstPicture): string =>
  `<figure>${movementFigure(picture, `movement-${setup}`)}<figcaption><b>${harmless(pass)}: the most that the work moves in this setup, by estimate; ${harmless(exaggerationText(picture.exaggeration))}.</b> The upper view is from above, the lower from the edge nearest you. Heavy: the work bent; fine dashes: at rest; thin lines with figures: equal movement, ${unitSign(picture.unit)}; hatched: jaws or plate; dotted rings: what presses it on the plate; chain: the cutter; arrow: its push. ${[words.moves, words.push, words.lie, words.loose ?? ''].map(harmless).join(' ').trim()}</figcaption></figure>`;

/** What a table of passes is printed by: the unit of its lengths, and the most that is allowed, mm. */
interface TableTerms {
  readonly unit: Unit;
  readonly tolerance: number;
}

const headsIn = (unit: Unit): readonly (readonly [string, string])[] => {
  const sign = unitSign(unit);
  return [
    ['Force', 'N'],
    ['Power', 'W'],
    ['Moves', sign],
    ['Wall', sign],
    ['Floor', sign],
    ['Web', sign],
    ['Hold', '×'],
    ['Rings', 'Hz'],
    ['Teeth', 'Hz'],
  ];
};

/** One setup's passes; its heads stand again at the top of each page. */
const passTable = (setup: number, terms: TableTerms, rows: readonly SurvivalRow[]): string => {
  const named = headsIn(terms.unit);
  const heads = named.map(([name, unit]) => `<th class="n" scope="col">${name}<br>${unit}</th>`).join('');
  let step = '';
  const body = rows.map((row) => {
    const group =
      row.step === step
        ? ''
        : `<tr class="group"><td colspan="${named.length + 2}">${harmless(row.step)}</td></tr>`;
    ({ step } = row);
    return `${group}${rowOf(row, terms)}`;
  });
  return `<table class="estimates"><thead>
<tr><th class="title" colspan="${named.length + 2}">Setup ${setup}: estimates for every pass</th></tr>
<tr><th scope="col">Pass</th>${heads}<th scope="col">Moves most at</th></tr>
</thead><tbody>${body.join('')}</tbody></table>
<p class="legend">Force: the greatest on the work, along the drill where it drills. Moves: of the work under the cutter; wall and floor: what the pass leaves on those of the finished part, the cutter’s own bending included; none where it leaves an allowance. Web: the least left under the pass. Hold: how many times over the hold bears the force. Rings: the lowest frequency of the work as it is held; &gt; 20k: above 20 kHz, where no tooth comes by so often; teeth: how often one does. <strong>Heavy with !</strong>: beyond ${lengthText(terms.tolerance, terms.unit)} or under ${USUAL_LIMITS.hold} times. ≈: by closed forms, not solved.</p>`;
};

const rowOf = (row: SurvivalRow, { unit, tolerance }: TableTerms): string => {
  const pass = row.pass.startsWith(`${row.step}, `) ? row.pass.slice(row.step.length + 2) : row.pass;
  const force = Math.max(row.force_N, row.thrust_N);
  const near = row.basis === 'solved' ? '' : '≈ ';
  const moves = row.movement_mm;
  const [wall, floor] = leftFigures(row);
  const error = (mm: number | null): string =>
    mm === null ? '–' : marked(`${near}${movementCell(mm, unit)}`, near === '' && mm > tolerance);
  const cells = [
    force > 0 ? String(force) : '–',
    force > 0 ? String(row.power_W) : '–',
    moves === null ? '–' : marked(`${near}${movementCell(moves, unit)}`, moves > tolerance),
    error(wall),
    error(floor),
    row.webLeft_mm === null ? '–' : (row.webLeft_mm / mmPer(unit)).toFixed(unit === 'mm' ? 2 : 3),
    row.holdFactor === null
      ? '–'
      : marked(harmless(holdCell(row.holdFactor)), row.holdFactor < USUAL_LIMITS.hold),
    harmless(ringsCell(row.frequency_Hz)),
    force > 0 ? String(row.toothPassing_Hz) : '–',
  ];
  return `<tr><th scope="row">${harmless(pass)}</th>${cells.map((c) => `<td class="n">${c}</td>`).join('')}<td>${placeOf(row, unit)}</td></tr>`;
};

const FOOTING: Readonly<Record<Exclude<SurvivalRow['footing'], 'held'>, string>> = {
  'no force': 'no force worth a figure',
  'nothing in the jaws': '<strong>! nothing holds it</strong>',
  'not held': '<strong>! not held</strong>',
};

const placeOf = (row: SurvivalRow, unit: Unit): string => {
  if (row.footing !== 'held') return FOOTING[row.footing];
  if (row.at_mm === null) return '';
  const at = `X ${placeFigure(row.at_mm[0], unit)} Y ${placeFigure(row.at_mm[1], unit)}`;
  return row.place === null ? at : `${harmless(row.place)}, ${at}`;
};

const marked = (text: string, beyond: boolean): string => (beyond ? `<strong>${text} !</strong>` : text);

/** What the jaws do to the work; nothing where it was not worked out. */
const squeezeTable = ({ squeeze }: Survival, unit: Unit): string => {
  const sign = unitSign(unit);
  const rows = squeeze.flatMap(({ setup, before, after }) =>
    (
      [
        ['as it is put in', before],
        ['when it is done', after],
      ] as const
    ).flatMap(([when, figures]) =>
      figures === null
        ? []
        : [
            `<tr><td>Setup ${setup}, ${when}</td><td class="n">${smallFigure(figures.bow_mm, unit)}</td><td class="n">${smallFigure(figures.jawsCloser_mm, unit)}</td><td>${figures.forks.map((f) => `${harmless(f.name)} ${f.closes_mm < 0 ? 'opens' : 'closes'} ${smallFigure(Math.abs(f.closes_mm), unit)}`).join('; ')}</td></tr>`,
          ],
    ),
  );
  return rows.length === 0
    ? ''
    : `<section class="squeeze"><h2>What the done-up jaws do to the work, by estimate</h2>
<table class="estimates"><thead><tr><th>When</th><th class="n">Bows<br>${sign}</th><th class="n">Jaws nearer<br>${sign}</th><th>Forks, ${sign}</th></tr></thead><tbody>${rows.join('')}</tbody></table></section>`;
};

export const SURVEY_STYLE = `${MOVEMENT_STYLE}${ADVICE_STYLE}
.estimates { font-size: 9.5pt; line-height: 1.2; }
.estimates th, .estimates td { padding: 0.6mm 1.2mm; }
.estimates th[scope="row"] { font-weight: normal; white-space: nowrap; }
.estimates tr.group td { border-bottom: 0; padding-top: 1.5mm; }
.legend { font-size: 9pt; line-height: 1.25; }
.squeeze { break-inside: avoid; }
.survey svg.movement { display: block; margin: 0 0 2mm; }
`;
