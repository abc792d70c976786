import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { goTo, openBrowser, openSample, type Served, servePage, untilProven } from './browser.ts';

const BUILT = resolve(process.env.PAGE_FOLDER ?? 'dist/page');
let browser: Browser;
let folder: string;
let served: Served;

beforeAll(async () => {
  browser = await openBrowser();
  folder = mkdtempSync(join(tmpdir(), 'page-'));
  cpSync(BUILT, folder, { recursive: true });
  served = await servePage(folder);
});
afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Visit {
  readonly page: Page;
  readonly troubles: string[];
  readonly abroad: string[];
}

/** A first visit that lasts until the page is put by. */
const visit = async (): Promise<Visit> => {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  const troubles: string[] = [];
  const abroad: string[] = [];
  page.on('console', (m) => {
    if (m.type() === 'error' || m.type() === 'warning') troubles.push(m.text());
  });
  page.on('pageerror', (e) => troubles.push(e.message));
  context.on('request', (r) => {
    if (!r.url().startsWith(served.url) && !/^(data|blob):/.test(r.url())) abroad.push(r.url());
  });
  await page.goto(served.url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  return { page, troubles, abroad };
};

test('after the first visit the whole job is done without a network', async () => {
  const { page, troubles, abroad } = await visit();
  await page.context().setOffline(true);
  await served.close();
  try {
    await page.reload();
    await openSample(page, 'Vent latch lever');
    await untilProven(page);
    await goTo(page, 'Prove');
    expect(await page.locator('.verdict').textContent()).toMatch(/fits/i);
    await goTo(page, 'Take away');
    const download = page.waitForEvent('download');
    await page
      .getByRole('button', { name: /Save .*\.ngc/ })
      .first()
      .click();
    expect(readFileSync(await (await download).path(), 'utf8')).toMatch(/G21[\s\S]*M30/);
    // Reading a drawing has a worker of its own.
    await goTo(page, 'Draw');
    await page.locator('.in-and-out summary').click();
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20"><rect width="40" height="20"/></svg>';
    await page
      .getByLabel('Bring in a drawing')
      .setInputFiles({ name: 'plate.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(svg) });
    await page.locator('[data-became]').waitFor();
    expect(await page.locator('[data-became]').textContent()).toBe('1 plate');
    expect(troubles).toEqual([]);
    expect(abroad).toEqual([]);
  } finally {
    served = await servePage(folder);
  }
});

test('it can be installed: manifest, icons of their stated sizes, and little to put by', async () => {
  const { page } = await visit();
  const href = await page.locator('link[rel="manifest"]').getAttribute('href');
  const manifest = JSON.parse(readFileSync(join(folder, href ?? ''), 'utf8')) as {
    readonly name: string;
    readonly display: string;
    readonly start_url: string;
    readonly icons: readonly { readonly src: string; readonly sizes: string; readonly purpose?: string }[];
  };
  expect(manifest).toMatchObject({ name: 'Leverwright', display: 'standalone', start_url: '/' });
  for (const icon of manifest.icons) {
    const size = await page.evaluate(async (src) => {
      const picture = new Image();
      picture.src = src;
      await picture.decode();
      return `${picture.naturalWidth}x${picture.naturalHeight}`;
    }, icon.src);
    if (icon.sizes !== 'any') expect(size).toBe(icon.sizes);
  }
  expect(manifest.icons.some((i) => i.sizes === '512x512' && i.purpose === 'maskable')).toBe(true);
  const putBy = await page.evaluate(async () => {
    const urls: string[] = [];
    for (const name of await caches.keys()) {
      for (const request of await (await caches.open(name)).keys()) urls.push(new URL(request.url).pathname);
    }
    return urls;
  });
  const needed = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((f) => `/${f.replaceAll('\\', '/')}`)
    .filter((f) => /\.\w+$/.test(f) && !/^\/(sw|workbox-\w+)\.js$/.test(f));
  expect([...putBy].sort()).toEqual([...needed].sort());
  const bytes = needed.reduce((sum, f) => sum + statSync(join(folder, f)).size, 0);
  expect(bytes).toBeLessThan(3_250_000);
});

/** A new version on the server: the page says another title until its part is open. */
const release = (title: string): void => {
  const index = join(folder, 'index.html');
  writeFileSync(
    index,
    readFileSync(index, 'utf8').replace(/<html lang="en"[^>]*>/, `<html lang="en" data-release="${title}">`),
  );
  const worker = join(folder, 'sw.js');
  writeFileSync(
    worker,
    readFileSync(worker, 'utf8').replace(/(url:"index\.html",revision:")[^"]*/, `$1${title}`),
  );
};
const released = (page: Page): Promise<string | null> => page.locator('html').getAttribute('data-release');

test('a new version is offered and comes into use when it is wished, in every window, with the work as it was', async () => {
  const { page } = await visit();
  await page.reload();
  await openSample(page, 'Vent latch lever');
  const other = await page.context().newPage();
  await other.goto(served.url);
  await openSample(other, 'Winch bell crank');
  release('second');
  await page.reload();
  // Not forced: the page that is loaded is still the one that was put by.
  const line = page.locator('[data-notice="version"]');
  await line.waitFor();
  expect(await line.textContent()).toMatch(/new version of Leverwright is here/);
  expect(await released(page)).toBe(null);
  const field = page.getByLabel('Dimension body', { exact: true });
  await field.fill('2.75');
  await field.press('Enter');
  await expect.poll(() => page.locator('.bar-line').textContent()).toContain('not saved');

  await line.getByRole('button', { name: 'use it now' }).click();
  await expect.poll(() => released(page)).toBe('second');
  await page.locator('[data-notice="restored"]').waitFor();
  expect(await field.inputValue()).toBe('2.75');
  expect(await page.locator('[data-notice="version"]').count()).toBe(0);
  await expect.poll(() => released(other)).toBe('second');
  await expect.poll(() => other.locator('h1').textContent()).toBe('Winch bell crank');
});
