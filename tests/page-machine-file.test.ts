import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { readProfile } from '../toolpath/machine/profile-document.ts';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** The machine on the page: chosen, changed in figures, kept apart from the part, handed on as a file. */

const site = openSite();

const openHold = async (): Promise<Page> => {
  const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(site.url);
  await openSample(page, 'Shutter link');
  await untilProven(page);
  await goTo(page, 'Hold');
  await page.locator('.machine summary').click();
  return page;
};

const cuttersOnCard = async (page: Page): Promise<string> => {
  await goTo(page, 'Cut');
  const text = (await page.locator('.card-body').textContent()) ?? '';
  await goTo(page, 'Hold');
  return text;
};

test('another machine brings its own cutters and speeds, outlasts a reload, and is saved as a file', async () => {
  const page = await openHold();
  expect(await cuttersOnCard(page)).not.toContain('12 mm roughing');
  await page.locator('.machine summary').click();
  await page.getByLabel('Choose a machine').selectOption('Belt-driven mill by the window');
  await untilProven(page);
  expect(await cuttersOnCard(page)).toContain('roughing');
  await page.reload();
  await untilProven(page);
  await goTo(page, 'Hold');
  expect(await page.locator('.machine summary').textContent()).toContain('Belt-driven mill by the window');
  await page.locator('.machine summary').click();
  const speeds = page.getByLabel('Speeds of the belts or gears');
  await speeds.fill('300, 600, 1200');
  await speeds.press('Enter');
  await untilProven(page);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save machine' }).click(),
  ]);
  const reading = readProfile(readFileSync(await download.path(), 'utf8'));
  expect(reading).toMatchObject({ ok: true, profile: { spindle: { steps: [300, 600, 1200] } } });
  await page.context().close();
});

test('figures that cannot be are told and leave the machine as it was; so does a broken file', async () => {
  const page = await openHold();
  const travel = page.getByLabel('Travel in X');
  const before = await travel.inputValue();
  for (const typed of ['0', '-5', 'far', '1e9']) {
    await travel.fill(typed);
    await travel.press('Enter');
    expect(await page.locator('.machine .figure-wrong [role="alert"]').textContent(), typed).toMatch(/./);
    await travel.press('Escape');
    expect(await travel.inputValue()).toBe(before);
  }
  for (const [name, text] of [
    ['broken.json', '{ "format": "leverwright-machine", '],
    ['other.json', '{ "format": "something-else" }'],
  ] as const) {
    await page
      .getByLabel('Open a machine file')
      .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
    await expect
      .poll(() => page.locator('.machine > [role="alert"]').textContent())
      .toMatch(new RegExp(`${name}.*untouched`));
  }
  expect(await travel.inputValue()).toBe(before);
  await page.context().close();
});

test('a cutter that is taken out of the drawer is not used any more, and what is missing is named', async () => {
  const page = await openHold();
  const drawer = page.locator('.cutters li');
  const count = await drawer.count();
  const ends = await page.getByRole('button', { name: /^remove .*endmill$/ }).count();
  expect(ends).toBeGreaterThan(1);
  for (let i = 0; i < ends; i++) {
    await page
      .getByRole('button', { name: /^remove .*endmill$/ })
      .first()
      .click();
  }
  expect(await drawer.count()).toBe(count - ends);
  await expect
    .poll(() => page.locator('.card').textContent(), { timeout: 20_000 })
    .toMatch(/no (endmill|cutter)|endmill.*(own|wanted|needed|missing)/i);
  await page.getByLabel('Kind of the new cutter').selectOption('endmill');
  await page.getByLabel('Diameter of the new cutter, mm').fill('4');
  await page.getByRole('button', { name: 'put it in the drawer' }).click();
  expect(await drawer.count()).toBe(count - ends + 1);
  await page.context().close();
});
