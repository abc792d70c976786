import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

const site = openSite();

/** What went wrong in a page, or left it: both must stay empty. */
interface Heard {
  readonly troubles: string[];
  readonly abroad: string[];
}

const open = async (
  sample = 'Vent latch lever',
  prepare?: (page: Page) => Promise<unknown>,
): Promise<{ page: Page; heard: Heard }> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await prepare?.(page);
  const heard: Heard = { troubles: [], abroad: [] };
  page.on('console', (m) => {
    if (m.type() === 'error' || m.type() === 'warning') heard.troubles.push(m.text());
  });
  page.on('pageerror', (e) => heard.troubles.push(e.message));
  page.on('request', (r) => {
    if (!r.url().startsWith(site.url) && !/^(data|blob):/.test(r.url())) heard.abroad.push(r.url());
  });
  await page.goto(site.url);
  await openSample(page, sample);
  await untilProven(page);
  return { page, heard };
};

const strip = async (page: Page): Promise<string> =>
  (await page.locator('[data-film-words]').textContent()) ?? '';
const webOnSection = async (page: Page): Promise<number> =>
  Number(await page.locator('.second-view').getAttribute('data-web'));

const frameCount = (page: Page): Promise<number> => page.locator('.frame').count();

const showPass = async (page: Page, index: number): Promise<void> => {
  await page.getByRole('slider', { name: 'Pass' }).fill(String(index));
  await page.locator(`.frame[data-still="${index}"][aria-pressed="true"]`).waitFor();
};

test('opens with a sample, goes through all five stages, and asks nothing of any other place', async () => {
  const { page, heard } = await open();
  for (const stage of ['Hold', 'Cut', 'Prove', 'Take away', 'Draw']) {
    await goTo(page, stage);
    expect(await page.locator('.rail [aria-current="step"]').textContent()).toContain(stage);
  }
  expect(await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content')).toContain(
    "script-src 'self'",
  );
  expect(heard).toEqual({ troubles: [], abroad: [] });
  await page.close();
});

test('every sample is planned and proven to fit', async () => {
  const { page } = await open();
  const samples = await page.getByLabel('Open a sample').locator('option').allTextContents();
  expect(samples.length).toBeGreaterThanOrEqual(5);
  await goTo(page, 'Prove');
  for (const sample of samples.slice(1)) {
    await openSample(page, sample);
    await untilProven(page);
    expect(await page.locator('[data-verdict]').getAttribute('data-verdict'), sample).toBe('fits');
  }
  await page.close();
});

test('a number that is changed by keyboard changes drawing, passes and proof; undo takes it back', async () => {
  const { page } = await open();
  await goTo(page, 'Cut');
  const before = await frameCount(page);
  const fork = page.locator('[data-step^="fork"]');
  expect(await fork.textContent()).toContain('6 passes');
  const depth = fork.getByLabel(/^Depth of a pass/);
  await depth.focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.type('0.8');
  await page.keyboard.press('Enter');
  await page.waitForFunction((n) => document.querySelectorAll('.frame').length > n, before);
  await untilProven(page);
  expect(await fork.textContent()).not.toContain(' 6 passes');
  expect(await frameCount(page)).toBeGreaterThan(before);

  await page.locator('#drawing').focus();
  await page.keyboard.press('Control+z');
  await page.waitForFunction((n) => document.querySelectorAll('.frame').length === n, before);
  expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
  await page.close();
});

test('a dimension takes a formula, and shows what it comes to', async () => {
  const { page } = await open();
  const field = page.getByLabel('Dimension body', { exact: true });
  await field.fill('wide / 5');
  await field.press('Enter');
  await expect.poll(() => page.locator('.figure', { has: field }).textContent()).toContain('= 3');
  await page.close();
});

