import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { goTo, openBrowser, openSample, type Served, servePage, untilProven } from './browser.ts';

/** What the owner says of the vice and of materials on the page, and what the estimates make of it. */

let served: Served;
let browser: Browser;

beforeAll(async () => {
  served = await servePage();
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
});

const openHold = async (sample: string): Promise<Page> => {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(served.url);
  await openSample(page, sample);
  await untilProven(page);
  await goTo(page, 'Hold');
  return page;
};

/** The estimates of every pass as the page shows them first: force and hold. */
const estimates = async (page: Page): Promise<{ force: number; hold: number; assumptions: string }> => {
  await untilProven(page);
  await goTo(page, 'Prove');
  await page.getByRole('button', { name: /Estimate force|work it out again/ }).click();
  const rows = page.locator('.survey-table tbody tr');
  await rows.first().waitFor();
  const cells = await rows.evaluateAll((all) =>
    all.map((r) => [...r.children].map((c) => c.textContent ?? '')),
  );
  const figures = (column: number) =>
    cells.map((row) => Number.parseFloat(row[column]!.replace('>', ''))).filter(Number.isFinite);
  await page.getByRole('button', { name: 'stop here' }).click();
  const assumptions = (await page.locator('.survive details').last().textContent()) ?? '';
  await goTo(page, 'Hold');
  return { force: Math.max(...figures(1)), hold: Math.min(...figures(3)), assumptions };
};

test('a material’s figures show where they are from, are changed, change the estimates, and go back', async () => {
  const page = await openHold('Shutter link');
  const usual = await estimates(page);
  await page.locator('.machine summary').click();
  const constants = page.locator('.constants');
  expect(await constants.locator('dd').allTextContents()).toHaveLength(7);
  expect(await constants.textContent()).toMatch(/cutting-tool maker|value from memory/);
  const kc11 = constants.getByLabel(/^Cutting force kc1\.1 of/).first();
  const before = Number(await kc11.inputValue());
  await kc11.fill('5');
  await kc11.press('Enter');
  expect(await constants.getByRole('alert').textContent()).toContain('at least 10 MPa is wanted');
  await kc11.fill(String(2 * before));
  await kc11.press('Enter');
  await constants.getByLabel(/^Where your figures of/).fill('my own test cuts');
  await constants.getByLabel(/^Where your figures of/).press('Enter');
  expect(await constants.textContent()).toContain('my own test cuts');
  const harder = await estimates(page);
  expect(harder.force / usual.force).toBeCloseTo(2, 1);
  expect(harder.assumptions).toContain(`in place of the usual ${before} (my own test cuts)`);
  await page.locator('.machine summary').click();
  await constants.getByRole('button', { name: /kc1\.1 .* back to the usual/ }).click();
  expect(Number(await kc11.inputValue())).toBe(before);
  expect((await estimates(page)).force).toBe(usual.force);
  await page.context().close();
}, 120_000);

test('a vice done up harder holds more; nonsense is refused', async () => {
  const page = await openHold('Shutter link');
  const usual = await estimates(page);
  await page.getByLabel('How hard the vice is done up').selectOption('to a known force');
  const clamp = page.getByLabel('Clamping force, N');
  expect(await clamp.inputValue()).toBe('8000');
  await clamp.fill('4000');
  await clamp.press('Enter');
  const softer = await estimates(page);
  expect(softer.hold / usual.hold).toBeCloseTo(0.5, 1);
  expect(softer.assumptions).toContain('about 4000 N');
  await page.getByLabel('How hard the vice is done up').selectOption('by a known pull');
  await page.getByLabel('Torque on the vice’s handle, N·m').fill('10');
  await page.getByLabel('Torque on the vice’s handle, N·m').press('Enter');
  await page.getByText('about 3927 N, by estimate').waitFor();
  const friction = page.getByLabel('Friction between jaw and work');
  await friction.fill('0');
  await friction.press('Enter');
  await page.getByText('at least 0.02 is wanted').waitFor();
  await page.context().close();
}, 120_000);

test('what the jaws make of the work follows the passes: a bow and the fork, as it is put in and when done', async () => {
  const page = await openHold('Damper yoke');
  await goTo(page, 'Prove');
  await page.getByRole('button', { name: /Estimate force/ }).click();
  const table = page.locator('.squeeze-table');
  await table.waitFor({ timeout: 120_000 });
  await page.waitForFunction(() => !document.querySelector('.survey-progress'), null, { timeout: 60_000 });
  const rows = await table.locator('tbody tr').allTextContents();
  expect(rows[0]).toMatch(/^1, put in\d\.\d{3}/);
  expect(rows.at(-1)).toMatch(/^\d, done/);
  expect(await table.locator('thead').textContent()).toContain('closes mm');
  await page.context().close();
}, 200_000);
