import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { openSample } from './browser.ts';
import { beginPart, type Hand, handOf, withoutPickers } from './drawing-hand.ts';
import { openSite } from './page-site.ts';

/** Where the keyboard is after an edit, and what it may write. */

const site = openSite();

const openPage = async (): Promise<{ page: Page; hand: Hand }> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await withoutPickers(page);
  await page.goto(site.url);
  await page.getByRole('button', { name: 'New', exact: true }).waitFor();
  return { page, hand: handOf(page) };
};
const atSheet = (page: Page) => page.evaluate(() => document.activeElement?.id === 'drawing');
const write = async (page: Page, label: string, text: string): Promise<void> => {
  await page.locator(`.card [aria-label="${label}"]`).focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
};

test('when what the keyboard was in is gone, it is at the sheet', async () => {
  const { page } = await openPage();
  await beginPart(page, 'Trial', 'mm');
  expect(await atSheet(page), 'a part begun').toBe(true);
  await page.keyboard.press('e');
  await page.keyboard.press('Enter');
  await page.locator('[data-size="radius"]').waitFor();
  await page.keyboard.type('8');
  await page.keyboard.press('Enter');
  await page.locator('[data-size]').first().waitFor({ state: 'detached' });
  expect(await atSheet(page), 'a stroke taken').toBe(true);
  await page.keyboard.press('Enter');
  await page.locator('[data-size="radius"]').waitFor();
  await page.keyboard.press('Escape');
  expect(await atSheet(page), 'a stroke let go').toBe(true);
  await page.keyboard.press('Escape');
  await page.locator('[data-measure="R8"]').click();
  await page.keyboard.type('9');
  await page.keyboard.press('Enter');
  await page.locator('[data-measure="R9"]').waitFor();
  expect(await atSheet(page), 'a measure written').toBe(true);
  const radius = page.locator('[data-strip="picked"] [aria-label^="Radius"]');
  await radius.focus();
  await page.keyboard.type('7');
  await page.keyboard.press('Escape');
  expect(await radius.inputValue(), 'Escape first lets go of what was typed').toBe('9');
  expect(await atSheet(page)).toBe(false);
  await page.keyboard.press('Escape');
  expect(await atSheet(page), 'and then of the strip').toBe(true);
  await page.getByRole('button', { name: 'ring', exact: true }).click();
  expect(await page.locator('.relay-form').evaluate((form) => form.contains(document.activeElement))).toBe(
    true,
  );
  await page.keyboard.press('Escape');
  expect(await atSheet(page), 'a way to repeat it left').toBe(true);
  await page.locator('[data-strip="picked"]').getByRole('button', { name: 'remove' }).click();
  expect(await atSheet(page), 'what was picked removed').toBe(true);
  await page.close();
});

test('inches are written as on a drawing, and no figure has more decimals than can be set', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'Trial', 'inch');
  await write(page, 'Width of the bar', '1 3/4');
  expect(((await hand.document()).bar as { width: unknown }).width).toBe('1 + 3/4');
  expect(await page.getByLabel('Least wall').inputValue()).toBe('0.0315');
  // What is wanting is said in words of the trade.
  for (const [label, told] of [
    ['Width of the bar', 'A number is wanted here.'],
    ['Name of the part', 'This cannot be left empty.'],
  ] as const) {
    await page.locator(`.card [aria-label="${label}"]`).focus();
    await page.keyboard.press('Control+A');
    await page.keyboard.press('Delete');
    await page.keyboard.press('Enter');
    expect(await page.locator('.card .figure-wrong [role="alert"]').textContent()).toBe(told);
    await page.keyboard.press('Escape');
  }
  // An arrow key is worth as much in a field as on the sheet.
  await write(page, 'Length of the bar', '3');
  await page.keyboard.press('ArrowUp');
  expect(await page.getByLabel('Length of the bar').inputValue()).toBe('3.005');
  await hand.draw('end', [20, 5], [26, 5]);
  await page.locator('[data-tool="arm"]').click();
  const [a, b] = [await hand.pixel([20, 5]), await hand.pixel([57.3, 13.1])];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move(b.x, b.y, { steps: 4 });
  const said = await page
    .locator('[data-size]')
    .evaluateAll((fields) => fields.map((f) => (f as HTMLInputElement).value));
  expect(said.length).toBeGreaterThan(2);
  for (const figure of said) expect(figure).toMatch(/^-?\d+(\.\d{1,4})?$/);
  await page.mouse.up();
  await page.keyboard.press('Escape');
  await page.locator('[data-measure^="R"]').first().click();
  await page.keyboard.type('3/16');
  await page.keyboard.press('Enter');
  await page.locator('[data-measure="R0.1875"]').first().waitFor();
  await page.close();
});

