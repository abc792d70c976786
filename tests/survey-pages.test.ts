import { beforeAll, describe, expect, test } from 'vitest';
import { planPart, survivalQuestion, survive, writePrograms } from '../gcode/chain.ts';
import { sheetHtml } from '../gcode/sheet/sheet.ts';
import { surveyHtml, surveyPages } from '../gcode/sheet/survey-pages.ts';
import type { Advice, Survival } from '../gcode/survival/report.ts';
import { ON_PAPER, type WorstPicture, worstPictures } from '../gcode/survival/worst-pictures.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

/** The estimates on paper. */

const text = sampleText('vent-latch-lever').replace('"name": "fork"', '"name": "fork <b>&"');
const planned = planPart(text);
if (!planned.ok) throw new Error('the sample is refused');
const { part } = planned;
const TERMS = { cell: 0.3, brick: 2, frequency: false, places: 1 } as const;
let survival: Survival;
let pictures: readonly WorstPicture[];

beforeAll(() => {
  const programs = writePrograms(part, planned.plan, planned.profile);
  const asked = survivalQuestion(planned, programs);
  const solved = (i: number): boolean => asked.passes[i]!.step.startsWith('thin') || i === 7;
  survival = survive(planned, programs, { ...TERMS, only: solved });
  pictures = worstPictures(asked, TERMS, surviveRoute(asked, { ...TERMS, only: solved }), ON_PAPER, 'mm');
});

const count = (html: string, what: string | RegExp): number => html.split(what).length - 1;

