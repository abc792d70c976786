import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { planPart } from '../gcode/chain.ts';
import { figure } from '../gcode/table/figures.ts';
import { setupRows } from '../gcode/table/rows.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** Beside the machine, on a phone: from the first stop to the last, with ticks that stay. */

const site = openSite();

const SAMPLE = 'Shutter link';

const openPhone = async (): Promise<Page> => {
  const context = await site.browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await context.newPage();
  await page.goto(site.url);
  return page;
};

const toMachine = async (page: Page): Promise<void> => {
  await goTo(page, 'Take away');
  const button = page.getByRole('button', { name: 'Go to the machine, setup 1' });
  if (!(await button.isVisible())) await page.locator('.drawer-handle').click();
  await button.click();
  await page.locator('.at-machine').waitFor();
};

const plan = () => {
  const planned = planPart(readFileSync('samples/shutter-link.json', 'utf8'), { profile: standardProfile });
  if (!planned.ok) throw new Error('the sample cannot be planned');
  return setupRows(planned.plan.setups[0]!, 'mm');
};

const figuresOn = (page: Page): Promise<readonly string[]> =>
  page.locator('.machine-figures [data-axis] dd:not(.by, .past, .turning)').allTextContents();

test('every stop of the table is shown in order, ticked by a thumb or a pedal, and the ticks outlast a reload', async () => {
  const page = await openPhone();
  await page.locator('.drawer-handle').click();
  await openSample(page, SAMPLE);
  await untilProven(page);
  await toMachine(page);
  const rows = plan();
  const seen: (readonly string[])[] = [];
  for (let i = 0; i < rows.length; i++) {
    seen.push(await figuresOn(page));
    if (i === 3) {
      // A reload in the middle: the page comes back to the same part, and to the first stop that is not done.
      await page.reload();
      await untilProven(page);
      await toMachine(page);
      expect(await page.locator('[data-stops-done]').textContent()).toContain(`3 of ${rows.length}`);
      expect(await figuresOn(page)).toEqual(seen[3]);
    }
    // A pedal sends page keys; a thumb presses the button.
    if (i % 2 === 0) await page.keyboard.press('PageDown');
    else await page.locator('[data-done]').tap();
  }
  expect(seen).toEqual(
    rows.map((r) => [figure(r.at.x, 'mm'), figure(r.at.y, 'mm'), figure(r.at.z, 'mm')].map(minus)),
  );
  expect(await page.locator('[data-stops-done]').textContent()).toContain(
    `${rows.length} of ${rows.length} done`,
  );
  // Back does not take a tick away.
  await page.keyboard.press('PageUp');
  expect(await page.locator('[data-stops-done]').textContent()).toContain(`${rows.length} of`);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'save the log' }).click(),
  ]);
  const log = readFileSync(await download.path(), 'utf8')
    .trim()
    .split('\r\n');
  expect(log).toHaveLength(rows.length + 1);
  for (const line of log.slice(1)) expect(line).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d/);
  await page.getByRole('button', { name: 'back to the desk' }).click();
  await page.locator('.rail').waitFor();
  await page.context().close();
});

/** Figures are set as on paper, with a true minus. */
const minus = (text: string): string => text.replace('-', '−');

test('by dials each place is so many turns and lines, and lost motion is taken out', async () => {
  const page = await openPhone();
  await page.locator('.drawer-handle').click();
  await openSample(page, SAMPLE);
  await untilProven(page);
  await goTo(page, 'Hold');
  await page.locator('.machine summary').click();
  await page.getByLabel('What drives the machine').selectOption('dials');
  await untilProven(page);
  await goTo(page, 'Take away');
  // The table's own text was done by hand in the computer before any of it is handed on.
  await page.locator('[data-table-verdict="fits"]').waitFor({ timeout: 400_000 });
  await toMachine(page);
  let passed = 0;
  for (let i = 0; i < 25; i++) {
    const [x] = await figuresOn(page);
    expect(x).toMatch(/^(−\(\d+ \+ \d+(\.\d)?\)|\d+ \+ \d+(\.\d)?)$/);
    const coordinate = await page.locator('[data-axis="x"] .by').textContent();
    // 2 mm a turn in 100 lines: what the dial says is what is wanted, within half a line and the slack.
    const [turns, lines] = x!.replace(/[−()]/g, '').split(' + ').map(Number) as [number, number];
    const dial = (turns * 2 + lines * 0.02) * (x!.startsWith('−') ? -1 : 1);
    expect(Math.abs(dial - Number(coordinate!.replace('−', '-')))).toBeLessThanOrEqual(0.1 + 0.0101);
    if (await page.locator('[data-axis="x"] .past').count()) passed++;
    await page.keyboard.press('PageDown');
  }
  expect(passed).toBeGreaterThan(0);
  await page.context().close();
});

test('nothing at the machine is cut off or too small for a thumb on a phone', async () => {
  const page = await openPhone();
  await page.locator('.drawer-handle').click();
  await openSample(page, SAMPLE);
  await untilProven(page);
  await toMachine(page);
  await page.keyboard.press('PageDown');
  const boxes = await page.locator('.machine-keys button').evaluateAll((all) =>
    all.map((b) => {
      const r = b.getBoundingClientRect();
      return { height: r.height, right: r.right, bottom: r.bottom };
    }),
  );
  expect(boxes).toHaveLength(2);
  for (const b of boxes) {
    expect(b.height).toBeGreaterThanOrEqual(64);
    expect(b.right).toBeLessThanOrEqual(390);
    expect(b.bottom).toBeLessThanOrEqual(844);
  }
  const size = await page
    .locator('.machine-figures dd')
    .first()
    .evaluate((d) => Number.parseFloat(getComputedStyle(d).fontSize));
  expect(size).toBeGreaterThanOrEqual(56);
  await page.context().close();
});

test('a length that was measured tells the cuts that are left; one that cannot be is named and gives no number', async () => {
  const page = await openPhone();
  await page.locator('.drawer-handle').click();
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await toMachine(page);
  await page.locator('.measured summary').click();
  const field = page.locator('[data-measured="X"]').first();
  const cuts = page.locator('[data-cuts="X"] li');
  await field.fill('71.2');
  // The readout is set to where the cutter stands: the length measured and half the 12 mm cutter; the last cut ends at 76.
  await expect.poll(() => cuts.first().textContent()).toContain('77.20');
  expect(await cuts.last().textContent()).toMatch(/X 76\.00 takes 0\.20, leaves 70\.00/);
  for (const wrong of ['69', '95', '-3', 'long']) {
    await field.fill(wrong);
    await expect.poll(() => page.locator('.measured [role="alert"]').first().textContent()).toMatch(/\S/);
    expect(await cuts.count(), wrong).toBe(0);
  }
  await page.context().close();
});
