import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { openSample, untilProven } from './browser.ts';
import { beginPart, type Hand, handOf, withoutPickers } from './drawing-hand.ts';
import { openSite } from './page-site.ts';

/** The pencil on the page: what a mouse, a finger and the keys alone can do. */

const site = openSite();

const openPage = async (): Promise<{ page: Page; hand: Hand }> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await withoutPickers(page);
  await page.goto(site.url);
  await page.getByRole('button', { name: 'New', exact: true }).waitFor();
  return { page, hand: handOf(page) };
};
const emptyPart = async (unit: 'mm' | 'inch' = 'mm') => {
  const opened = await openPage();
  await beginPart(opened.page, 'Trial', unit);
  return opened;
};
const strip = (page: Page) => page.locator('.draft-strips');
type List = readonly Record<string, unknown>[];

test('an empty part says what to do; while one drags the size is shown, and a number typed then stays', async () => {
  const { page, hand } = await emptyPart();
  await page.locator('.first-hint').waitFor();
  await page.locator('[data-tool="end"]').click();
  const [a, b, c] = [await hand.pixel([15, 0]), await hand.pixel([22, 0]), await hand.pixel([30, 0])];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move(b.x, b.y, { steps: 4 });
  const radius = page.locator('[data-size="radius"]');
  expect(await radius.inputValue()).toBe('7');
  await page.keyboard.type('6.25');
  await page.mouse.move(c.x, c.y, { steps: 4 });
  expect(await radius.inputValue()).toBe('6.25');
  await page.mouse.up();
  await page.keyboard.press('Enter');
  await page.locator('.first-hint').waitFor({ state: 'detached' });
  expect((await hand.document()).ends).toEqual([{ name: 'end 1', centre: [15, 0], radius: 6.25 }]);
  await page.close();
});

test('a whole lever without the mouse: drawn, named, nudged, and proven to fit', async () => {
  const { page, hand } = await emptyPart();
  await page.locator('#drawing').focus();
  const byNumbers = async (key: string, sizes: Readonly<Record<string, string>>): Promise<void> => {
    await page.keyboard.press(key);
    await page.keyboard.press('Enter');
    await page.locator('[data-size]').first().waitFor();
    // Tab walks the figures.
    for (let i = 0; i < 8; i++) {
      const at = await page.evaluate('document.activeElement?.getAttribute("data-size") ?? null');
      if (at === null) break;
      const text = sizes[String(at)];
      if (text !== undefined) await page.keyboard.type(text);
      await page.keyboard.press('Tab');
    }
    await page.keyboard.press('Enter');
    await page.locator('#drawing').focus();
    await page.keyboard.press('Escape');
  };
  await byNumbers('e', { radius: '7', x: '15', y: '0' });
  await byNumbers('e', { radius: '5', x: '60', y: '0' });
  // An arm has no figures of its own: it is added on the card and its ends chosen there.
  await page.getByRole('button', { name: 'add arm' }).focus();
  await page.keyboard.press('Enter');
  await page.locator('#drawing').focus();
  await byNumbers('h', { diameter: '4', x: '60', y: '0' });
  await page.locator('[data-spot="hole 1"]').focus();
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Shift+ArrowLeft');
  const document = await hand.document();
  expect(document.ends).toEqual([
    { name: 'end 1', centre: [15, 0], radius: 7 },
    { name: 'end 2', centre: [60, 0], radius: 5 },
  ]);
  expect((document.holes as List)[0]).toMatchObject({ centre: [58.9, 0], diameter: 4 });
  await untilProven(page);
  await page.locator('.rail button', { hasText: 'Prove' }).click();
  expect(await page.locator('[data-verdict]').getAttribute('data-verdict')).toBe('fits');
  await page.close();
});

test('what is picked is pulled by its handles and moved with what belongs to it; a formula holds', async () => {
  const { page, hand } = await openPage();
  await openSample(page, 'Shutter link');
  // The link’s ends are stated by formulas: they are held, and say so.
  await page.locator('[data-spot="right end"]').focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => strip(page).textContent()).toContain('held by “centres/2”');
  const before = await hand.document();
  await page.getByRole('button', { name: 'free it' }).click();
  await page.locator('[data-spot="right end"]').focus();
  await page.keyboard.press('ArrowRight');
  const after = await hand.document();
  const ends = (d: Record<string, unknown>): List => d.ends as List;
  expect(ends(before)[1]!.centre).toEqual(['centres/2', 0.1]);
  expect(ends(after)[1]).toMatchObject({ centre: [36.1, 0.1], radius: 6 });
  // The hole that sits on it went up with it, and is held across by its own formula.
  expect((after.holes as List)[1]!.centre).toEqual(['centres/2', 0.1]);
  // A slot’s end is pulled by the mouse and catches in line with the other.
  await hand.click([0, 0]);
  await page.getByRole('button', { name: 'free it' }).click();
  const handle = page.locator('[data-handle="slots.0.to"]');
  await handle.hover();
  await page.mouse.down();
  const to = await hand.pixel([14, -0.4]);
  await page.mouse.move(to.x, to.y, { steps: 6 });
  await page.mouse.up();
  expect(((await hand.document()).slots as List)[0]!.to).toEqual([14, 0]);
  await page.close();
});