test('a measure that is left as it reads changes nothing; a scale that was done is not done again', async () => {
  const { page, hand } = await openPage();
  await openSample(page, 'Bellows lever');
  const before = await hand.saved();
  await page.locator('[data-measure="2 × R0.0938"]').click();
  await page.keyboard.press('Enter');
  await page.locator('.measure-form').waitFor({ state: 'detached' });
  expect(await hand.saved()).toBe(before);
  await write(page, 'Scale or new value', '1/2');
  await page.locator('.scale-line [role="status"]').waitFor();
  const half = await hand.saved();
  expect(half).not.toBe(before);
  expect(await page.locator('.scale-line').getByRole('button', { name: 'do it' }).isDisabled()).toBe(true);
  await page.keyboard.press('Enter');
  expect(await hand.saved()).toBe(half);
  await page.close();
});

test('on a phone the drawer goes in when there is something to draw on', async () => {
  const page = await site.browser.newPage({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  await withoutPickers(page);
  await page.goto(site.url);
  const drawer = page.locator('.drawer-handle');
  await drawer.tap();
  await beginPart(page, 'Thumb lever', 'mm');
  expect(await drawer.getAttribute('aria-expanded')).toBe('false');
  await page.locator('.first-hint').waitFor();
  await drawer.tap();
  expect(await drawer.getAttribute('aria-expanded')).toBe('true');
  await page.locator('[data-tool="end"]').tap();
  expect(await drawer.getAttribute('aria-expanded')).toBe('false');
  await page.close();
});

test('Enter goes from the sheet to what lies on it, and each is spoken of by what it is', async () => {
  const { page } = await openPage();
  await openSample(page, 'Winch bell crank');
  const spoken = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
  await page.locator('#drawing').focus();
  await page.keyboard.press('Enter');
  expect(await spoken()).toMatch(/^End pivot end, radius 8 mm/);
  await page.keyboard.press('Tab');
  await expect.poll(spoken).toMatch(/^End cable end/);
  // With something picked, to that.
  await page.locator('#drawing').focus();
  await page.keyboard.press('Enter');
  expect(await spoken()).toMatch(/^End cable end/);
  const measures = await page
    .locator('.measure-spot')
    .evaluateAll((spots) => spots.map((spot) => spot.getAttribute('aria-label')));
  expect(measures).toContain('R5 of the inside corners. Press to change it.');
  expect(measures).toContain('(39) over all. Press to change it.');
  await page.close();
});

test('arrows at the sheet move what is picked, and the sheet itself only when nothing is', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'Trial', 'mm');
  await hand.draw('end', [20, 0], [26, 0]);
  await page.keyboard.press('Escape');
  await hand.click([20, 3]);
  const nought = () => page.locator('#drawing').getAttribute('data-nought');
  const before = await nought();
  for (const key of ['ArrowRight', 'Shift+ArrowUp', 'Alt+ArrowRight']) await page.keyboard.press(key);
  expect(await nought()).toBe(before);
  expect((await hand.document()).ends).toMatchObject([{ centre: [20.11, 1] }]);
  await page.locator('#drawing').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('ArrowRight');
  await expect.poll(nought).not.toBe(before);
  expect((await hand.document()).ends).toMatchObject([{ centre: [20.11, 1] }]);
  await page.close();
});

