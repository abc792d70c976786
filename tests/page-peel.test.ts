import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** Peeling on the page: offered where the cutter is as wide as the fork, compared, taken, and measured by the proof. */

const site = openSite();

test('a fork is compared both ways, peeled at one press, and the proof says how far the cutter is buried', async () => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(site.url);
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await goTo(page, 'Cut');
  await page
    .getByRole('button', { name: /^peel it with the \d mm endmill$/ })
    .first()
    .waitFor();
  await goTo(page, 'Prove');
  const panel = page.getByRole('region', { name: 'With and without peeling' });
  await panel.getByRole('button', { name: 'compare fork' }).click();
  const take = panel.getByRole('button', { name: /^Peel fork with the \d mm endmill$/ });
  await take.waitFor({ timeout: 400_000 });
  expect(await panel.locator('tbody tr').count()).toBe(2);
  expect(await panel.locator('tbody').textContent()).toMatch(
    /not peeled.*about \d+.*peeled under 60°.*about \d+/,
  );
  expect(await panel.locator('canvas').count()).toBe(1);
  await take.click();
  const buried = page.getByRole('region', { name: 'How far the cutter is buried' });
  await buried.waitFor({ timeout: 400_000 });
  const figures = await buried.locator('dd').allTextContents();
  expect(figures.length).toBe(2);
  for (const figure of figures) {
    const [, most, limit] = /^(\d+)° of (\d+)°$/.exec(figure)!;
    expect(Number(limit)).toBe(60);
    expect(Number(most)).toBeGreaterThan(20);
    expect(Number(most)).toBeLessThanOrEqual(65);
  }
  await goTo(page, 'Cut');
  expect(await page.locator('[data-step="fork"]').textContent()).toMatch(
    /peeled in loops that bury the cutter by/,
  );
  await page.close();
});
