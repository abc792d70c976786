import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** What the owner says of the vice and of materials on the page, and what the estimates make of it. */

const site = openSite();

const openHold = async (sample: string): Promise<Page> => {
  const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(site.url);
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
  const rows = page.locator('.pass-table tbody tr[data-pass]');
  await rows.first().waitFor();
  const cells = await rows.evaluateAll((all) =>
    all.map((r) => [...r.children].map((c) => c.textContent ?? '')),
  );
  const figures = (column: number) =>
    cells.map((row) => Number.parseFloat(row[column]!.replace('>', ''))).filter(Number.isFinite);
  await page.getByRole('button', { name: 'stop here' }).click();
  const assumptions = (await page.locator('.survive details').last().textContent()) ?? '';
  await goTo(page, 'Hold');
  return { force: Math.max(...figures(1)), hold: Math.min(...figures(5)), assumptions };
};

test('a material’s figures show where they are from, are changed, change the estimates, and go back', async () => {
  const page = await openHold('Shutter link');
  const usual = await estimates(page);
  await page.locator('.machine summary').click();
  const constants = page.locator('.constants');
  expect(await constants.locator('dt').allTextContents()).toHaveLength(7);
  expect(await constants.textContent()).toMatch(/cutting-tool maker|value from memory/);
  const kc11 = constants.getByLabel(/^Cutting force kc1\.1 of/).first();
  const before = Number(await kc11.inputValue());
  await kc11.fill('5');
  await kc11.press('Enter');
  expect(await constants.getByRole('alert').textContent()).toContain('At least 10 MPa is wanted');
  await kc11.fill(String(2 * before));
  await kc11.press('Enter');
  await constants.getByLabel(/^Where your figures of/).fill('my own test cuts');
  await constants.getByLabel(/^Where your figures of/).press('Enter');
  expect(await constants.textContent()).toContain('my own test cuts');
  const harder = await estimates(page);
  expect(harder.force / usual.force).toBeCloseTo(2, 1);
  expect(harder.assumptions).toContain(`in place of the usual ${before} (my own test cuts)`);
  await page.locator('.machine summary').click();
  await constants.getByRole('button', { name: /kc1\.1 .*: back to the usual/ }).click();
  expect(Number(await kc11.inputValue())).toBe(before);
  expect((await estimates(page)).force).toBe(usual.force);
  await page.context().close();
});

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
});

test('what the jaws make of the work follows the passes: a bow and the fork, as it is put in and when done', async () => {
  const page = await openHold('Damper yoke');
  await goTo(page, 'Prove');
  await page.getByRole('button', { name: /Estimate force/ }).click();
  const table = page.locator('.squeeze-table');
  await table.waitFor({ timeout: 400_000 });
  await page.waitForFunction(() => !document.querySelector('.survey-progress'), null, { timeout: 400_000 });
  const rows = await table.locator('tbody tr').allTextContents();
  expect(rows[0]).toMatch(/^1, put in\d\.\d{3}/);
  expect(rows.at(-1)).toMatch(/^\d, done/);
  expect(await table.locator('thead').textContent()).toContain('closes mm');
  await page.context().close();
});

test('work is laid on a plate: the choice is drawn, planned, surveyed, saved in the part, and taken back', async () => {
  const page = await openHold('Winch bell crank');
  const inVice = await estimates(page);
  const way = page.getByLabel('What holds setup 1');
  await way.selectOption('on a plate, taped and glued');
  await page.getByText('Tape on both faces').waitFor();
  expect(await page.getByLabel(/^Grip, setup 1/).count()).toBe(0);
  const taped = await estimates(page);
  expect(taped.force).toBe(inVice.force);
  expect(taped.hold).toBeLessThan(inVice.hold / 2);
  const shear = page.getByLabel('Tape pulled off, MPa, setup 1');
  await shear.fill('0.1');
  await shear.press('Enter');
  expect((await estimates(page)).hold / taped.hold).toBeCloseTo(2, 0);
  await way.selectOption('on a plate, screwed down');
  // No hole is drilled yet when setup 1 begins, so they come to stand on the bar beside the part.
  await page.getByLabel('X of screw 2, setup 1').waitFor();
  expect(await page.locator('.screw-holes input:checked').count()).toBe(0);
  const pivot = page.getByLabel('A screw through pivot, setup 1');
  await pivot.check();
  await page
    .getByText(/not drilled yet when the screw is to go through it/)
    .first()
    .waitFor();
  await pivot.uncheck();
  for (const [axis, value] of [
    ['X', '36'],
    ['Y', '28'],
  ] as const) {
    const field = page.getByLabel(`${axis} of screw 2, setup 1`);
    await field.fill(value);
    await field.press('Enter');
  }
  await untilProven(page);
  expect(await page.locator('[data-setup="1"] .wrong').count()).toBe(0);
  expect(await page.locator('.end-view').first().getAttribute('aria-label')).toContain('4 above it at most');
  await goTo(page, 'Prove');
  expect(await page.locator('[data-verdict]').getAttribute('data-verdict')).toBe('fits');
  await goTo(page, 'Hold');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save part' }).click(),
  ]);
  const saved = JSON.parse(readFileSync(await download.path(), 'utf8'));
  expect(saved.route.setups[1].plate).toMatchObject({
    kind: 'screws',
    places: [{ x: expect.any(Number) }, { x: 36, y: 28 }],
  });
  await way.selectOption('in the vice');
  await page.getByLabel(/^Grip, setup 1/).waitFor();
  expect((await estimates(page)).hold).toBe(inVice.hold);
  await page.context().close();
});

test('a fork is packed at a tick, and the jaws then close it no more; a block is put under and taken away', async () => {
  const page = await openHold('Vent latch lever');
  const squeezeOfSetup2 = async (): Promise<number> => {
    await goTo(page, 'Prove');
    await page.getByRole('button', { name: /Estimate force|work it out again/ }).click();
    const row = page.locator('.squeeze-table tbody tr').last();
    await row.waitFor({ timeout: 400_000 });
    await page.waitForFunction(() => !document.querySelector('.survey-progress'), null, { timeout: 400_000 });
    const closes = Number(await row.locator('td').last().textContent());
    await goTo(page, 'Hold');
    return closes;
  };
  const bare = await squeezeOfSetup2();
  expect(bare).toBeGreaterThan(0.02);
  await page.getByLabel('A packing piece in fork, setup 2').check();
  await untilProven(page);
  expect(await squeezeOfSetup2()).toBeLessThan(bare / 5);
  await page.getByLabel('A packing piece in fork, setup 1').check();
  await page
    .getByText(/no piece goes into “fork” yet/)
    .first()
    .waitFor();
  await page.getByLabel('A packing piece in fork, setup 1').uncheck();
  await page.getByRole('button', { name: 'put a block under what juts out, setup 2' }).click();
  const from = page.getByLabel('Block from, setup 2');
  // Under the arm, from the block that the jaws bear on to the end of the bar as it is sawn.
  expect(await from.inputValue()).toBe('28');
  expect(await page.getByLabel('Block to, setup 2').inputValue()).toBe('71');
  await from.fill('30');
  await from.press('Enter');
  await page.getByRole('button', { name: 'take away the block, setup 2' }).click();
  await from.waitFor({ state: 'detached' });
  expect(await page.getByLabel('A packing piece in fork, setup 2').isChecked()).toBe(true);
  await page.context().close();
});
