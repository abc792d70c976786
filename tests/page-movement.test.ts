import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** How the work moves in the pass that is chosen: the picture, its words, and the plots that choose it. */

const site = openSite();

/** The estimates by closed forms are enough to choose a pass by. */
const openEstimated = async (sample: string, width = 1440, height = 900): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width, height } });
  await page.goto(site.url);
  const drawer = page.locator('.drawer-handle');
  if (width < 760) await drawer.click();
  await openSample(page, sample);
  await untilProven(page);
  await goTo(page, 'Prove');
  if ((await drawer.isVisible()) && (await drawer.getAttribute('aria-expanded')) === 'false')
    await drawer.click();
  await page.getByRole('button', { name: 'Estimate force, bending and hold' }).click();
  await page.locator('.survey-table tbody tr').first().waitFor();
  await page.getByRole('button', { name: 'stop here' }).click();
  return page;
};

/** Chooses a pass by its row and waits for what is then shown. */
const choose = async (page: Page, label: string): Promise<void> => {
  await page.locator('.survey-table').first().getByRole('button', { name: label, exact: true }).click();
  await shown(page, label);
};

const shown = (page: Page, label: string): Promise<unknown> =>
  page.waitForFunction((wanted) => {
    const part = document.querySelector('.movement');
    const there = part?.querySelector('.movement-picture, [data-no-movement], [role="alert"]');
    return part?.getAttribute('data-movement') === wanted && there && !part.querySelector('[role="status"]');
  }, label);

const sliderAt = (page: Page): Promise<string> => page.locator('input[type="range"]').first().inputValue();

interface Picture {
  readonly exaggeration: number;
  readonly under: number;
  readonly words: string;
  readonly paths: string;
  readonly key: readonly string[];
}

const pictureOn = (page: Page): Promise<Picture> =>
  page.locator('.movement-picture').evaluate((figure: HTMLElement) => ({
    exaggeration: Number(figure.dataset.exaggeration),
    under: Number(figure.dataset.under),
    words: figure.querySelector('figcaption')?.textContent ?? '',
    paths: [...figure.querySelectorAll('.movement-band')].map((p) => p.getAttribute('d')).join(''),
    key: [...figure.querySelectorAll('.movement-key li span')].map((s) => s.textContent ?? ''),
  }));

test('a row that is chosen changes the picture and its words; places of the pass too; a pass without force says so', async () => {
  const page = await openEstimated('Vent latch lever');
  await choose(page, 'thin body from the back, pass 2');
  const thin = await pictureOn(page);
  expect(thin.under).toBeGreaterThan(0.02);
  expect(thin.words).toContain(`Bending drawn ${thin.exaggeration} times as large`);
  expect(thin.words).toContain(`about ${thin.under.toFixed(3)} mm under the cutter`);
  expect(thin.words).toMatch(/pushes with about \d+ N, \d+ N level and \d+ N up/);
  expect(thin.words).toContain('setup 2, back up');
  expect(thin.words).toContain('All estimates');
  expect(thin.key[0]).toBe('0');
  expect(Number(thin.key.filter((k) => k !== '').at(-1))).toBeGreaterThan(thin.under / 2);
  // Both views have the jaws, the force with its newtons, the cutter, and the outline at rest.
  expect(await page.locator('.movement-view').count()).toBe(2);
  expect(await page.locator('[data-view="above"] .movement-jaw').count()).toBe(2);
  expect(await page.locator('[data-view="edge"] .movement-jaw').count()).toBe(1);
  for (const view of ['above', 'edge']) {
    const texts = await page.locator(`[data-view="${view}"] text`).allTextContents();
    expect(texts.filter((t) => /^\d+ N$/.test(t))).toHaveLength(1);
    expect(await page.locator(`[data-view="${view}"] .movement-cutter`).count()).toBe(1);
  }

  // Another place of the same pass.
  await page.locator('.movement-places button').nth(1).click();
  await page.waitForFunction((before) => {
    const under = document.querySelector<HTMLElement>('.movement-picture')?.dataset.under;
    return under !== undefined && Number(under) !== before;
  }, thin.under);
  expect((await pictureOn(page)).under).toBeLessThan(thin.under);

  await choose(page, 'fork, pass 3');
  const fork = await pictureOn(page);
  expect(fork.under).toBeLessThan(thin.under / 10);
  expect(fork.exaggeration).toBeGreaterThan(10 * thin.exaggeration);
  expect(fork.paths).not.toBe(thin.paths);
  expect(fork.words).toContain('setup 1, front up');

  // On the sheet the same is drawn larger, beside the card; and goes back.
  await page.getByRole('button', { name: 'lay it on the sheet, larger' }).click();
  const large = page.locator('.movement-on-sheet');
  await large.waitFor();
  const [sheet, card] = [(await large.boundingBox())!, (await page.locator('.card').boundingBox())!];
  expect(sheet.width).toBeGreaterThan(1.5 * card.width);
  expect(sheet.x + sheet.width).toBeLessThan(card.x);
  expect((await pictureOn(page)).under).toBe(fork.under);
  await page.getByRole('button', { name: 'put it back on the card' }).click();
  await large.waitFor({ state: 'detached' });
  await page.locator('.movement-picture').waitFor();

  await choose(page, 'spot, pass 1');
  expect(await page.locator('.movement-picture').count()).toBe(0);
  expect(await page.locator('[data-no-movement]').textContent()).toContain('nothing is cut with a force');
  await page.close();
});