test('a figure on the drawing is pressed and written; the dimension behind it drives what hangs on it', async () => {
  const { page, hand } = await openPage();
  await openSample(page, 'Bellows lever');
  await page.locator('[data-measure="2.25"]').click();
  await page.keyboard.type('2.2');
  await page.keyboard.press('Enter');
  await expect.poll(() => strip(page).textContent()).toContain('“centres” is 2.2 now');
  expect((await hand.document()).dimensions).toMatchObject({ centres: 2.2 });
  // A nonsense figure is told and changes nothing.
  for (const [typed, told] of [
    ['zero', /not a number/],
    ['-3', /negative/],
    ['0', /./],
    ['1e9', /./],
  ] as const) {
    await page.locator('[data-measure="2.2"]').click();
    await page.keyboard.press('Control+A');
    await page.keyboard.type(typed);
    await page.keyboard.press('Enter');
    const alert = page.locator('.measure-form [role="alert"], [data-trouble-drawing]').first();
    expect(await alert.textContent(), typed).toMatch(told);
    await page.keyboard.press('Escape');
    expect((await hand.document()).dimensions).toMatchObject({ centres: 2.2 });
  }
  await page.close();
});

test('a box picks several; they are mirrored, doubled through the clipboard, removed, and undone', async () => {
  const { page, hand } = await emptyPart();
  await hand.draw('plate', [2, -9], [70, 9]);
  await hand.draw('hole', [20, 5], [21.5, 5]);
  await hand.draw('slot', [30, 5], [40, 5]);
  await page.keyboard.press('Escape');
  const [a, b] = [await hand.pixel([15, 2]), await hand.pixel([45, 8])];
  await page.keyboard.down('Shift');
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move(b.x, b.y, { steps: 4 });
  await page.mouse.up();
  await page.keyboard.up('Shift');
  await expect.poll(() => strip(page).textContent()).toMatch(/2 picked: (hole 1, slot 1|slot 1, hole 1)/);
  expect(await page.locator('.features .picked').count()).toBe(2);
  await page.getByRole('button', { name: 'mirror', exact: true }).click();
  await page.getByLabel('Direction of the mirror line').selectOption('level');
  await page.locator('.relay-form').getByRole('button', { name: 'do it' }).click();
  await expect.poll(() => strip(page).textContent()).toMatch(/2 picked: (hole 2, slot 2|slot 2, hole 2)/);
  let document = await hand.document();
  expect((document.holes as List)[1]).toMatchObject({ name: 'hole 2', centre: [20, -5] });
  expect((document.slots as List)[1]).toMatchObject({ from: [30, -5], to: [40, -5] });
  await page.keyboard.press('Delete');
  await expect.poll(async () => ((await hand.document()).holes as List).length).toBe(1);
  await page.locator('#drawing').focus();
  await page.keyboard.press('Control+z');
  await expect.poll(async () => ((await hand.document()).holes as List).length).toBe(2);
  // Through the clipboard, as text of our own.
  await hand.click([20, 5]);
  await page.keyboard.press('Control+c');
  await page.keyboard.press('Control+v');
  await expect.poll(async () => ((await hand.document()).holes as List).length).toBe(3);
  document = await hand.document();
  expect((document.holes as List)[2]).toMatchObject({ name: 'hole 3', diameter: 3 });
  // And a row of them.
  await page.keyboard.press('Control+z');
  await hand.click([20, 5]);
  await page.getByRole('button', { name: 'row', exact: true }).click();
  await page.getByLabel('Step across').fill('-6');
  await page.getByLabel('Step across').press('Tab');
  await page.locator('.relay-form').getByRole('button', { name: 'do it' }).click();
  await expect
    .poll(async () => ((await hand.document()).holes as List).map((h) => (h.centre as number[])[0]))
    .toEqual([20, 20, 14, 8]);
  await page.close();
});

test('a plate of many corners shows the side under way; its length, angle or end is typed', async () => {
  const { page, hand } = await emptyPart();
  await page.locator('[data-tool="plate"]').click();
  await hand.click([10, 0]);
  const far = await hand.pixel([30, 0]);
  await page.mouse.move(far.x, far.y);
  const size = (key: string) => page.locator(`[data-size="${key}"]`);
  await expect.poll(() => size('side').inputValue()).toBe('20');
  expect(await size('angle').inputValue()).toBe('0');
  // Digits go to the side’s length; Enter sets the corner.
  await page.keyboard.type('24.5');
  await page.keyboard.press('Enter');
  await page.keyboard.type('12.5');
  await page.keyboard.press('Tab');
  await page.keyboard.type('90');
  await page.keyboard.press('Enter');
  // The next one is tapped, the one after stands at a typed height.
  await hand.click([20, 18]);
  const left = await hand.pixel([10, 8]);
  await page.mouse.move(left.x, left.y);
  await size('y').fill('9');
  await page.keyboard.press('Enter');
  await hand.click([10, 0]);
  await expect
    .poll(async () => (await hand.document()).plates)
    .toEqual([
      {
        name: 'plate 1',
        corners: [
          [10, 0],
          [34.5, 0],
          [34.5, 12.5],
          [20, 18],
          [10, 9],
        ],
      },
    ]);
  await page.close();
});

