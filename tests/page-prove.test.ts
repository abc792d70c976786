import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { planPart, writePrograms } from '../gcode/chain.ts';
import { longProgram } from './bench/long-program.ts';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';
import { sampleText } from './samples.ts';

const site = openSite();
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'prove-'));
  mkdirSync(folder, { recursive: true });
});

const open = async (): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(site.url);
  await openSample(page, 'Shutter link');
  await untilProven(page);
  await goTo(page, 'Prove');
  await page.locator('.verdict').waitFor();
  return page;
};

const choose = async (page: Page, name: string, text: string): Promise<void> => {
  const file = join(folder, name);
  writeFileSync(file, text);
  await page.getByText('Prove a program from a file').click();
  await page.locator('input[type="file"][accept*=".ngc"]').setInputFiles(file);
};

test('a program from a file is proven in the place of a setup’s own, which keeps its proof', async () => {
  const page = await open();
  const planned = planPart(sampleText('shutter-link'));
  if (!planned.ok) throw new Error('the sample is refused');
  const own = writePrograms(planned.part, planned.plan, planned.profile)[0]!.text;
  await choose(page, 'shifted.ngc', own.replace(/Y(-?\d)/g, 'Y1$1').replace(/Y1-/g, 'Y-1'));
  await page.locator('[data-foreign]').waitFor();
  expect(await page.locator('.verdict').getAttribute('data-verdict')).toBe('does not fit');
  await page.getByRole('button', { name: 'Prove the plan’s own' }).click();
  await page.locator('[data-verdict="fits"]').waitFor();
  await page.close();
});

test('a long one shows how far it is, and is stopped at a press', async () => {
  const page = await open();
  await choose(page, 'long.ngc', longProgram(1_000_000));
  const bar = page.getByRole('progressbar', { name: 'Proving the programs' });
  await bar.waitFor();
  await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 0.02);
  const share = (await bar.evaluate((e) => (e as unknown as { value: number }).value)) as number;
  await page.waitForFunction((was) => (document.querySelector('progress')?.value ?? 0) > was, share);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await page.getByText('The proof was stopped').waitFor();
  await page.getByRole('button', { name: 'Prove again' }).click();
  await bar.waitFor();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await page.close();
});
