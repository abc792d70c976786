import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** How deep the cutter may be buried, as the estimates of survival ask for it: said, put on at one press, taken back. */

const site = openSite();

const THIN = 'thin body from the back';
/** More than the angles that are worth cutting bring it to, and less than it moves by closed forms: mm. */
const TOLERANCE = '0.25';

/** Estimates by closed forms alone: they are there at once. */
const estimated = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: 'Estimate force, bending and hold' }).click();
  await page.locator('.pass-table tbody tr[data-pass]').first().waitFor();
  await page.getByRole('button', { name: 'stop here' }).click();
  await page.locator('.survey-progress').waitFor({ state: 'detached' });
};

test('a limit that the estimates ask for is put on at one press, cut, proven, and taken back by one undo', async () => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(site.url);
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await goTo(page, 'Prove');
  const panel = page.getByRole('region', { name: 'With and without peeling' });
  await panel.getByRole('button', { name: 'compare fork' }).waitFor();
  // Nothing is known yet of how far anything moves, so nothing is said of it.
  expect(await panel.getByRole('listitem').count()).toBe(0);
  await page.getByLabel('Tolerance of movements and errors').click();
  await page.keyboard.press('Control+A');
  await page.keyboard.type(TOLERANCE);
  await page.keyboard.press('Enter');
  await untilProven(page);
  await estimated(page);

  const said = panel.getByRole('listitem').filter({ hasText: THIN });
  await expect
    .poll(() => said.textContent())
    .toMatch(/moves about 0\.\d+ mm; buried by \d+° at most it would stay within 0\.25 mm\.$/);
  const angle = Number(/by (\d+)°/.exec((await said.textContent()) ?? '')![1]);
  const put = panel.getByRole('button', { name: 'Put these limits on' });
  await put.click();
  // Another route has other estimates: those of the old one go, and with them what they asked for.
  await put.waitFor({ state: 'detached' });
  await untilProven(page);
  const verdict = page.locator('[data-verdict]');
  await expect.poll(() => verdict.getAttribute('data-verdict'), { timeout: 60_000 }).toBe('fits');
  const buried = page.getByRole('region', { name: 'How far the cutter is buried' });
  await expect
    .poll(() => buried.locator('dd').allTextContents(), { timeout: 60_000 })
    .toEqual([expect.stringMatching(new RegExp(`^\\d+° of ${angle}°$`))]);

  await estimated(page);
  await expect
    .poll(() => said.textContent())
    .toMatch(new RegExp(`under its limit of ${angle}°(, within|; more than) 0\\.25 mm\\.$`));
  expect(await put.count()).toBe(0);
  await goTo(page, 'Cut');
  const stated = page.locator(`[data-step="${THIN}"]`).getByLabel('Angle of the rim in the material');
  await expect.poll(() => stated.inputValue()).toBe(String(angle));
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.locator(`[data-step="${THIN}"]`).getByRole('button', { name: 'peel it instead' }).waitFor();
  await page.close();
}, 300_000);