test('a number that cannot be is told under its field, and the part stays as it was', async () => {
  const { page } = await open();
  const made = await page.locator('.bar-line').textContent();
  for (const [typed, told] of [
    ['0', /wide|width|0/i],
    ['-3', /./],
    ['seven', /seven/],
    ['wide +', /formula|end|expect|wide/i],
    ['1e9', /./],
  ] as const) {
    const field = page.getByLabel('Dimension wide', { exact: true });
    await field.fill(typed);
    await field.press('Enter');
    const alert = page.locator('.figure', { has: field }).getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent(), typed).toMatch(told);
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await page.locator('.bar-line').textContent(), typed).toBe(made);
    await field.press('Escape');
    expect(await field.inputValue()).toBe('15');
  }
  // Wider than the block it is cut into: the message names the fork and a number.
  const fork = page.getByLabel('Dimension fork', { exact: true });
  await fork.fill('14.6');
  await fork.press('Enter');
  const alert = page.locator('.figure', { has: fork }).getByRole('alert');
  expect(await alert.textContent()).toMatch(/fork.*\d/i);
  await page.close();
});

test('features are added and removed, and what would spoil the part is refused', async () => {
  const { page } = await open();
  const holes = page.locator('[data-field^="holes."][data-field$=".name"]');
  const before = await holes.count();
  await page.getByRole('button', { name: 'add hole' }).click();
  await expect.poll(() => holes.count()).toBe(before + 1);
  await page.getByRole('button', { name: 'Remove hole 1' }).click();
  await expect.poll(() => holes.count()).toBe(before);
  // The fork is cut into this plate.
  await page.getByRole('button', { name: 'Remove block', exact: true }).click();
  await page.getByText('Not removed:').waitFor();
  await page.close();
});

test('stepping through the passes, the support web is seen on the section and then seen to go', async () => {
  const { page } = await open();
  await goTo(page, 'Cut');
  const count = await frameCount(page);
  expect(count).toBeGreaterThan(15);
  const webs: number[] = [];
  await showPass(page, 0);
  await page.getByRole('slider', { name: 'Pass' }).focus();
  for (let i = 0; i < count; i++) {
    webs.push(await webOnSection(page));
    if (webs.at(-1)! > 0) expect(await page.locator('.second-view [data-web]').count()).toBeGreaterThan(0);
    await page.keyboard.press('ArrowRight');
  }
  const first = webs.findIndex((w) => w > 0);
  const last = webs.findLastIndex((w) => w > 0);
  expect(first).toBeGreaterThan(0);
  expect(webs[first]).toBeCloseTo(1.2, 2);
  // It is there with the fork's own last pass, neither earlier nor later.
  await showPass(page, first);
  expect(await strip(page)).toMatch(/fork, pass (\d+) of \1 /i);
  // It stands through every pass between, and only the releasing passes at the end thin it and take it away.
  expect(webs.slice(first, last + 1).every((w) => w > 0)).toBe(true);
  expect(webs.at(-1)).toBe(0);
  await showPass(page, last + 1);
  expect(await strip(page)).toMatch(/releas/i);
  await page.close();
});

test('the film plays by its button and stops at the end', async () => {
  const { page } = await open();
  await goTo(page, 'Cut');
  const count = await frameCount(page);
  await showPass(page, count - 3);
  await page.getByRole('button', { name: 'Play the passes' }).click();
  await page.locator(`.frame[data-still="${count - 1}"][aria-pressed="true"]`).waitFor();
  await page.getByRole('button', { name: 'Play the passes' }).waitFor();
  await page.close();
});

test('the section line is moved with mouse and keys, and the section follows', async () => {
  const { page } = await open();
  await goTo(page, 'Cut');
  const picture = () => page.locator('.second-view svg').innerHTML();
  const before = await picture();
  const handle = page.locator('[data-cut="to"]');
  await handle.focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowUp');
  await expect.poll(picture).not.toBe(before);
  expect(await handle.getAttribute('aria-label')).toContain(', 20');
  const moved = await picture();
  const box = (await page.locator('[data-cut="from"]').boundingBox())!;
  await page.mouse.move(box.x + 15, box.y + 15);
  await page.mouse.down();
  await page.mouse.move(box.x + 15, box.y + 60, { steps: 4 });
  await page.mouse.up();
  await expect.poll(picture).not.toBe(moved);
  await page.close();
});