test('while corners are set one by one it is said what comes next', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'Trial', 'mm');
  await page.locator('[data-tool="plate"]').click();
  await hand.click([10, -8]);
  await page.getByText('Tap the next corner.').waitFor();
  await hand.click([60, -8]);
  await hand.click([60, 8]);
  await page.getByText('or the first one again to close it').waitFor();
  await hand.click([10, -8]);
  expect((await hand.document()).plates).toMatchObject([
    {
      corners: [
        [10, -8],
        [60, -8],
        [60, 8],
      ],
    },
  ]);
  await page.close();
});

test('named dimensions: none is written over by its own name, a new name may be typed slowly, one in use stays', async () => {
  const { page, hand } = await openPage();
  await openSample(page, 'Winch bell crank');
  const told = () => page.locator('.card [role="alert"]').last().textContent();
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
  const before = await hand.saved();
  await page.getByLabel('Name of a new dimension').fill('long');
  await page.keyboard.press('Enter');
  expect(await told()).toBe('There is a dimension named “long” already.');
  expect(await focused()).toBe('Dimension long');
  expect(await hand.saved()).toBe(before);
  await page.getByLabel('Name of a new dimension').fill('web');
  await page.keyboard.press('Enter');
  await expect.poll(focused).toBe('Dimension web');
  await page.getByLabel('Name of dimension long').focus();
  await page.keyboard.press('Control+A');
  for (const part of ['re', 'ach']) {
    await page.keyboard.type(part);
    // Longer than the pause after which a figure is taken.
    await page.waitForTimeout(500);
  }
  await page.keyboard.press('Enter');
  expect(await focused()).toBe('Name of dimension reach');
  expect((await hand.document()).ends).toMatchObject([{}, { centre: ['reach', 0] }, {}]);
  await page.getByRole('button', { name: 'Remove dimension reach' }).click();
  expect(await told()).toMatch(/^“reach” was not removed: something leans on it\./);
  await page.close();
});

test('an end that is removed on the card takes its arms with it, and says so', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'Trial', 'mm');
  await hand.draw('end', [14, 0], [23, 0]);
  await hand.draw('end', [60, 0], [66, 0]);
  await hand.draw('arm', [14, 0], [60, 0]);
  await page.getByRole('button', { name: 'Remove end 2', exact: true }).click();
  await page.getByText('Gone with it: end 1 – end 2.').waitFor();
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('add end');
  const left = await hand.document();
  expect(left.arms).toBeUndefined();
  expect(left.ends).toMatchObject([{ name: 'end 1' }]);
  await page.close();
});

test('before work is lost the keyboard is at the answer that loses nothing, and both parts are named', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'One', 'mm');
  await hand.draw('end', [14, 0], [23, 0]);
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByLabel('Name of the new part').fill('Two');
  await page.keyboard.press('Enter');
  await page.getByText('Open “Two” and let go what was changed in “One”?').waitFor();
  await page.keyboard.press('Enter');
  expect(await page.title()).toMatch(/^One/);
  expect(await atSheet(page)).toBe(true);
  await page.close();
});

test('a reason stands within the strip it is told in', async () => {
  const { page, hand } = await openPage();
  await beginPart(page, 'Trial', 'mm');
  await hand.draw('end', [14, 0], [23, 0]);
  await hand.draw('end', [40, 0], [43, 0]);
  await hand.draw('arm', [14, 0], [40, 0]);
  await page.keyboard.press('Escape');
  await hand.click([40, 2]);
  await page.locator('[data-strip="picked"] [aria-label="Centre of end 2, across"]').focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.type('15');
  await page.keyboard.press('Enter');
  const told = page.locator('[data-strip="picked"] [role="alert"]');
  expect(await told.textContent()).toMatch(/lies within end “end 1”/);
  const [text, strip] = [await told.boundingBox(), await page.locator('[data-strip="picked"]').boundingBox()];
  expect(text!.x + text!.width).toBeLessThanOrEqual(strip!.x + strip!.width);
  await page.close();
});
