import type { Part } from '../../sketch/part/part.ts';
import { degrees, lengthText, plain } from '../../sketch/part/units.ts';
import type { Plan } from '../../toolpath/passes/pass.ts';
import { figure, unitSign } from '../table/figures.ts';
import { lengthJobOf, thicknessJobsOf } from '../table/guided.ts';
import { firstEnd, SLIP } from '../table/measured.ts';
import type { NibbleTable } from '../table/nibble.ts';
import {
  type ArmByHand,
  armsByHand,
  type Choice,
  COMMON_ROTARY,
  type RoundEndByHand,
  roundEndsByHand,
} from '../table/round-ends.ts';
import { swivelWords } from '../table/sine-bar.ts';
import { cuspFigure } from './cusp-figure.ts';
import { harmless } from './svg.ts';

/** What is measured on the way, with blanks to fill in; empty where nothing is. */
export const guidedPages = (part: Part, plan: Plan): string => {
  const items = [lengthBlock(part, plan), ...thicknessBlocks(part, plan)].filter((s) => s !== '');
  return items.length === 0
    ? ''
    : `<section class="setup"><h1>${harmless(part.name)}: measured on the way</h1>${items.join('\n')}</section>`;
};

const BLANK = '<span class="blank"></span>';

const lengthBlock = (part: Part, plan: Plan): string => {
  const found = lengthJobOf(part, plan);
  if (found === null) return '';
  const { job, setup } = found;
  const first = firstEnd(job, part.unit);
  if (!first.ok) return '';
  const say = (mm: number): string => `${figure(mm, part.unit)} ${unitSign(part.unit)}`;
  const half = job.cutter / 2;
  return `<div class="guide"><h2>Squaring to length ${say(job.length)} (setup ${setup}, ${harmless(found.step)})</h2>
<ol>
<li>Face the first end with the side of the cutter: take ${say(first.result.take)}, no more than ${say(job.deepest)} at once. The bar must still measure ${say(first.result.keep)} or more.</li>
<li>Turn the bar end for end against the stop, or go round to the other end, and clean that end with a light cut. Leave the cutter where it stands. Stop the spindle.</li>
<li>Measure the length: L = ${BLANK}. It must lie between ${say(job.length)} and ${say(job.sawn)}.</li>
<li>Set the readout to L + ${say(half)} (half the cutter) = ${BLANK}, with X zero at the first end.</li>
<li>Cut to X ${say(job.length + half)}: no deeper than ${say(job.deepest)} at once, the last cut ${say(job.last)}.</li>
<li>Measure again: ${BLANK}; wanted ${say(job.length)}.</li>
</ol></div>`;
};

const thicknessBlocks = (part: Part, plan: Plan): readonly string[] =>
  thicknessJobsOf(part, plan).map(({ setup, step, after, job }) => {
    const say = (mm: number): string => `${figure(mm, part.unit)} ${unitSign(part.unit)}`;
    const offset = job.wanted - job.floor;
    return `<div class="guide"><h2>Thickness measured after roughing (setup ${setup}, ${harmless(step)})</h2>
<ol>
<li>After pass ${after} leave the cutter on the floor it roughed, stop the spindle, brush the chips off.</li>
<li>Measure the thickness there: T = ${BLANK}; it should be ${say(job.planned)}. Under ${say(job.wanted)}, or more than ${say(SLIP)} off: stop and find out why.</li>
<li>Set Z to T − ${say(offset)} = ${BLANK}. The floor wanted is then at Z ${say(job.floor)}.</li>
<li>What is left is T − ${say(job.wanted)} = ${BLANK}. No cut deeper than ${say(job.deepest)}, the last ${say(job.last)}; down to Z ${say(job.floor)}.</li>
<li>Measure again: ${BLANK}; wanted ${say(job.wanted)}.</li>
</ol></div>`;
  });

/** Round ends in three ways and slanting arms in three; empty where there are none. On a new page, or after others. */
export const roundEndPages = (part: Part, plan: Plan, newPage: boolean): string => {
  const ends = roundEndsByHand(part, plan);
  const arms = armsByHand(part, plan);
  if (ends.length === 0 && arms.length === 0) return '';
  const setup = ends[0]?.setup ?? arms[0]?.setup ?? 1;
  return `<section class="${newPage ? 'setup' : 'follows'}"><h1>${harmless(part.name)}: round ends and slanting sides by hand</h1>
<p>Places are the cutter’s centre in setup ${setup}, for the finished edge; each figure is one stop, at full depth or level by level. Go from stop to stop clear of the edge. What the cusps leave is filed off.</p>
${ends.map((end) => endBlock(part, end)).join('\n')}
${arms.map((arm) => armBlock(part, arm)).join('\n')}
</section>`;
};