test('a program line picks its pass and move, and the slider marks its lines', async () => {
  const { page } = await open();
  await goTo(page, 'Take away');
  const count = await frameCount(page);
  await showPass(page, 12);
  const marked = page.locator('.line-marked').first();
  await marked.waitFor();
  expect(await marked.textContent()).toContain('STEP');
  const number = Number(await page.locator('.line-marked').last().getAttribute('data-line'));
  await page.locator(`[data-line="${number}"]`).click();
  expect(await page.locator(`[data-line="${number}"]`).getAttribute('aria-selected')).toBe('true');
  // Down over the end of this pass by keys: the film goes on to the next one.
  const program = page.getByRole('listbox');
  await program.focus();
  const shown = async () =>
    Number(await page.locator('.frame[aria-pressed="true"]').getAttribute('data-still'));
  const here = await shown();
  for (let i = 0; i < 12 && (await shown()) === here; i++) await page.keyboard.press('ArrowDown');
  expect(await shown()).toBe(here + 1);
  expect(here + 1).toBeLessThan(count);
  await page.close();
});

test('a picked move is inked on the sheet', async () => {
  const { page } = await open();
  await goTo(page, 'Take away');
  await showPass(page, 12);
  await page.waitForTimeout(300);
  const sheet = () => page.locator('#sheet').screenshot();
  const before = await sheet();
  const number = Number(await page.locator('.line-marked').last().getAttribute('data-line'));
  await page.locator(`[data-line="${number - 1}"]`).click();
  await expect.poll(async () => (await sheet()).equals(before)).toBe(false);
  await page.close();
});

test('a finding and its place on the part pick each other', async () => {
  const { page } = await open('Winch bell crank');
  await goTo(page, 'Prove');
  const marks = page.locator('[data-mark]');
  expect(await marks.count()).toBeGreaterThan(0);
  await marks.first().click();
  const index = await marks.first().getAttribute('data-mark');
  expect(await page.locator(`[data-finding="${index}"] button`).getAttribute('aria-pressed')).toBe('true');
  const other = page.locator('[data-finding]').last();
  await other.getByRole('button').click();
  const mark = page.locator(`[data-mark="${await other.getAttribute('data-finding')}"]`);
  expect(await mark.getAttribute('aria-pressed')).toBe('true');
  await page.close();
});

test('holding and order are wishes written into the part, and can be put back', async () => {
  const { page } = await open();
  await goTo(page, 'Hold');
  const grip = page.getByLabel('Grip, setup 1');
  const proposed = await grip.inputValue();
  await grip.fill('2.6');
  await grip.press('Enter');
  await page.locator('[data-setup="1"]').getByText('put back as proposed').waitFor();
  await expect
    .poll(() => page.locator('[data-setup="1"] svg').getAttribute('aria-label'))
    .toContain('2.6 of 9');
  await page.locator('[data-setup="1"]').getByText('put back as proposed').click();
  await expect.poll(() => grip.inputValue()).toBe(proposed);

  await goTo(page, 'Cut');
  await untilProven(page);
  const names = () =>
    page.locator('[data-step]').evaluateAll((all) => all.map((e) => e.getAttribute('data-step')));
  const order = await names();
  await page
    .locator('[data-step]')
    .first()
    .getByLabel(/^Depth of a pass/)
    .focus();
  await page.keyboard.press('Alt+ArrowDown');
  await expect.poll(async () => (await names())[1]).toBe(order[0]);
  expect((await names()).toSorted()).toEqual(order.toSorted());
  await page.getByText('put the order back as proposed').click();
  await expect.poll(names).toEqual(order);
  await page.close();
});

/** Lets a test hold back what the page's workers answer: however quick they are, the page is seen waiting for them. */
const withAnswersHeld = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const Plain = window.Worker;
    const kept: (() => void)[] = [];
    let holding = false;
    window.Worker = class extends Plain {
      override set onmessage(hear: Worker['onmessage']) {
        super.onmessage = (event) => {
          const tell = () => hear?.call(this, event);
          if (holding) kept.push(tell);
          else tell();
        };
      }
    };
    Object.assign(window, {
      holdAnswers: () => {
        holding = true;
      },
      giveAnswers: () => {
        holding = false;
        for (const tell of kept.splice(0)) tell();
      },
    });
  });

