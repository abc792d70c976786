import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** The estimates on the page: asked for, watched, stopped, and read beside the passes they are for. */

const site = openSite();

const openProve = async (sample: string): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(site.url);
  await openSample(page, sample);
  await untilProven(page);
  await goTo(page, 'Prove');
  return page;
};

const begin = (page: Page): Promise<void> =>
  page.getByRole('button', { name: 'Estimate force, bending and hold' }).click();

test('first all passes by closed forms, then solved one by one; a row shows its pass', async () => {
  const page = await openProve('Vent latch lever');
  await begin(page);
  const rows = page.locator('.pass-table tbody tr[data-pass]');
  await rows.first().waitFor();
  const count = await rows.count();
  expect(count).toBeGreaterThan(15);
  await page.waitForFunction(() => !document.querySelector('.survey-progress'), null, { timeout: 400_000 });
  expect(await rows.count()).toBe(count);
  const movements = await rows.evaluateAll((all) => all.map((r) => r.children[2]?.textContent ?? ''));
  expect(movements.filter((m) => m !== '–').every((m) => /^(≈ )?\d+\.\d{3}$/.test(m))).toBe(true);
  // Most of what cuts is solved, not estimated.
  expect(movements.filter((m) => /^\d/.test(m)).length).toBeGreaterThan(count / 3);
  expect(await page.locator('.pass-plots canvas').count()).toBe(4);
  // The thin body moves while it is thinned: told with a number, and as an estimate.
  expect(await page.locator('.survive').textContent()).toMatch(/moves about \d\.\d{3} mm/);
  await rows.nth(10).getByRole('button').click();
  expect(await rows.nth(10).getAttribute('aria-current')).toBe('step');
  await page.close();
});

test('it is stopped at any moment and keeps what came; another part lets it go', async () => {
  const page = await openProve('Damper yoke');
  await begin(page);
  await page.locator('.pass-table tbody tr[data-pass]').first().waitFor();
  await page.getByRole('button', { name: 'stop here' }).click();
  await page.locator('.survey-progress').waitFor({ state: 'detached' });
  expect(await page.locator('.pass-table tbody tr[data-pass]').count()).toBeGreaterThan(5);
  await openSample(page, 'Shutter link');
  await untilProven(page);
  await page.getByRole('button', { name: 'Estimate force, bending and hold' }).waitFor();
  expect(await page.locator('.survey-table').count()).toBe(0);
  await page.close();
});

test('what would be better is said with its numbers, and taken at one press; undo takes it back', async () => {
  const page = await openProve('Vent latch lever');
  await begin(page);
  await page.locator('.pass-table tbody tr[data-pass]').first().waitFor();
  await page.getByRole('button', { name: 'stop here' }).click();
  await page.getByRole('button', { name: 'What would be better?' }).click();
  await page.locator('[data-advice="seeking"]').waitFor();
  const found = page.locator('[data-advice="found"]');
  await found.waitFor({ timeout: 400_000 });
  expect(await found.locator('li').first().textContent()).toMatch(/\d/);
  // The picture of why: each order at the moments when a cutter runs along the fork, all to one scale.
  const orders = page.locator('[data-orders="jaws"]');
  expect(await orders.locator('figure svg[data-view="above"] .movement-band').count()).toBeGreaterThan(20);
  expect(await orders.locator('figcaption').allTextContents()).toContainEqual(
    expect.stringMatching(
      /^forks and slots after thinning, right through .*hold it closed by about 0\.0\d+ mm\.$/,
    ),
  );
  expect(await orders.textContent()).toMatch(/bending drawn \d+ times as large in all of them/);
  const take = page.getByRole('button', { name: 'Make it so' });
  if (await take.count()) {
    await take.click();
    await untilProven(page);
    expect(await page.locator('[data-verdict]').getAttribute('data-verdict')).toBe('fits');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
  }
  await page.close();
});
