import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterEach, describe, expect, test } from 'vitest';
import { type PartDocument, writePart } from '../sketch/part/document.ts';
import { openLasting, openSample } from './browser.ts';
import { openSite } from './page-site.ts';

const site = openSite();
const open: BrowserContext[] = [];
const SAMPLE = JSON.parse(readFileSync('samples/vent-latch-lever.json', 'utf8')) as PartDocument;

afterEach(async () => {
  for (const context of open.splice(0)) await context.close().catch(() => undefined);
});

const DESK = { viewport: { width: 1440, height: 900 } };

/** A profile of its own, as of a person who has never been here. */
const person = async (): Promise<BrowserContext> => {
  const context = await site.browser.newContext(DESK);
  open.push(context);
  return context;
};

const windowOf = async (context: BrowserContext): Promise<Page> => {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.goto(site.url);
  await page.locator('h1').filter({ hasNotText: 'No part' }).waitFor();
  return page;
};

const heading = (page: Page): Promise<string | null> => page.locator('h1').textContent();
const notice = (page: Page, about: string) => page.locator(`[data-notice="${about}"]`);

/** Sets a named dimension on the card. */
const dimension = async (page: Page, name: string, value: string): Promise<void> => {
  const field = page.getByLabel(`Dimension ${name}`, { exact: true });
  await field.fill(value);
  await field.press('Enter');
};

/** The sample with dimensions changed, as its file reads. */
const changed = (dimensions: Record<string, number>): string =>
  writePart({ ...SAMPLE, dimensions: { ...SAMPLE.dimensions, ...dimensions } });

/** The text of the part that is open, by saving it. */
const savedText = async (page: Page): Promise<string> => {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save part' }).click();
  return readFileSync(await (await download).path(), 'utf8');
};

/** What lies in the browser's keeping place. */
const kept = (page: Page): Promise<readonly (readonly [string, unknown])[]> =>
  page.evaluate(
    () =>
      new Promise<[string, unknown][]>((done, fail) => {
        const opening = indexedDB.open('leverwright');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const store = opening.result.transaction('kept').objectStore('kept');
          const keys = store.getAllKeys();
          const values = store.getAll();
          values.onsuccess = () => {
            opening.result.close();
            done(keys.result.map((k, i) => [String(k), values.result[i]]));
          };
        };
      }),
  );

const putKept = (page: Page, key: string, value: unknown): Promise<void> =>
  page.evaluate(
    ([k, v]) =>
      new Promise<void>((done, fail) => {
        const opening = indexedDB.open('leverwright');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const writing = opening.result.transaction('kept', 'readwrite');
          writing.objectStore('kept').put(v, k as string);
          writing.oncomplete = () => {
            opening.result.close();
            done();
          };
        };
      }),
    [key, value] as const,
  );

/** Waits until the newest state is kept: the number of the dimension stands in what is kept. */
const untilKept = async (page: Page, text: RegExp): Promise<void> => {
  await expect
    .poll(async () =>
      (await kept(page)).some(([k, v]) => k.startsWith('part:') && text.test(JSON.stringify(v))),
    )
    .toBe(true);
};