test('the page goes on working while a plan is being made, and the newest edit wins', async () => {
  const { page } = await open('Vent latch lever', withAnswersHeld);
  await goTo(page, 'Draw');
  await page.evaluate('holdAnswers()');
  const field = page.getByLabel('Dimension body', { exact: true });
  for (const value of ['2.6', '2.7', '2.8', '3']) {
    await field.fill(value);
    await field.press('Enter');
  }
  // The plan is not there yet, but the stage changes and the drawing is moved at once.
  await page.locator('.progress').waitFor();
  await goTo(page, 'Cut');
  await page.getByRole('button', { name: 'Nearer' }).click();
  expect(await page.locator('.rail [aria-current="step"]').textContent()).toContain('Cut');
  expect(await page.locator('.progress').count()).toBe(1);
  await page.evaluate('giveAnswers()');
  await untilProven(page);
  await goTo(page, 'Draw');
  expect(await field.inputValue()).toBe('3');
  await goTo(page, 'Take away');
  const saved = page.waitForEvent('download');
  await page.getByRole('button', { name: /Save .*setup-2\.ngc/ }).click();
  const text = readFileSync(await (await saved).path(), 'utf8');
  // The body is thinned from the back to 9 − 3 = 6 mm deep, which only the last edit asks for.
  expect(text).toContain('Z-6.0');
  expect(text).not.toContain('Z-6.5');
  await page.close();
});

test('a feature that is clicked on the sheet is picked on the card, and the other way round', async () => {
  const { page } = await open();
  const picked = () => page.locator('.features li.picked').getAttribute('data-feature');
  const field = page.locator('[data-field="forks.0.width"]');
  await field.focus();
  const fork = await page.locator('[data-feature]', { has: field }).getAttribute('data-feature');
  expect(await picked()).toBe(fork);
  // Somewhere along the level line through the holes lies one of them.
  const from = (await page.locator('[data-cut="from"]').boundingBox())!;
  const to = (await page.locator('[data-cut="to"]').boundingBox())!;
  const names = new Set<string | null>();
  for (let x = from.x + 60; x < to.x - 20; x += 12) {
    await page.mouse.click(x, from.y + 15);
    if ((await page.locator('.features li.picked').count()) > 0) names.add(await picked());
  }
  const holes = await page
    .locator('[data-field^="holes."][data-field$=".name"]')
    .evaluateAll((all) => all.map((e) => (e as HTMLInputElement).value));
  expect(holes.length).toBe(2);
  for (const hole of holes) expect([...names]).toContain(hole);
  await page.close();
});

test('the drawing is moved and scaled by wheel, drag and keys, and fitted again', async () => {
  const { page } = await open();
  const handle = async () => (await page.locator('[data-cut="from"]').boundingBox())!;
  const start = await handle();
  await page.mouse.move(500, 420);
  await page.mouse.wheel(0, -300);
  await expect.poll(async () => (await handle()).x).toBeLessThan(start.x);
  const near = await handle();
  await page.mouse.down();
  await page.mouse.move(560, 460, { steps: 5 });
  await page.mouse.up();
  const dragged = await handle();
  expect(dragged.x - near.x).toBeCloseTo(60, 0);
  expect(dragged.y - near.y).toBeCloseTo(40, 0);
  await page.locator('#drawing').focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(async () => Math.round((await handle()).x - dragged.x)).toBe(-40);
  await page.keyboard.press('0');
  await expect.poll(async () => (await handle()).x).toBeCloseTo(start.x, 0);
  await page.close();
});

test('turned over, the drawing lies as the work does', async () => {
  const { page } = await open('Winch bell crank');
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await goTo(page, 'Cut');
  await showPass(page, 0);
  expect(await page.getByText('turned over: the back is up').count()).toBe(0);
  const handle = page.locator('[data-cut="to"]');
  await handle.focus();
  for (let i = 0; i < 2; i++) await page.keyboard.press('Shift+ArrowUp');
  const front = (await handle.boundingBox())!;
  const middle = (await page.locator('[data-cut="from"]').boundingBox())!;
  expect(front.y).toBeLessThan(middle.y);
  await showPass(page, (await frameCount(page)) - 1);
  await page.getByText('turned over: the back is up').waitFor();
  const back = (await handle.boundingBox())!;
  expect(back.x).toBeCloseTo(front.x, 0);
  expect(back.y - middle.y).toBeCloseTo(middle.y - front.y, 0);
  await page.close();
});
