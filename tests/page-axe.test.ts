import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** Every stage of the built page, searched by axe-core's rules for what shuts somebody out. */
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const site = openSite();

const STAGES = ['Draw', 'Hold', 'Cut', 'Prove', 'Take away'] as const;
const DESK = { width: 1440, height: 900 };
const PHONE = { width: 390, height: 844 };

/**
 * Of targets that stand too close, those the standard excuses (WCAG 2.2, 2.5.8): handles and figures stand on the
 * drawing where what they mean lies, like pins on a map, and all that they do can be done by the fields of the card.
 * They must be large enough by themselves all the same. What a pointer goes right through is no target at all.
 */
const isExcused = (targets: readonly string[]): readonly string[] =>
  targets.filter((t) => {
    const element = document.querySelector(t);
    if (!element) return false;
    if (getComputedStyle(element).pointerEvents === 'none') return true;
    const box = element.getBoundingClientRect();
    return element.matches('[data-handle], [data-measure]') && box.width >= 24 && box.height >= 24;
  });

/** What axe finds on the page as it stands, as lines that say rule, place and why. */
const violations = async (page: Page): Promise<readonly string[]> => {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE);
  const results = (await page.evaluate(
    // Best practices are asked for as well as the standard's levels A and AA.
    "axe.run(document, { resultTypes: ['violations'], runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })",
  )) as AxeResults;
  const targets = results.violations.flatMap((v) =>
    v.id === 'target-size' ? v.nodes.map((n) => n.target.join(' ')) : [],
  );
  const excused = await page.evaluate(isExcused, targets);
  return results.violations.flatMap((v) =>
    v.nodes
      .filter((n) => v.id !== 'target-size' || !excused.includes(n.target.join(' ')))
      .map((n) => `${v.id}: ${n.target.join(' ')} – ${n.failureSummary?.split('\n')[1]?.trim() ?? v.help}`),
  );
};

const pickFeature = async (page: Page): Promise<void> => {
  await page.locator('[data-feature] input').first().focus();
};

test.each([
  { scheme: 'light', size: DESK },
  { scheme: 'dark', size: DESK },
  { scheme: 'light', size: PHONE },
  { scheme: 'dark', size: PHONE },
] as const)('axe finds nothing in any stage, $scheme, $size.width wide', async ({ scheme, size }) => {
  const phone = size === PHONE;
  const page = await site.browser.newPage({ viewport: size, colorScheme: scheme, hasTouch: phone });
  const drawer = page.locator('.drawer-handle');
  await page.goto(site.url);
  if (phone) await drawer.click();
  await openSample(page, 'Winch bell crank');
  await untilProven(page);
  const found: string[] = [];
  const look = async (where: string): Promise<void> => {
    found.push(...(await violations(page)).map((v) => `${where}: ${v}`));
  };
  for (const stage of STAGES) {
    await goTo(page, stage);
    if (stage === 'Draw') await pickFeature(page);
    await look(`${stage}, card out`);
    if (!phone) continue;
    await drawer.click();
    await look(`${stage}, card in`);
    await drawer.click();
  }
  expect(found).toEqual([]);
  await page.close();
});

test('a tool in hand, a card unfolded, a view from outside and a wrong figure are no trouble either', async () => {
  const page = await site.browser.newPage({ viewport: DESK });
  await page.goto(site.url);
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await page.getByLabel('What the second view shows').selectOption('edge');
  await page.locator('[data-tool="end"]').click();
  for (const fold of await page.locator('.card details:not([open]) > summary').all()) await fold.click();
  expect(await violations(page)).toEqual([]);
  await page.locator('[data-tool="end"]').click();
  const field = page.getByLabel('Dimension wide', { exact: true });
  await field.fill('seven');
  await field.press('Enter');
  await page.locator('.figure', { has: field }).getByRole('alert').waitFor();
  expect(await violations(page)).toEqual([]);
  await page.close();
});

test('a new part is no trouble: its card, and the empty bar', async () => {
  const page = await site.browser.newPage({ viewport: DESK, colorScheme: 'dark' });
  await page.goto(site.url);
  await untilProven(page);
  await page.getByRole('button', { name: 'New', exact: true }).click();
  expect(await violations(page)).toEqual([]);
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.locator('.first-hint').waitFor();
  for (const stage of STAGES) {
    await goTo(page, stage);
    expect(await violations(page), stage).toEqual([]);
  }
  await page.close();
});

test.each([DESK, PHONE])(
  'what holds the work is no trouble either, whatever is chosen, $width wide',
  async (size) => {
    const page = await site.browser.newPage({ viewport: size });
    await page.goto(site.url);
    if (size === PHONE) await page.locator('.drawer-handle').click();
    await openSample(page, 'Vent latch lever');
    await untilProven(page);
    await goTo(page, 'Hold');
    await page.locator('.machine summary').click();
    await page.getByLabel('How hard the vice is done up').selectOption('to a known force');
    const modulus = page.getByLabel(/^Young’s modulus of/);
    await modulus.fill('71000');
    await modulus.press('Enter');
    await page.getByText('back to the usual', { exact: false }).first().waitFor();
    await page.getByRole('button', { name: 'put a block under what juts out, setup 2' }).click();
    expect(await violations(page)).toEqual([]);
    for (const way of ['tape', 'screws', 'clamps']) {
      await page.getByLabel('What holds setup 1').selectOption(way);
      await untilProven(page);
      expect(await violations(page), way).toEqual([]);
      const wide = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
      expect(wide[0], way).toBeLessThanOrEqual(wide[1]!);
    }
    await page.close();
  },
);

test('axe is really asked: a picture without words is found', async () => {
  const page = await site.browser.newPage({ viewport: DESK });
  await page.goto(site.url);
  await page.evaluate(() => {
    const img = document.createElement('img');
    img.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw==';
    document.querySelector('#desk')?.append(img);
  });
  expect((await violations(page)).join()).toContain('image-alt');
  await page.close();
});