describe('The estimates on paper', () => {
  test('say that they are estimates at the head, in every table’s repeated head and at every picture', () => {
    const html = surveyPages(part, survival, pictures);
    expect(html).toContain('Every figure on these pages is an estimate');
    const heads = html.match(/<thead>[\s\S]*?<\/thead>/g) ?? [];
    expect(heads.filter((h) => h.includes('estimates for every pass'))).toHaveLength(2);
    expect(count(html, 'by estimate; drawn')).toBe(2);
    const page = surveyHtml(part, survival, pictures);
    // Heads stand again over each page, and a row or a picture is never parted.
    expect(page).toMatch(/thead \{ display: table-header-group; \}/);
    expect(page).toMatch(/tr \{ break-inside: avoid; \}/);
    expect(page).toMatch(/figure \{[^}]*break-inside: avoid; \}/);
    // One page of paper for each setup, and the first begins at once.
    expect(count(page, 'class="setup survey"')).toBe(2);
  });

  test('have a row for every pass, with the figures of the survey, and mark what is beyond the limits', () => {
    const html = surveyPages(part, survival, pictures);
    expect(count(html, '<th scope="row">')).toBe(survival.passes.length);
    const thin = survival.passes.find((p) => p.step === 'thin body from the back' && p.movement_mm! > 0.02)!;
    expect(html).toContain(`<strong>${thin.movement_mm!.toFixed(3)} !</strong>`);
    const quiet = survival.passes.find(
      (p) => p.basis === 'closed form' && p.movement_mm !== null && p.movement_mm < 0.02,
    )!;
    expect(html).toContain(`<td class="n">≈ ${quiet.movement_mm!.toFixed(3)}</td>`);
    expect(html).toContain('no force worth a figure');
    for (const { message } of survival.findings)
      expect(html).toContain(message.replace(/[<&].*/, '').slice(0, 30));
    for (const sentence of survival.assumptions) expect(html).toContain(sentence.slice(0, 40));
    expect(html).toMatch(/eye protection/i);
    expect(html).toContain('What the done-up jaws do to the work, by estimate');
  });

  test('show the pass of each setup in which the work moves most', () => {
    expect(pictures.map((p) => p.setup)).toEqual([1, 2]);
    for (const { setup, pass } of pictures) {
      const rows = survival.passes.filter((p) => p.setup === setup && p.movement_mm !== null);
      const most = Math.max(...rows.map((p) => p.movement_mm!));
      expect(rows.find((p) => p.pass === pass)!.movement_mm).toBe(most);
    }
    const html = surveyPages(part, survival, pictures);
    expect(count(html, '<svg class="movement"')).toBe(4);
    // A style of its own: the sheet's rules for all its figures leave paths without a fill.
    expect(
      count(html, /<path class="m-jaw" [^>]*style="fill:url\(#movement-\d-(?:above|edge)-hatch\)"/),
    ).toBe(6);
    // Black lines on white: nothing in the pictures needs a hue.
    const drawings = html.match(/<svg class="movement"[\s\S]*?<\/svg>/g)!.join('');
    expect(drawings.match(/#[0-9a-f]{3,6}\b/gi)!.every((hue) => /^#(000|fff)$/i.test(hue))).toBe(true);
  });

  test('are part of the sheet where they were made, and names from the part stay text', () => {
    const pages = surveyPages(part, survival, pictures);
    const sheet = sheetHtml(planned, null, null, pages);
    expect(sheet).toContain('will it survive?');
    expect(sheet.indexOf('will it survive?')).toBeGreaterThan(sheet.indexOf('setup 2, back up'));
    expect(sheetHtml(planned, null)).not.toContain('will it survive?');
    expect(pages).not.toContain('fork <b>');
    expect(pages).toContain('fork &lt;b&gt;&amp;');
  });
});

describe('What would be better, on paper', () => {
  const order = (name: string, released: number) => ({
    ...{ name, alike: [], refused: null, time_s: 600, movement_mm: 0.3191, tine_mm: 0.0005 },
    ...{ forkCloses_mm: 0.0045, forkReleased_mm: released, holdFactor: 3.42 },
  });
  const advice: Advice = {
    route: { adjust: { outline: { stepDown: 1 } } },
    reasons: ['fork <b>&: with the 0.5 mm web a tine moves about 0.001 mm.'],
    kept: ['the order of the job steps'],
    left: ['thin body: peeled, buried by 30° at most, it would take about 174 min.'],
    why: ['While its web is released they hold it closed by about 0.037 mm.'],
    limits: [
      {
        step: 'outline',
        movement_mm: 0.001,
        angle_deg: null,
        cutter: null,
        says: 'outline: no limit is needed.',
      },
    ],
    ...{ movement_mm: 0.02, time_s: 1800, enough: true },
    orders: [order('as it is', 0.083), order('webs released <early>', 0)],
  };

  test('stands after the setups: reasons, what was left, limits, and the orders with their pictures side by side', () => {
    const [{ picture }] = pictures as [WorstPicture];
    const figures = ['as it is', 'webs released <early>'].map((name) => ({
      ...{ order: name, words: 'as fork is cut, the jaws hold it closed by about 0.004 mm' },
      view: picture.views[0],
    }));
    const { exaggeration, step, unit, bands, letter } = picture;
    const group = { by: 'jaws', exaggeration, step, unit, bands, letter, figures } as const;
    const html = surveyPages(part, survival, pictures, { advice, pictures: [group] });
    const page = html.slice(html.indexOf('what would be better?'));
    expect(html.indexOf('what would be better?')).toBeGreaterThan(
      html.lastIndexOf('estimates for every pass'),
    );
    expect(page).toContain('Every figure on this page is an estimate');
    expect(page).toContain('fork &lt;b&gt;&amp;: with the 0.5 mm web');
    for (const text of [
      'the order of the job steps',
      'buried by 30° at most',
      'no limit is needed',
      'about 0.037 mm',
    ])
      expect(page).toContain(text);
    expect(page).toContain('<td class="n">0.319</td>');
    // An order without a web has none to go.
    expect(count(page, '<td class="n">–</td>')).toBe(1);
    expect(count(page, '<figure><svg class="movement"')).toBe(2);
    expect(count(page, 'webs released &lt;early&gt;')).toBe(2);
    expect(surveyHtml(part, survival, pictures, { advice, pictures: [group] })).toMatch(
      /order-gallery \{ break-inside: avoid; \}/,
    );
    // Never asked, never said.
    expect(surveyPages(part, survival, pictures)).not.toContain('what would be better?');
  });
});
