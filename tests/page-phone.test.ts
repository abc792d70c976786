import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

const site = openSite();
let page: Page;

beforeAll(async () => {
  page = await site.browser.newPage({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  await page.goto(site.url);
  await page.locator('.drawer-handle').tap();
  await openSample(page, 'Vent latch lever');
  await page.locator('.drawer-handle').tap();
  await untilProven(page);
});

test('nothing reaches past the edge of a phone, in any stage, with the drawer in or out', async () => {
  for (const stage of ['Draw', 'Hold', 'Cut', 'Prove', 'Take away']) {
    await goTo(page, stage);
    for (const state of ['in', 'out']) {
      if (state === 'out') await page.locator('.drawer-handle').tap();
      const wide = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
      expect(wide[0], `${stage}, drawer ${state}`).toBeLessThanOrEqual(wide[1]!);
      const past = await page.evaluate(() =>
        [
          ...document.querySelectorAll(
            '.card button, .card input, .card select, .rail button, .film-controls *',
          ),
        ]
          .filter((e) => !e.closest('.program, .table-scroll, .hidden-words') && !e.matches('.hidden-words'))
          .map((e) => ({
            at: e.getBoundingClientRect(),
            words: e.getAttribute('aria-label') ?? e.textContent,
          }))
          .filter(({ at }) => at.width > 0 && (at.left < -1 || at.right > innerWidth + 1))
          .map(({ words }) => words),
      );
      expect(past, `${stage}, drawer ${state}`).toEqual([]);
      if (state === 'out') await page.locator('.drawer-handle').tap();
    }
  }
});

test('the passes are stepped and a number is changed with a thumb', async () => {
  await goTo(page, 'Cut');
  await page.getByRole('button', { name: 'Pass after' }).tap();
  await page.getByRole('button', { name: 'Pass after' }).tap();
  await page.locator('.frame[data-still="2"][aria-pressed="true"]').waitFor();
  await page.locator('.drawer-handle').tap();
  const depth = page.locator('[data-step^="fork"]').getByLabel(/^Depth of a pass/);
  await depth.tap();
  await depth.fill('1');
  await depth.press('Enter');
  await untilProven(page);
  await expect.poll(() => page.locator('[data-step^="fork"]').textContent()).not.toContain('6 passes');
  await page.locator('.drawer-handle').tap();
});

test('what is pressed with a thumb is large enough for one', async () => {
  await goTo(page, 'Cut');
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('.rail button, .loupe button, .film-controls button, .drawer-handle')]
      .map((e) => ({ at: e.getBoundingClientRect(), words: e.textContent }))
      .filter(({ at }) => at.height < 44 || at.width < 34)
      .map(({ words }) => words),
  );
  expect(small).toEqual([]);
});

test('letters are sixteen pixels or more everywhere', async () => {
  for (const stage of ['Draw', 'Hold', 'Cut', 'Prove', 'Take away']) {
    await goTo(page, stage);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('#desk *')]
        .filter((e) => [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.textContent?.trim()))
        .filter((e) => Number.parseFloat(getComputedStyle(e).fontSize) < 16)
        .map((e) => `${e.tagName} ${e.textContent}`),
    );
    expect(small, stage).toEqual([]);
  }
});
