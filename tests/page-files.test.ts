import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { makeAll, provePlan } from '../gcode/chain.ts';
import { proofJson } from '../gcode/proof/json.ts';
import { readPart } from '../sketch/part/document.ts';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

const site = openSite();
let page: Page;
const SAMPLE = readFileSync('samples/vent-latch-lever.json', 'utf8');

beforeAll(async () => {
  page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(site.url);
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
});

const save = async (button: string | RegExp): Promise<{ name: string; text: string }> => {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const file = await download;
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
};

const upload = async (name: string, text: string): Promise<void> => {
  const mimeType = 'application/json';
  await page.getByLabel('Open a part file').setInputFiles({ name, mimeType, buffer: Buffer.from(text) });
};

test('the programs that are saved are the ones the command line makes, and fit when proven here', async () => {
  const made = makeAll(SAMPLE);
  if (!made.ok) throw new Error(made.findings[0]?.message);
  await goTo(page, 'Take away');
  const programs = [];
  for (const expected of made.programs) {
    const file = await save(`Save ${expected.fileName}`);
    expect(file).toEqual({ name: expected.fileName, text: expected.text });
    programs.push({ setup: expected.setup, fileName: file.name, text: file.text });
  }
  const proof = provePlan(made.part, made.plan, programs, made.profile);
  expect(proof.verdict).toBe('fits');
  // The same proof finds a fault that is planted in what was saved.
  const spoilt = programs.map((p) => ({ ...p, text: p.text.replace(/G1 Z-7\.8/, 'G1 Z-9.8') }));
  expect(provePlan(made.part, made.plan, spoilt, made.profile)).not.toEqual(proof);

  const saved = await save(/Save .*-proof\.json/);
  expect(JSON.parse(saved.text)).toEqual(JSON.parse(JSON.stringify(proofJson(proof))));
});

test('table, sheet and drawing are saved whole', async () => {
  await goTo(page, 'Take away');
  const table = await save(/Save .*-table\.csv/);
  expect(table.text.split('\r\n')[0]).toContain('X (mm)');
  expect(table.text.split('\r\n').length).toBeGreaterThan(100);
  const sheet = await save(/Save .*-sheet\.html/);
  expect(sheet.text).toMatch(/<title>Vent latch lever/);
  const drawing = await save(/Save .*\.svg/);
  expect(drawing.text).toMatch(/^(<\?xml[^>]*>\s*)?<svg[\s\S]*<\/svg>\s*$/);
});

test('the sheets are printed from within the page, which is as before when that is done', async () => {
  await goTo(page, 'Take away');
  await page.evaluate(() => {
    window.print = () => {};
  });
  await page.getByRole('button', { name: 'Print the sheets' }).click();
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.print-sheet h1').first().isVisible()).toBe(true);
  expect(await page.locator('.card').isVisible()).toBe(false);
  await page.emulateMedia({ media: 'screen' });
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  expect(await page.locator('.print-sheet').count()).toBe(0);
  expect(await page.locator('.card').isVisible()).toBe(true);
});

test('the part that is saved is the part that was opened, and opens again', async () => {
  const file = await save('Save part');
  const opened = readPart(SAMPLE);
  const again = readPart(file.text);
  if (!opened.ok || !again.ok) throw new Error('not read');
  expect(again.part).toEqual(opened.part);
  await upload(file.name, file.text);
  await untilProven(page);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Vent latch lever');
});

test('Ctrl+S saves what is on the page, the figure being typed as well', async () => {
  await goTo(page, 'Draw');
  const field = page.getByLabel('Dimension body', { exact: true });
  const before = await field.inputValue();
  await field.fill('2.6');
  const download = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const text = readFileSync(await (await download).path(), 'utf8');
  expect(JSON.parse(text)).toMatchObject({ dimensions: { body: 2.6 } });
  await field.fill(before);
  await field.press('Enter');
  await page.getByRole('button', { name: 'Save part' }).click();
});

const parsed = (): Record<string, unknown> => JSON.parse(SAMPLE) as Record<string, unknown>;

test.each([
  ['no JSON', '{ "format": ', /line 1/i],
  ['something else', '[1, 2, 3]', /not a part file/i],
  ['newer', JSON.stringify({ ...parsed(), version: 99 }), /version 99/],
  ['an unknown word', JSON.stringify({ ...parsed(), colour: 'red' }), /colour/],
  [
    'impossible',
    JSON.stringify({ ...parsed(), dimensions: { ...(parsed().dimensions as object), tip: 40 } }),
    /\d/,
  ],
  [
    'no size',
    JSON.stringify({ ...parsed(), dimensions: { ...(parsed().dimensions as object), thick: 0 } }),
    /thick/i,
  ],
  ['empty', '', /./],
])('a file with %s gives a clear message and leaves the part alone', async (name, text, told) => {
  await upload(`${name}.json`, text);
  const trouble = page.locator('[data-trouble]');
  await trouble.waitFor();
  const said = await trouble.textContent();
  expect(said).toMatch(told);
  expect(said).toContain(`${name}.json`);
  expect(said).toContain('The present part is untouched.');
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Vent latch lever');
  await trouble.getByRole('button').click();
  expect(await trouble.count()).toBe(0);
});

test('a file far too long is refused unread', async () => {
  await upload('long.json', `{"x":"${'a'.repeat(6_000_000)}"}`);
  const trouble = page.locator('[data-trouble]');
  await trouble.waitFor();
  expect(await trouble.textContent()).toMatch(/6 MB/);
  await trouble.getByRole('button').click();
});

test('before work is lost, it is asked', async () => {
  await goTo(page, 'Draw');
  const field = page.getByLabel('Dimension body', { exact: true });
  await field.fill('2.8');
  await field.press('Enter');
  await page.getByLabel('Open a sample').selectOption('Winch bell crank');
  await page.getByText('The present part is not saved.').waitFor();
  await page.getByRole('button', { name: 'Keep this one' }).click();
  expect(await field.inputValue()).toBe('2.8');
  await page.getByLabel('Open a sample').selectOption('Winch bell crank');
  await page.getByRole('button', { name: 'Open it' }).click();
  await page.getByRole('heading', { level: 1, name: 'Winch bell crank' }).waitFor();
});