test('the plots and the slider move each other, and one mark goes through all four', async () => {
  const page = await openEstimated('Vent latch lever', 390, 844);
  const reading = page.locator('.plot-reading');
  await choose(page, 'fork, pass 3');
  expect(await reading.textContent()).toMatch(
    /^fork, pass 3: about \d+ N, moves about 0\.\d{3,4} mm, holds about /,
  );
  expect(await page.locator('.pass-plot').count()).toBe(4);
  const before = await sliderAt(page);
  await page.locator('.pass-plots').scrollIntoViewIfNeeded();
  // A press in the second plot, and then a finger drawn along it.
  const box = (await page.locator('.pass-plot .u-over').nth(1).boundingBox())!;
  await page.mouse.move(box.x + box.width - 3, box.y + 30);
  await page.mouse.down();
  await page.waitForFunction(
    (was) => document.querySelector('.plot-reading')?.getAttribute('data-pass') !== was,
    'fork, pass 3',
  );
  const late = await reading.getAttribute('data-pass');
  const after = await sliderAt(page);
  expect(late).toContain('release fork');
  expect(Number(after)).toBeGreaterThan(Number(before));
  await page.mouse.move(box.x + 2, box.y + 30, { steps: 4 });
  await page.mouse.up();
  await page.waitForFunction(
    () => document.querySelector('.plot-reading')?.getAttribute('data-pass') === 'square ends, pass 1',
  );
  expect(Number(await sliderAt(page))).toBeLessThan(Number(before));
  // The other way round: the slider moves the reading, the row and the picture.
  await page.locator('input[type="range"]').first().press('ArrowRight');
  await shown(page, 'square ends, pass 2');
  expect(await reading.getAttribute('data-pass')).toBe('square ends, pass 2');
  expect(await page.locator('.survey-table [aria-current="step"]').first().getAttribute('data-pass')).toBe(
    'square ends, pass 2',
  );
  // Nothing runs out of a phone's width.
  const wide = await page.evaluate(() =>
    [...document.querySelectorAll('.movement, .pass-plots, .movement-view, .movement-key')].map(
      (e) => e.getBoundingClientRect().right,
    ),
  );
  expect(Math.max(...wide)).toBeLessThanOrEqual(390);
  await page.close();
});

test('the estimates are printed with the worst pass of each setup; another part lets picture and worker go', async () => {
  const page = await openEstimated('Vent latch lever');
  await page.evaluate(() => {
    window.print = () => {
      document.body.dataset.printed = document.querySelector('.print-sheet')?.innerHTML ?? '';
    };
  });
  const complaints: string[] = [];
  page.on('console', (m) => {
    if (m.type() === 'error' || m.type() === 'warning') complaints.push(m.text());
  });
  await page.getByRole('button', { name: 'Print the estimates' }).click();
  await page.waitForFunction(() => document.body.dataset.printed);
  const printed = await page.evaluate(() => document.body.dataset.printed ?? '');
  expect(complaints).toEqual([]);
  expect(printed).toContain('Every figure on these pages is an estimate');
  expect(printed.match(/svg class="movement"/g)).toHaveLength(4);
  expect(printed).toContain('thin body from the back, pass 3: the most that the work moves in this setup');
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  await choose(page, 'fork, pass 3');
  await openSample(page, 'Shutter link');
  await page.locator('section.movement').waitFor({ state: 'detached' });
  await page.close();
});

test('a pass that is chosen while all is still being solved has its picture when that is done; plots follow the system’s colours', async () => {
  const page = await openEstimated('Shutter link');
  await page.getByRole('button', { name: 'work it out again' }).click();
  await page.locator('.survey-table tbody tr').first().waitFor();
  const first = await page.locator('.movement').getAttribute('data-movement');
  await page.getByRole('button', { name: 'work it out again' }).waitFor({ timeout: 400_000 });
  await shown(page, first ?? '');
  const lettering = (): Promise<string> =>
    page
      .locator('.pass-plots canvas')
      .first()
      .evaluate((canvas: HTMLCanvasElement) => {
        // The left rim: nothing but letters.
        const [width, height] = [20, canvas.height];
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, width, height);
        let light = 0;
        let dark = 0;
        for (let i = 0; i < data.length; i += 4) {
          if (data[i + 3]! < 200) continue;
          if (data[i]! + data[i + 1]! + data[i + 2]! > 480) light++;
          else dark++;
        }
        return light > dark ? 'light' : 'dark';
      });
  expect(await lettering()).toBe('dark');
  await page.emulateMedia({ colorScheme: 'dark' });
  await expect.poll(lettering).toBe('light');
  await page.close();
});