test('a plate is laid by keys alone', async () => {
  const { page, hand } = await emptyPart();
  // The pencil is taken from its case by the arrow keys.
  await page.locator('[data-tool="end"]').focus();
  for (const key of ['ArrowLeft', 'Home', 'ArrowRight', 'ArrowRight', 'Enter'])
    await page.keyboard.press(key);
  await page.locator('#drawing').focus();
  await page.keyboard.press('Enter');
  for (const text of ['30', '14', '5', '-7']) {
    await page.keyboard.type(text);
    await page.keyboard.press('Tab');
  }
  await page.locator('[data-size="long"]').press('Enter');
  await expect
    .poll(async () => (await hand.document()).plates)
    .toEqual([
      {
        name: 'plate 1',
        rectangle: [
          [5, -7],
          [35, 7],
        ],
      },
    ]);
  await page.close();
});

test('what cannot be is told beside the pencil, stays to be mended, and leaves the part as it was', async () => {
  const { page, hand } = await openPage();
  await openSample(page, 'Vent latch lever');
  const before = await hand.saved();
  // A hole that breaks through the edge of the tip.
  await page.locator('[data-tool="hole"]').click();
  await hand.drag([45, 2], [48, 2]);
  const told = page.locator('[data-trouble-drawing]');
  expect(await told.textContent()).toMatch(/Not taken: .*edge/);
  expect(await hand.saved()).toBe(before);
  // Its figures are still there: mended, it is taken.
  await page.locator('[data-size="diameter"]').fill('2');
  await page.locator('[data-size="x"]').fill('45');
  await page.locator('[data-size="y"]').fill('0');
  await page.keyboard.press('Enter');
  await told.waitFor({ state: 'detached' });
  expect(((await hand.document()).holes as List).at(-1)).toMatchObject({ centre: [45, 0], diameter: 2 });
  // Nonsense in a size.
  await page.locator('[data-tool="hole"]').click();
  await page.locator('[data-tool="hole"]').click();
  for (const typed of ['0', '-2', 'NaN', '1e9', 'wide +', 'nothing_of_that_name']) {
    await page.locator('#drawing').focus();
    await page.keyboard.press('Enter');
    await page.locator('[data-size="diameter"]').fill(typed);
    await page.keyboard.press('Enter');
    expect(await told.textContent(), typed).toMatch(/Not taken: ./);
    await page.keyboard.press('Escape');
  }
  // An arm between ends that contain each other.
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'add end' }).click();
  const ends = ((await hand.document()).ends as List).length;
  expect(ends).toBe(3);
  await page.close();
});

test('the drawing is unfinished until its pieces are joined: it is said, nothing is planned, and then it is', async () => {
  const { page, hand } = await emptyPart();
  await hand.draw('end', [15, 0], [22, 0]);
  await hand.draw('end', [60, 0], [65, 0]);
  await expect.poll(() => page.locator('.part-findings').textContent()).toContain('2 pieces');
  expect(await page.locator('.frame').count()).toBe(0);
  await page.locator('.rail button', { hasText: 'Cut' }).click();
  await page.getByText('The drawing is not a whole part yet:').waitFor();
  await page.locator('.rail button', { hasText: 'Draw' }).click();
  await hand.draw('arm', [15, 0], [60, 0]);
  await expect.poll(() => page.locator('.part-findings').count()).toBe(0);
  await untilProven(page);
  expect(await page.locator('.frame').count()).toBeGreaterThan(3);
  await page.close();
});

test('a part that becomes much smaller is laid in the middle anew, and one of the same name as the last one too', async () => {
  const { page } = await openPage();
  await openSample(page, 'Shutter link');
  const scale = async (): Promise<number> =>
    Number(await page.locator('#drawing').evaluate((d) => d.dataset.scale));
  const before = await scale();
  const field = page.getByLabel('Scale or new value');
  await field.fill('0.25');
  await field.press('Tab');
  await page.locator('.scale-line').getByRole('button', { name: 'do it' }).click();
  await expect.poll(scale).toBeGreaterThan(before * 2);
  await page.locator('#drawing').focus();
  await page.keyboard.press('Control+z');
  await expect.poll(scale).toBeCloseTo(before, 6);
  await page.keyboard.press('-');
  await page.keyboard.press('-');
  await expect.poll(scale).toBeLessThan(before);
  await page.getByLabel('Open a sample').selectOption('Shutter link');
  await expect.poll(scale).toBeCloseTo(before, 6);
  await page.close();
});
