import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';

/** A place on the sheet, mm. */
export type Place = readonly [number, number];

/** Draws on the page as a person does: mouse and keyboard only, places given in the part's mm. */
export interface Hand {
  /** Presses, drags and lets go with a tool in hand, in small steps. */
  draw(tool: string, from: Place, to?: Place): Promise<void>;
  drag(from: Place, to: Place): Promise<void>;
  click(at: Place): Promise<void>;
  /** Writes into a figure of the card and takes it with Enter. */
  write(field: string, text: string): Promise<void>;
  choose(field: string, word: string): Promise<void>;
  /** A named dimension more. */
  dimension(name: string, value: string): Promise<void>;
  pixel(at: Place): Promise<{ x: number; y: number }>;
  /** The document as the page saves it. */
  document(): Promise<Record<string, unknown>>;
  /** The text of the file that is saved. */
  saved(): Promise<string>;
}

/** Without the system's own file dialogs, which no test can press. */
export const withoutPickers = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
    Reflect.deleteProperty(window, 'showOpenFilePicker');
  });

export const handOf = (page: Page): Hand => {
  const pixel = async ([x, y]: Place) => {
    const [scale, nought] = await page
      .locator('#drawing')
      .evaluate((d) => [Number(d.dataset.scale), (d.dataset.nought ?? '').split(' ').map(Number)] as const);
    return { x: nought[0]! + x * scale, y: nought[1]! - y * scale };
  };
  const drag = async (from: Place, to: Place): Promise<void> => {
    const [a, b] = [await pixel(from), await pixel(to)];
    await page.mouse.move(a.x, a.y);
    await page.mouse.down();
    for (const t of [0.3, 0.7, 1]) await page.mouse.move(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
    await page.mouse.up();
  };
  const click = async (at: Place): Promise<void> => {
    const p = await pixel(at);
    await page.mouse.click(p.x, p.y);
  };
  const saved = async (): Promise<string> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save part' }).click(),
    ]);
    return readFileSync(await download.path(), 'utf8');
  };
  return {
    pixel,
    drag,
    click,
    draw: async (tool, from, to) => {
      const button = page.locator(`[data-tool="${tool}"]`);
      if ((await button.getAttribute('aria-pressed')) !== 'true') await button.click();
      if (to) await drag(from, to);
      else await click(from);
      const trouble = page.locator('[data-trouble-drawing]');
      if (await trouble.count()) throw new Error(`${tool} at ${from}: ${await trouble.textContent()}`);
    },
    write: async (field, text) => {
      const input = page.locator(`.card [data-field="${field}"]`);
      await input.focus();
      await page.keyboard.press('Control+A');
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
      const wrong = page.locator('.card .figure-wrong [role="alert"]');
      if (await wrong.count()) throw new Error(`${field} = ${text}: ${await wrong.first().textContent()}`);
    },
    choose: async (field, word) => {
      await page.locator(`.card [data-field="${field}"]`).selectOption(word);
    },
    dimension: async (name, value) => {
      const fresh = page.getByLabel('Name of a new dimension');
      await fresh.focus();
      await page.keyboard.type(name);
      await page.keyboard.press('Enter');
      const field = page.getByLabel(`Dimension ${name}`, { exact: true });
      await field.focus();
      await page.keyboard.press('Control+A');
      await page.keyboard.type(value);
      await page.keyboard.press('Enter');
    },
    saved,
    document: async () => JSON.parse(await saved()) as Record<string, unknown>,
  };
};

/** An empty part to draw on. */
export const beginPart = async (page: Page, name: string, unit: 'mm' | 'inch'): Promise<void> => {
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByLabel('Name of the new part').fill(name);
  await page.getByRole('radio', { name: unit === 'mm' ? /in mm/ : /in inches/ }).check();
  await page.keyboard.press('Enter');
  await page.waitForFunction((wanted) => document.title.startsWith(wanted), name);
};
