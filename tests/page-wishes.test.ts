import type { Browser, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** What people ask of their system – more contrast, their own colours, paper – the page does too. */

const site = openSite();

const open = async (
  options: Parameters<Browser['newPage']>[0],
  sample = 'Vent latch lever',
): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 }, ...options });
  await page.goto(site.url);
  await openSample(page, sample);
  return page;
};

/** How many pixels of the drawing have just this colour. */
const pixelsOf = (page: Page, rgb: readonly number[]): Promise<number> =>
  page.evaluate((wanted) => {
    const canvas = document.querySelector<HTMLCanvasElement>('#sheet')!;
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
    let count = 0;
    for (let i = 0; i < data.length; i += 4) {
      if (data[i + 3] === 255 && wanted.every((v, k) => data[i + k] === v)) count++;
    }
    return count;
  }, rgb);

test('more contrast is asked for and given while the page is open, on the drawing too', async () => {
  const page = await open({});
  expect(await pixelsOf(page, [31, 42, 55])).toBeGreaterThan(300);
  await page.emulateMedia({ contrast: 'more' });
  await expect.poll(() => pixelsOf(page, [0, 0, 0])).toBeGreaterThan(300);
  expect(await pixelsOf(page, [31, 42, 55])).toBe(0);
  await page.close();
});

test('under the system’s own colours the stock is still painted, and what is picked is gone round', async () => {
  const page = await open({ forcedColors: 'active' });
  await untilProven(page);
  await goTo(page, 'Cut');
  // A mixture of the system's text and ground: 6 in 100 of black on white.
  await expect.poll(() => pixelsOf(page, [240, 240, 240])).toBeGreaterThan(5000);
  const outline = await page
    .locator('li.picked')
    .first()
    .evaluate((e) => getComputedStyle(e).outlineStyle);
  expect(outline).toBe('solid');
  await page.close();
});

test('the page prints its part as a drawing in black lines, whatever is on the screen', async () => {
  const page = await open({ colorScheme: 'dark' }, 'Winch bell crank');
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
  const paper = page.locator('.print-drawing');
  expect(await paper.isVisible()).toBe(true);
  expect(await page.locator('#desk').isVisible()).toBe(false);
  const words = await paper.locator('text').allTextContents();
  for (const said of ['100°', '26', '(39)', 'R4.5', '2 × ⌀3.2 through']) expect(words).toContain(said);
  // The edge view below bears the thickness.
  expect(words).toContain('5');
  const line = await paper
    .locator('.outline')
    .first()
    .evaluate((e) => ({ stroke: getComputedStyle(e).stroke, width: getComputedStyle(e).strokeWidth }));
  expect(line).toEqual({ stroke: 'rgb(0, 0, 0)', width: '3px' });
  await page.emulateMedia({ media: null });
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  expect(await paper.count()).toBe(0);
  expect(await page.locator('#desk .rail').isVisible()).toBe(true);
  await page.close();
});

test('the second view is chosen in words; first angle shows the other edge', async () => {
  const page = await open({}, 'Damper yoke');
  const view = page.locator('.second-view');
  await page.getByLabel('What the second view shows').selectOption('edge');
  await view.locator('[data-height="10"]').waitFor();
  expect(await view.getAttribute('data-side')).toBe('lower edge');
  expect(
    await view.locator('[data-height]').evaluateAll((all) => all.map((e) => e.getAttribute('data-height'))),
  ).toEqual(['10', '4', '3']);
  await page.getByRole('button', { name: /Projection: third angle/ }).click();
  expect(await view.getAttribute('data-side')).toBe('upper edge');
  await page.getByRole('button', { name: /Projection: first angle/ }).waitFor();
  await page.getByLabel('What the second view shows').selectOption('left end');
  expect(await view.getAttribute('data-side')).toBe('left end');
  // In the other stages the section is what counts.
  await goTo(page, 'Prove');
  expect(await page.getByLabel('What the second view shows').count()).toBe(0);
  await page.close();
});