describe('a part that is being drawn', () => {
  test('a first visit opens a sample and says nothing of bringing back', async () => {
    const page = await windowOf(await person());
    expect(await heading(page)).not.toBe('');
    expect(await page.locator('[data-notice]').count()).toBe(0);
  });

  test('comes back as it was, unsaved, after its window is closed without a question', async () => {
    const context = await person();
    const page = await windowOf(context);
    await openSample(page, 'Vent latch lever');
    await dimension(page, 'body', '2.75');
    await untilKept(page, /\\"body\\":2.75/);
    await page.close({ runBeforeUnload: true });
    await expect.poll(() => context.pages().length).toBe(0);

    const again = await windowOf(context);
    expect(await heading(again)).toBe('Vent latch lever');
    expect(await notice(again, 'restored').textContent()).toMatch(
      /Brought back as you left it at \d\d:\d\d\./,
    );
    expect(await again.locator('.bar-line').textContent()).toContain('not saved');
    expect(await savedText(again)).toBe(changed({ body: 2.75 }));
  });

  test('a sample can be had instead, and that is asked first', async () => {
    const context = await person();
    const page = await windowOf(context);
    await openSample(page, 'Vent latch lever');
    await dimension(page, 'body', '2.75');
    await untilKept(page, /2.75/);
    await page.reload();
    await notice(page, 'restored').getByRole('button', { name: 'open a sample instead' }).click();
    await page.getByText('The present part is not saved.').waitFor();
    await page.getByRole('button', { name: 'Open it' }).click();
    await expect.poll(() => heading(page)).not.toBe('Vent latch lever');
    expect(await notice(page, 'restored').count()).toBe(0);
  });

  test.each(['page', 'browser'] as const)(
    'loses nothing that was taken when the %s is killed mid-edit',
    async (what) => {
      const folder = mkdtempSync(join(tmpdir(), 'killed-'));
      try {
        let context = await openLasting(folder, DESK);
        let page = await windowOf(context);
        await openSample(page, 'Vent latch lever');
        for (const body of ['2.6', '2.7', '2.8', '2.9']) await dimension(page, 'body', body);
        // Typed and not yet taken when the end comes.
        await page.getByLabel('Dimension tip', { exact: true }).pressSequentially('99');
        const session = await context.newCDPSession(page);
        const killed = what === 'page' ? page.waitForEvent('crash') : context.waitForEvent('close');
        // The answer to this never comes.
        void session.send(what === 'page' ? 'Page.crash' : 'Browser.crash').catch(() => undefined);
        await killed;
        await context.close().catch(() => undefined);

        context = await openLasting(folder, DESK);
        open.push(context);
        page = await windowOf(context);
        expect(await savedText(page)).toBe(changed({ body: 2.9 }));
      } finally {
        for (const c of open.splice(0)) await c.close();
        rmSync(folder, { recursive: true, force: true });
      }
    },
  );

  test('undo and redo are kept as well', async () => {
    const context = await person();
    const page = await windowOf(context);
    await openSample(page, 'Vent latch lever');
    await dimension(page, 'body', '2.75');
    await dimension(page, 'body', '2.85');
    await page.getByRole('button', { name: 'Undo' }).click();
    await untilKept(page, /2\.75/);
    await page.close();
    expect(await savedText(await windowOf(context))).toBe(changed({ body: 2.75 }));
  });
});

describe('what was kept and cannot be brought back', () => {
  test.each([
    ['no part at all', { nonsense: true }, /not a part/],
    [
      'a part that cannot be made',
      { format: 'leverwright-kept', version: 1, name: 'Old', unsaved: true, at: 1, text: '{"format":"x"}' },
      /not a part file/,
    ],
  ])('%s is told, set aside and not deleted', async (_, value, told) => {
    const context = await person();
    const before = await windowOf(context);
    const [[own] = ['']] = (await kept(before)).filter(([k]) => k.startsWith('part:'));
    await before.goto('about:blank');
    // Written over by another page of the same origin.
    const other = await context.newPage();
    await other.goto(`${site.url}manifest.webmanifest`);
    await putKept(other, own, value);
    await other.close();

    await before.goto(site.url);
    const line = notice(before, 'aside');
    await line.waitFor();
    expect(await line.textContent()).toMatch(told);
    expect(await line.textContent()).toContain('set aside, not thrown away');
    expect(await heading(before)).not.toBe('No part is open');
    const entries = new Map(await kept(before));
    expect(entries.get(`aside:${own}`)).toEqual(value);
    const download = before.waitForEvent('download');
    await line.getByRole('button', { name: 'save it as a file' }).click();
    expect((await download).suggestedFilename()).toMatch(/set-aside\.json$/);
    // Told once: the next visit is as any other.
    await before.reload();
    await notice(before, 'restored').waitFor();
    expect(await notice(before, 'aside').count()).toBe(0);
  });

  test('what a newer program kept is left as it is', async () => {
    const context = await person();
    const page = await windowOf(context);
    const newer = { format: 'leverwright-kept', version: 2, parts: ['?'] };
    await putKept(page, 'part:of-tomorrow', newer);
    await page.reload();
    await notice(page, 'newer').waitFor();
    await dimension(page, 'wide', '0.8');
    expect(new Map(await kept(page)).get('part:of-tomorrow')).toEqual(newer);
  });
});

