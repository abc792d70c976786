import type { Part, Unit } from '../../sketch/part/part.ts';
import { plain, smallFigure, unitSign } from '../../sketch/part/units.ts';
import { exaggerationText } from '../survival/movement-words.ts';
import type { OrderPictures } from '../survival/order-pictures.ts';
import { orderName } from '../survival/order-words.ts';
import type { Advice } from '../survival/report.ts';
import { viewFigure } from './movement-figure.ts';
import { harmless } from './svg.ts';

/** What would be better, and the pictures of what tells the orders apart. */
export interface ShownAdvice {
  readonly advice: Advice;
  readonly pictures: readonly OrderPictures[];
}

/** What would be better as a page of the survey: the reasons, the orders side by side, and a picture of each moment that tells them apart. */
export const advicePages = ({ name, unit }: Part, { advice, pictures }: ShownAdvice): string => {
  const { route, reasons, kept, left, limits } = advice;
  return `<section class="setup survey">
<h1>${harmless(name)}: what would be better?</h1>
<p class="boxed"><strong>Every figure on this page is an estimate.</strong> Nothing of it is in the programs and tables of these sheets: it is for the next making.</p>
${route === null ? '<p>The route may stay as it is.</p>' : ''}${listOf(reasons)}
${kept.length > 0 ? `<p>Your own choices were left alone: ${harmless(kept.join('; '))}.</p>` : ''}
${left.length > 0 ? `<h2>Tried as well, and left</h2>${listOf(left)}` : ''}
${limits.length > 0 ? `<h2>How deep the cutter may be buried, the route as it is</h2>${listOf(limits.map((l) => l.says))}` : ''}
${ordersTable(advice, unit)}
${pictures.map((group, i) => galleryOf(group, i)).join('')}
</section>`;
};

const listOf = (sentences: readonly string[]): string =>
  sentences.length === 0 ? '' : `<ul>${sentences.map((s) => `<li>${harmless(s)}</li>`).join('')}</ul>`;

/** One order beside the other; an order that has no other is not said. */
const ordersTable = ({ orders, why }: Advice, unit: Unit): string => {
  const said = why.map((sentence) => `<p>${harmless(sentence)}</p>`).join('');
  if (orders.length < 2) return said;
  const sign = unitSign(unit);
  const small = (mm: number): string => (mm > 0 ? smallFigure(mm, unit) : '–');
  const heads = [
    `Moves<br>${sign}`,
    `Tine<br>${sign}`,
    `Fork closes, cut<br>${sign}`,
    `web goes<br>${sign}`,
    'Hold<br>×',
    'Time<br>min',
  ];
  const rows = orders.map((o) => {
    const cells =
      o.refused === null
        ? [
            ...[o.movement_mm, o.tine_mm, o.forkCloses_mm, o.forkReleased_mm].map(small),
            o.holdFactor === null ? '–' : o.holdFactor.toFixed(1),
            plain(o.time_s / 60, 0),
          ]
            .map((cell) => `<td class="n">${cell}</td>`)
            .join('')
        : `<td colspan="${heads.length}">${harmless(o.refused)}</td>`;
    return `<tr><td>${harmless(orderName(o))}</td>${cells}</tr>`;
  });
  return `<table class="estimates"><thead>
<tr><th class="title" colspan="${heads.length + 1}">Orders side by side, by estimate</th></tr>
<tr><th scope="col">Order</th>${heads.map((head) => `<th class="n" scope="col">${head}</th>`).join('')}</tr>
</thead><tbody>${rows.join('')}</tbody></table>
${said}`;
};

const TITLES: Readonly<Record<OrderPictures['by'], string>> = {
  jaws: 'What the jaws make of the fork in each order',
  cutter: 'Where the work moves most in each order',
};

/** Two pictures side by side, all to one scale. */
const galleryOf = (
  group: OrderPictures,
  at: number,
): string => `<div class="order-gallery"><h2>${TITLES[group.by]}</h2>
<p class="legend">From above, by estimate; bending ${harmless(exaggerationText(group.exaggeration))} in all of them. Heavy: the work bent; fine dashes: at rest; thin lines with figures: equal movement, ${unitSign(group.unit)}.</p>
<div class="order-figures">${group.figures
  .map(
    ({ order, words, view }, i) =>
      `<figure>${viewFigure(view, `order-${at}-${i}`)}<figcaption><b>${harmless(order)}</b>: ${harmless(words)}.</figcaption></figure>`,
  )
  .join('')}</div></div>
`;

export const ADVICE_STYLE = `
.order-gallery { break-inside: avoid; }
.order-figures { display: grid; grid-template-columns: 1fr 1fr; gap: 2mm 6mm; }
.order-figures figure { margin: 0; }
.order-figures figcaption { font-size: 9pt; }
`;