const endBlock = (part: Part, by: RoundEndByHand): string => {
  const { unit } = part;
  const say = (mm: number): string => figure(mm, unit);
  const sign = unitSign(unit);
  const { edge, nibble, rotary, buttons, cutter } = by;
  const angle = (radians: number): string => `${plain(degrees(radians), 2)}°`;
  const lines: string[] = [];
  if (rotary !== null) {
    const passes = rotary.passes
      .map(
        (p) =>
          `${rotary.axis} ${say(p.offset)} (leaves ${say(p.leave)}; ${plain(degrees(p.feed), 0)}° a minute, ${Math.round(p.secondsPerTurn)} s a turn of its handwheel)`,
      )
      .join(', ');
    lines.push(
      `<p><b>Rotary table.</b> Bring X ${say(edge.centre.x)}, Y ${say(edge.centre.y)} of the work over the table’s centre, the work square at 0°. Cutter off centre by ${passes}. Take the slack up from ${angle(rotary.before)}, cut from ${angle(rotary.start)} to ${angle(rotary.stop)}: the work turns ${rotary.turn} by ${angle(rotary.sweep)}, ${plain(rotary.handTurns, 2)} turns of a table with ${COMMON_ROTARY.ratio} to one whose figures rise as the work turns ${COMMON_ROTARY.figuresRise}.</p>`,
    );
  }
  if (buttons !== null) {
    lines.push(
      `<p><b>Filing buttons.</b> A pair ⌀ ${say(buttons.diameter)} with a hole ⌀ ${say(buttons.hole)}, ${say(buttons.thickness)} ${sign} thick or more, hardened; pinned one each side.</p>`,
    );
  }
  const findings = by.findings.map((f) => `<p>${harmless(f.message)}</p>`).join('');
  return `<div class="hand"><h2>${harmless(by.end.name)}: radius ${lengthText(edge.radius, unit)}, ${harmless(cutter.name)}</h2>
<p class="prefer">${harmless(by.prefer)}</p>
${nibble === null ? '' : `<div class="pair nibble"><div>${choiceTable(part, by.choices)}${stopTable(part, nibble, 2)}</div>${cuspFigure(part, by)}</div>`}
${lines.join('')}${findings}</div>`;
};

const choiceTable = (part: Part, choices: readonly Choice[]): string =>
  `<p><b>Nibbling.</b> Stops for cusps of ${choices.map((c) => `${lengthText(c.wanted, part.unit)}: <b>${c.stops}</b>`).join('; ')}.</p>`;

/** Stops in columns, so that a hundred figures do not take a page. */
const stopTable = (part: Part, { stops, cusp }: NibbleTable, columns: number): string => {
  const deep = Math.ceil(stops.length / columns);
  const rows = Array.from({ length: deep }, (_, i) => {
    const cells = Array.from({ length: columns }, (_unused, c) => {
      const stop = stops[c * deep + i];
      return stop === undefined
        ? '<td></td><td></td><td></td><td></td>'
        : `<td class="n">${stop.number}</td><td class="n">${figure(stop.at.x, part.unit)}</td><td class="n">${figure(stop.at.y, part.unit)}</td><td class="tick"></td>`;
    });
    return `<tr>${cells.join('')}</tr>`;
  });
  const head = '<th class="n">Stop</th><th class="n">X</th><th class="n">Y</th><th>✓</th>'.repeat(columns);
  return `<table class="stops"><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table><p>${stops.length} stops leave cusps of ${lengthText(cusp, part.unit)}.</p>`;
};

const armBlock = (part: Part, arm: ArmByHand): string => {
  const bar = part.unit === 'mm' ? '100 mm' : '5 in';
  const sides = arm.sides.map((side) => {
    const stack =
      side.sine === null
        ? ''
        : ` Sine bar of ${bar}: blocks of ${lengthText(side.sine.stack, part.unit)}${Math.abs(side.angle) > Math.PI / 4 ? ', set against Y' : ''}.`;
    const stepped = `Stepped with the ${harmless(arm.cutter.name)}: ${side.choices.map((c) => `${c.stops} stops leave ${lengthText(c.cusp, part.unit)}`).join(', ')}.`;
    const stops = side.nibble === null ? '' : stopTable(part, side.nibble, 4);
    return `<p><b>Side ${side.side} of the way: ${plain(degrees(side.angle), 3)}° against X.</b> Swivel the vice or the work to ${swivelWords(side.swivel)}.${stack} ${stepped}</p>${stops}`;
  });
  return `<div class="hand"><h2>${harmless(arm.name)}: sides aslant</h2>
<p class="prefer">Prefer turning the work by the angle and milling along X in one pass: a straight side needs no file. Step it only where the vice cannot be turned.</p>${sides.join('')}</div>`;
};