describe('a browser that keeps nothing', () => {
  test('is told once, and the page works on', async () => {
    const context = await person();
    await context.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('denied', 'SecurityError');
      };
    });
    const page = await windowOf(context);
    const line = notice(page, 'keeping');
    await line.waitFor();
    expect(await line.textContent()).toMatch(/keeps nothing.*Save the part as a file/);
    await openSample(page, 'Vent latch lever');
    await line.getByRole('button', { name: /Put away/ }).click();
    await dimension(page, 'body', '2.75');
    expect(await page.locator('.bar-line').textContent()).toContain('not saved');
    expect(await line.count()).toBe(0);
    expect(await savedText(page)).toBe(changed({ body: 2.75 }));
  });

  test('before unsaved work is lost with the window, the browser asks', async () => {
    const context = await person();
    await context.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('denied', 'SecurityError');
      };
    });
    const page = await windowOf(context);
    await openSample(page, 'Vent latch lever');
    await dimension(page, 'body', '2.75');
    const question = page.waitForEvent('dialog');
    void page.close({ runBeforeUnload: true });
    const dialog = await question;
    expect(dialog.type()).toBe('beforeunload');
    await dialog.accept();
  });

  test('a full one says so, and takes it back when there is room again', async () => {
    const context = await person();
    await context.addInitScript(() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...values: Parameters<typeof put>) {
        if ((window as unknown as { full?: boolean }).full)
          throw new DOMException('full', 'QuotaExceededError');
        return put.apply(this, values);
      };
    });
    const full = (page: Page, is: boolean) =>
      page.evaluate((f) => {
        (window as unknown as { full?: boolean }).full = f;
      }, is);
    const page = await windowOf(context);
    await openSample(page, 'Vent latch lever');
    await full(page, true);
    await dimension(page, 'body', '2.75');
    await notice(page, 'keeping').waitFor();
    expect(await notice(page, 'keeping').textContent()).toMatch(/no more room/);
    await full(page, false);
    await dimension(page, 'body', '2.85');
    await notice(page, 'keeping').waitFor({ state: 'detached' });
    await untilKept(page, /2\.85/);
  });
});

describe('two windows on one part', () => {
  test('notice each other, keep each its own, and both come back', async () => {
    const context = await person();
    const first = await windowOf(context);
    await openSample(first, 'Vent latch lever');
    await dimension(first, 'body', '2.75');
    await untilKept(first, /2\.75/);
    expect(await notice(first, 'windows').count()).toBe(0);

    const second = await windowOf(context);
    expect(await heading(second)).toBe('Vent latch lever');
    for (const page of [first, second]) {
      await notice(page, 'windows').waitFor();
      expect(await notice(page, 'windows').textContent()).toMatch(
        /Vent latch lever.*another window too.*its own/,
      );
    }
    await dimension(second, 'body', '2.95');
    await untilKept(second, /2\.95/);
    await dimension(first, 'tip', '5.4');
    await untilKept(first, /5\.4/);
    const parts = (await kept(first)).filter(([k]) => k.startsWith('part:'));
    expect(parts).toHaveLength(2);

    // Each loaded anew brings back its own, whichever was changed last.
    await second.reload();
    await notice(second, 'restored').waitFor();
    expect(await second.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.95');
    await first.reload();
    await notice(first, 'restored').waitFor();
    expect(await first.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.75');

    await first.close();
    await notice(second, 'windows').waitFor({ state: 'detached' });
    await second.close();
    const third = await windowOf(context);
    const list = third.locator('.left-behind');
    await list.locator('summary').click();
    const left = list.locator('[data-left-behind="Vent latch lever"]');
    expect(await left.count()).toBe(1);
    const here = await third.getByLabel('Dimension body', { exact: true }).inputValue();
    await left.getByRole('button', { name: /Open/ }).click();
    await third.getByRole('button', { name: 'Open it' }).click();
    const there = await third.getByLabel('Dimension body', { exact: true });
    await expect.poll(() => there.inputValue()).not.toBe(here);
    expect([here, await there.inputValue()].sort()).toEqual(['2.75', '2.95']);
  });

  test('a window that dies without a word is noticed to be gone', async () => {
    const context = await person();
    const first = await windowOf(context);
    const second = await windowOf(context);
    await notice(first, 'windows').waitFor();
    const session = await context.newCDPSession(second);
    const dead = second.waitForEvent('crash');
    void session.send('Page.crash').catch(() => undefined);
    await dead;
    await notice(first, 'windows').waitFor({ state: 'detached' });
  });

  test('windows on two parts have nothing to say', async () => {
    const context = await person();
    const first = await windowOf(context);
    await openSample(first, 'Vent latch lever');
    const second = await windowOf(context);
    await openSample(second, 'Winch bell crank');
    await notice(first, 'windows').waitFor({ state: 'detached' });
    expect(await notice(second, 'windows').count()).toBe(0);
  });

  test('what a window left and is no longer wanted can be thrown away', async () => {
    const context = await person();
    const first = await windowOf(context);
    await openSample(first, 'Vent latch lever');
    await dimension(first, 'body', '2.75');
    await untilKept(first, /2\.75/);
    const second = await windowOf(context);
    await openSample(second, 'Winch bell crank');
    await untilKept(second, /Winch bell crank/);
    await first.close();
    await second.reload();
    await second.locator('.left-behind summary').click();
    await second.getByRole('button', { name: /Throw Vent latch lever away/ }).click();
    await expect
      .poll(async () => (await kept(second)).filter(([, v]) => JSON.stringify(v).includes('2.75')).length)
      .toBe(0);
  });
});
