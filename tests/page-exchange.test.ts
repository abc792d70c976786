import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, test } from 'vitest';
import { writeDxf } from '../sketch/exchange/dxf-out.ts';
import { areaBetween } from '../sketch/exchange/likeness.ts';
import { planRegion } from '../sketch/exchange/plan.ts';
import { readPart } from '../sketch/part/document.ts';
import type { Part } from '../sketch/part/part.ts';
import { openSample } from './browser.ts';
import { drawingDxf, drawingSvg, type Groups, lineGroups } from './exchange-files.ts';
import { openSite } from './page-site.ts';
import { SAMPLES, samplePart } from './samples.ts';

const site = openSite();

afterEach(async () => {
  for (const context of site.browser.contexts()) await context.close();
});

const DESK = { viewport: { width: 1440, height: 900 } };

/** The page with a sample open, with stand-ins for the browser's own file dialogs where these are wanted. */
const desk = async (sample = 'Vent latch lever', standIns?: () => void): Promise<Page> => {
  const page = await site.browser.newPage(DESK);
  page.setDefaultTimeout(20_000);
  if (standIns) await page.addInitScript(standIns);
  await page.goto(site.url);
  await page.locator('h1').filter({ hasNotText: 'No part' }).waitFor();
  await openSample(page, sample);
  return page;
};

const heading = (page: Page): Promise<string | null> => page.locator('h1').textContent();
const spread = (page: Page): Promise<void> => page.locator('.in-and-out summary').click();
const bringIn = (page: Page, name: string, text: string): Promise<void> =>
  page
    .getByLabel('Bring in a drawing')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(text) });
const card = (page: Page) => page.getByRole('region', { name: 'Bring in a drawing' });

const downloaded = async (page: Page, button: string | RegExp): Promise<{ name: string; text: string }> => {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const file = await download;
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
};

const openPart = async (page: Page): Promise<Part> => {
  const reading = readPart((await downloaded(page, 'Save part')).text);
  if (!reading.ok) throw new Error(reading.findings[0]?.message);
  return reading.part;
};

const dimension = async (page: Page, name: string, value: string): Promise<void> => {
  const field = page.getByLabel(`Dimension ${name}`, { exact: true });
  await field.fill(value);
  await field.press('Enter');
  await page.locator('.bar-line').filter({ hasText: 'not saved' }).waitFor();
};

describe('a new part', () => {
  test.each([
    ['mm', 'in mm', 'Bar 80 × 20 × 6 mm, low-carbon steel'],
    ['inch', 'in inches', 'Bar 3 × 0.75 × 0.25 in, low-carbon steel'],
  ])('in %s is begun by keyboard, with nothing drawn yet', async (unit, words, bar) => {
    const page = await desk();
    await page.getByRole('button', { name: 'New', exact: true }).press('Enter');
    await page.keyboard.type('Tumbler arm');
    await page.getByLabel(words).check();
    await page.keyboard.press('Enter');
    await expect.poll(() => heading(page)).toBe('Tumbler arm');
    expect(await page.locator('.bar-line').textContent()).toBe(bar);
    expect(await page.getByLabel('Name of the new part').count()).toBe(0);
    const part = await openPart(page);
    expect(part.unit).toBe(unit);
    expect([part.ends, part.arms, part.plates, part.holes].flat()).toEqual([]);
    await spread(page);
    expect(await page.getByRole('button', { name: 'Take out DXF' }).isDisabled()).toBe(true);
  });

  test('asks before unsaved work is lost, and can be let be', async () => {
    const page = await desk();
    await dimension(page, 'body', '2.75');
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByRole('button', { name: 'Begin' }).click();
    await page.getByText('The present part is not saved.').waitFor();
    await page.getByRole('button', { name: 'Keep this one' }).click();
    await page.getByRole('button', { name: 'Not now' }).click();
    expect(await heading(page)).toBe('Vent latch lever');
    expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.75');
  });
});

describe('out and in again', () => {
  test.each(SAMPLES)('%s by DXF and by SVG is the same region', async (name) => {
    const sample = samplePart(name);
    const page = await desk(sample.name);
    await spread(page);
    const dxf = await downloaded(page, 'Take out DXF');
    const svg = await downloaded(page, 'Take out SVG');
    expect(dxf.name).toMatch(/^[\w-]+\.dxf$/);
    for (const file of [dxf, svg]) {
      await page.getByRole('button', { name: 'New', exact: true }).click();
      await page.getByRole('button', { name: 'Begin' }).click();
      await expect.poll(() => heading(page)).toBe('New part');
      await bringIn(page, file.name, file.text);
      await card(page).locator('[data-became]').waitFor();
      await card(page).getByRole('button', { name: 'Take it' }).click();
      await card(page).waitFor({ state: 'detached' });
      expect(await page.locator('.bar-line').textContent()).toContain('not saved');
      const part = await openPart(page);
      expect(areaBetween(planRegion(part), planRegion(sample))).toBeLessThan(0.01);
      expect(part.holes).toHaveLength(sample.holes.length);
      expect(part.forks).toHaveLength(sample.forks.length);
    }
  });
});

/** The sheet's scale, pixels per mm, by the ends of the section line, which lie on the bar's ends but for a margin. */
const pixelsPerMm = async (page: Page): Promise<number> => {
  const at = async (which: string) => {
    const handle = page.locator(`[data-cut="${which}"]`);
    const label = (await handle.getAttribute('aria-label')) ?? '';
    const box = await handle.boundingBox();
    return { mm: Number(/at (-?[\d.]+),/.exec(label)?.[1]), px: (box?.x ?? 0) + (box?.width ?? 0) / 2 };
  };
  const [from, to] = [await at('from'), await at('to')];
  return (to.px - from.px) / (to.mm - from.mm);
};

/** What is on the sheet, as one value for each pixel; against what was there before, the box of what has changed. */
const inkRows = async (
  page: Page,
  before?: { readonly pixels: string },
): Promise<{ pixels: string; count: number; left: number; right: number; top: number; bottom: number }> => {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  return page.evaluate((was) => {
    const canvas = document.querySelector<HTMLCanvasElement>('#sheet');
    const pen = canvas?.getContext('2d');
    if (!canvas || !pen) throw new Error('no sheet');
    const { data, width, height } = pen.getImageData(0, 0, canvas.width, canvas.height);
    const k = canvas.clientWidth / width;
    const box = { count: 0, left: width, right: 0, top: height, bottom: 0 };
    const grey = (i: number): string => ((data[4 * i + 3] ?? 0) > 60 ? 'x' : ' ');
    const pixels: string[] = [];
    for (let i = 0; i < width * height; i++) {
      const g = grey(i);
      pixels.push(g);
      if (was === null || was[i] === g) continue;
      box.count++;
      box.left = Math.min(box.left, (i % width) * k);
      box.right = Math.max(box.right, (i % width) * k);
      box.top = Math.min(box.top, Math.floor(i / width) * k);
      box.bottom = Math.max(box.bottom, Math.floor(i / width) * k);
    }
    return { pixels: pixels.join(''), ...box };
  }, before?.pixels ?? null);
};

const NO_UNIT = drawingSvg(
  '<path d="M0 0H50V20H0Z"/><path d="M15 10C15 13 10 13 10 10S15 7 15 10Z"/><text>A</text><image/><text>B</text>',
  'viewBox="0 0 60 30"',
);

describe('a drawing that is brought in', () => {
  test('is asked for what it does not say, and says what it became and what was left out', async () => {
    const page = await desk();
    await spread(page);
    await bringIn(page, 'bracket.svg', NO_UNIT);
    const unit = card(page).getByLabel('Unit of the drawing');
    await unit.waitFor();
    expect(await card(page).textContent()).toContain('does not say what its 50 × 20 is measured in');
    expect(await card(page).getByRole('button', { name: 'Take it' }).count()).toBe(0);
    await unit.selectOption({ label: 'inch: 1270 × 508 mm' });
    await card(page).getByText('Recognised in 50 × 20 in:').waitFor();
    await unit.selectOption({ label: 'mm: 50 × 20 mm' });
    await card(page).getByText('Recognised in 50 × 20 mm:').waitFor();
    expect(await card(page).locator('[data-left-out]').textContent()).toMatch(/2 × text[\s\S]*1 × image/);
    expect(await card(page).textContent()).toMatch(/curves were followed by lines and arcs within/);
    const within = card(page).getByLabel('Curves are followed within, mm');
    expect(await within.inputValue()).toBe('0.01');
    await within.fill('5');
    await within.press('Enter');
    await card(page).getByText('Between 0.001 and 1 mm.').waitFor();
    await within.fill('0.1');
    await within.press('Enter');
    await expect.poll(() => within.getAttribute('aria-invalid')).toBe('false');
    const thick = card(page).getByLabel('Thickness, mm');
    await thick.fill('no');
    await thick.press('Enter');
    await card(page).getByText('“no” is not a number.').waitFor();
    await thick.fill('4.5');
    await thick.press('Enter');
    await card(page).getByLabel('Material').selectOption('brass');
    await card(page).getByLabel('Name of the part').fill('Bracket');
    await card(page).getByLabel('Name of the part').press('Enter');
    await card(page).getByRole('button', { name: 'Take it' }).click();
    await expect.poll(() => heading(page)).toBe('Bracket');
    const part = await openPart(page);
    expect(part.bar).toMatchObject({ thickness: 4.5, material: 'brass', length: 50, width: 20 });
  });

  test('may be let be, and the part is as it was', async () => {
    const page = await desk();
    await dimension(page, 'body', '2.75');
    await spread(page);
    await bringIn(page, 'yoke.dxf', writeDxf(samplePart('damper-yoke')));
    await card(page).locator('[data-became]').waitFor();
    await card(page).getByRole('button', { name: 'Take it' }).click();
    await page.getByRole('button', { name: 'Keep this one' }).click();
    await card(page).getByRole('button', { name: 'Let it be' }).click();
    expect(await heading(page)).toBe('Vent latch lever');
    expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.75');
  });

  test('that is not plain is named, and can be laid under the sheet instead, true to size', async () => {
    const page = await desk();
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByLabel('in mm').check();
    await page.getByRole('button', { name: 'Begin' }).click();
    await expect.poll(() => heading(page)).toBe('New part');
    await spread(page);
    await bringIn(page, 'oval.svg', drawingSvg('<ellipse cx="130" cy="20" rx="25" ry="14"/>'));
    await card(page).getByText('is not plainly made of round ends').waitFor();
    expect(await card(page).getByRole('button', { name: 'Take it' }).count()).toBe(0);
    const bare = await inkRows(page);
    await card(page).getByRole('button', { name: 'Lay it under the sheet' }).click();
    await page.getByText('Under the sheet: oval.svg').waitFor();
    expect(await heading(page)).toBe('New part');
    // It lies about the middle of the bar, wider than it is high by its own measure.
    await expect.poll(async () => (await inkRows(page, bare)).count).toBeGreaterThan(200);
    const laid = await inkRows(page, bare);
    const scale = await pixelsPerMm(page);
    expect((laid.right - laid.left) / scale).toBeCloseTo(50, 0);
    expect((laid.bottom - laid.top) / scale).toBeCloseTo(28, 0);
    const handles = await Promise.all(
      ['from', 'to'].map(async (which) => page.locator(`[data-cut="${which}"]`).boundingBox()),
    );
    const middle = handles.reduce((sum, h) => sum + (h?.x ?? 0) + (h?.width ?? 0) / 2, 0) / 2;
    expect((laid.left + laid.right) / 2).toBeCloseTo(middle, -0.5);
  });

  test.each([
    ['nothing', 'empty.dxf', '', /no line, arc or circle/],
    ['a letter', 'letter.dxf', 'Dear Sir,\n', /Line 1: .*“Dear Sir,”/],
    ['a binary file', 'binary.dxf', 'Some Binary DXF\r\n\u001a\0\0', /save it as ASCII/],
    ['no XML', 'torn.svg', '<svg><g>', /Line 1/],
    ['an absurd size', 'far.dxf', drawingDxf(lineGroups(0, 0, 1e9, 0)), /unit/],
  ])('of %s is refused with the reason, and the part is untouched', async (_, name, text, told) => {
    const page = await desk();
    await spread(page);
    await bringIn(page, name, text);
    const said = card(page).getByRole('alert');
    await said.waitFor();
    expect(await said.textContent()).toMatch(told);
    expect(await said.textContent()).toContain('The present part is untouched.');
    await card(page).getByRole('button', { name: 'Let it be' }).click();
    expect(await card(page).count()).toBe(0);
    expect(await heading(page)).toBe('Vent latch lever');
  });
});

/** Counts the frames that are drawn from now on. */
const watchFrames = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const w = window as unknown as { frames: number };
    w.frames = 0;
    const tick = (): void => {
      w.frames++;
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });
const frames = (page: Page): Promise<number> =>
  page.evaluate(() => (window as unknown as { frames: number }).frames);

describe('a drawing far too long', () => {
  const circles = (n: number): string =>
    drawingDxf(
      Array.from(
        { length: n },
        (_, i): Groups => [
          [0, 'CIRCLE'],
          [10, i % 100],
          [20, Math.floor(i / 100)],
          [40, 0.2],
        ],
      ).flat(),
    );

  test('of 10 000 entities is answered, and the page lives meanwhile', async () => {
    const page = await desk();
    await spread(page);
    await watchFrames(page);
    await bringIn(page, 'many.dxf', circles(10_000));
    await card(page).getByText('10000 closed outlines').waitFor();
    expect(await frames(page)).toBeGreaterThan(5);
    expect(await heading(page)).toBe('Vent latch lever');
  });

  test('of 50 MB is read apart from the page, and may be stopped', async () => {
    const page = await desk();
    await spread(page);
    // Every entity is of a kind that is not read, so that the whole of it must be gone through.
    const length = await page.evaluate(() => {
      const hatch = '0\nHATCH\n8\n0\n10\n1.25\n20\n2.5\n';
      const text = `0\nSECTION\n2\nENTITIES\n${hatch.repeat(1_900_000)}0\nENDSEC\n0\nEOF\n`;
      const carrier = new DataTransfer();
      carrier.items.add(new File([text], 'long.dxf'));
      (window as unknown as { carrier: DataTransfer }).carrier = carrier;
      return text.length;
    });
    expect(length).toBeGreaterThan(50_000_000);
    const drop = (): Promise<void> =>
      page.evaluate(() => {
        const { carrier } = window as unknown as { carrier: DataTransfer };
        window.dispatchEvent(
          new DragEvent('drop', { dataTransfer: carrier, bubbles: true, cancelable: true }),
        );
      });
    await watchFrames(page);
    await drop();
    await card(page).getByRole('button', { name: 'Stop reading' }).click();
    expect(await card(page).count()).toBe(0);
    await drop();
    await card(page)
      .getByText(/Reading 5\d MB/)
      .waitFor();
    await card(page).getByRole('alert').waitFor();
    expect(await card(page).getByRole('alert').textContent()).toMatch(
      /no line, arc or circle.*1900000 × HATCH/,
    );
    expect(await frames(page)).toBeGreaterThan(5);
    expect(await heading(page)).toBe('Vent latch lever');
  });
});

describe('dropped on the page', () => {
  const drop = (page: Page, name: string, text: string): Promise<void> =>
    page.evaluate(
      ([n, t]) => {
        const carrier = new DataTransfer();
        carrier.items.add(new File([t], n));
        const over = { dataTransfer: carrier, bubbles: true, cancelable: true };
        document.body.dispatchEvent(new DragEvent('dragover', over));
        document.body.dispatchEvent(new DragEvent('drop', over));
      },
      [name, text] as const,
    );

  test('a part opens, a drawing is brought in, anything else is named', async () => {
    const page = await desk();
    await drop(page, 'crank.json', readFileSync('samples/winch-bell-crank.json', 'utf8'));
    await expect.poll(() => heading(page)).toBe('Winch bell crank');
    await drop(page, 'notes.pdf', 'x');
    const said = page.locator('[data-trouble]');
    await said.waitFor();
    expect(await said.textContent()).toMatch(
      /“notes\.pdf” is neither a part .*The present part is untouched/,
    );
    await drop(page, 'yoke.DXF', writeDxf(samplePart('damper-yoke')));
    await card(page).locator('[data-became]').waitFor();
    expect(await page.locator('.drop-here').count()).toBe(0);
  });
});

/** Stand-ins for the browser's file dialogs, which no test can drive: a disk within the page. */
const disk = (): void => {
  interface Disk {
    files: Record<string, { text: string; at: number }>;
    pick: string | null;
    asked: string[];
    broken: string | null;
  }
  const d: Disk = { files: {}, pick: null, asked: [], broken: null };
  let clock = 1000;
  const handle = (name: string) => ({
    kind: 'file',
    name,
    getFile: async () => {
      const f = d.files[name];
      if (!f) throw new DOMException('gone', 'NotFoundError');
      return new File([f.text], name, { lastModified: f.at });
    },
    queryPermission: async () => 'granted',
    createWritable: async () => {
      if (d.broken) throw new DOMException('broken', d.broken);
      let text = '';
      return {
        write: async (t: string) => {
          text += t;
        },
        close: async () => {
          d.files[name] = { text, at: ++clock };
        },
        abort: async () => undefined,
      };
    },
  });
  const pick = (): ReturnType<typeof handle> => {
    if (d.pick === null) throw new DOMException('closed', 'AbortError');
    return handle(d.pick);
  };
  Object.assign(window, {
    disk: d,
    showSaveFilePicker: async (o: { suggestedName: string }) => {
      d.asked.push(o.suggestedName);
      return pick();
    },
    showOpenFilePicker: async () => [pick()],
  });
};

interface DiskNow {
  readonly files: Record<string, { text: string; at: number }>;
  readonly asked: readonly string[];
}
const diskOf = (page: Page): Promise<DiskNow> =>
  page.evaluate(() => (window as unknown as { disk: DiskNow }).disk);
const setDisk = (page: Page, change: object): Promise<void> =>
  page.evaluate((c) => {
    Object.assign((window as unknown as { disk: object }).disk, c);
  }, change);

describe('with the browser’s own file dialogs', () => {
  const saved = (page: Page): Promise<void> =>
    expect.poll(() => page.locator('.bar-line').textContent()).not.toContain('not saved');
  const save = (page: Page): Promise<void> => page.getByRole('button', { name: 'Save part' }).click();

  test('the part is saved to the same file again, elsewhere when wished, and not when the dialog is closed', async () => {
    const page = await desk('Vent latch lever', disk);
    await dimension(page, 'body', '2.75');
    await save(page);
    await expect.poll(async () => (await diskOf(page)).asked).toEqual(['vent-latch-lever.json']);
    expect((await diskOf(page)).files).toEqual({});
    expect(await page.locator('.bar-line').textContent()).toContain('not saved');
    expect(await page.locator('[data-trouble]').count()).toBe(0);

    await setDisk(page, { pick: 'mine.json' });
    await save(page);
    await saved(page);
    await dimension(page, 'body', '2.85');
    await save(page);
    await saved(page);
    const now = await diskOf(page);
    expect(now.asked).toHaveLength(2);
    expect(JSON.parse(now.files['mine.json']?.text ?? '')).toMatchObject({ dimensions: { body: 2.85 } });

    await setDisk(page, { pick: 'other.json' });
    await dimension(page, 'body', '2.95');
    await spread(page);
    await page.getByRole('button', { name: 'Save as …' }).click();
    await saved(page);
    await dimension(page, 'body', '2.65');
    await save(page);
    await saved(page);
    const then = await diskOf(page);
    expect(JSON.parse(then.files['mine.json']?.text ?? '')).toMatchObject({ dimensions: { body: 2.85 } });
    expect(JSON.parse(then.files['other.json']?.text ?? '')).toMatchObject({ dimensions: { body: 2.65 } });
  });

  test('a file that was opened is saved to; one changed meanwhile by somebody else is asked about first', async () => {
    const page = await desk('Vent latch lever', disk);
    const text = readFileSync('samples/winch-bell-crank.json', 'utf8');
    await setDisk(page, { pick: 'crank.json', files: { 'crank.json': { text, at: 500 } } });
    await page.getByLabel('Open a part file').press('Space');
    await expect.poll(() => heading(page)).toBe('Winch bell crank');
    const name = page.getByRole('textbox', { name: /^Dimension / }).first();
    const before = await name.inputValue();
    await name.fill(String(Number(before) * 1.001));
    await name.press('Enter');
    await page.locator('.bar-line').filter({ hasText: 'not saved' }).waitFor();
    // Somebody else writes to it.
    await setDisk(page, { files: { 'crank.json': { text: '{"theirs": 1}', at: 900 } } });
    await save(page);
    await page.getByText('has been changed by another window or program').waitFor();
    expect((await diskOf(page)).files['crank.json']?.text).toBe('{"theirs": 1}');
    await page.getByRole('button', { name: 'Leave it' }).click();
    await save(page);
    await setDisk(page, { pick: 'crank-2.json' });
    await page.getByRole('button', { name: 'Save under another name' }).click();
    await saved(page);
    const { files } = await diskOf(page);
    expect(files['crank.json']?.text).toBe('{"theirs": 1}');
    expect(readPart(files['crank-2.json']?.text).ok).toBe(true);
    expect((await diskOf(page)).asked).toEqual(['winch-bell-crank.json']);
  });

  test.each([
    ['NotFoundError', /no longer where it was/],
    ['NotAllowedError', /does not allow it/],
    ['QuotaExceededError', /no room left on the disk/],
  ])('a disk that answers %s is told, and nothing is lost', async (broken, told) => {
    const page = await desk('Vent latch lever', disk);
    await setDisk(page, { pick: 'mine.json', broken });
    await dimension(page, 'body', '2.75');
    await save(page);
    const said = page.locator('[data-trouble]');
    await said.waitFor();
    expect(await said.textContent()).toMatch(told);
    expect(await page.locator('.bar-line').textContent()).toContain('not saved');
    await setDisk(page, { broken: null });
    await save(page);
    await saved(page);
    expect(await said.count()).toBe(0);
  });

  test('after the page is loaded anew, the part still goes to its own file', async () => {
    // A true handle, of the page's private folder, in place of one from a dialog.
    const page = await desk('Vent latch lever', () => {
      Object.assign(window, {
        dialogs: 0,
        showSaveFilePicker: async () => {
          (window as unknown as { dialogs: number }).dialogs++;
          return (await navigator.storage.getDirectory()).getFileHandle('lever.json', { create: true });
        },
      });
    });
    await dimension(page, 'body', '2.75');
    await save(page);
    await saved(page);
    await dimension(page, 'body', '2.85');
    await expect.poll(() => page.locator('.bar-line').textContent()).toContain('not saved');
    await page.reload();
    await page.locator('[data-notice="restored"]').waitFor();
    await save(page);
    await saved(page);
    expect(await page.evaluate(() => (window as unknown as { dialogs: number }).dialogs)).toBe(0);
    const text = await page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      return (await (await folder.getFileHandle('lever.json')).getFile()).text();
    });
    expect(JSON.parse(text)).toMatchObject({ dimensions: { body: 2.85 } });
  });

  test('a broken file that is opened leaves the part and its file alone', async () => {
    const page = await desk('Vent latch lever', disk);
    await setDisk(page, { pick: 'mine.json' });
    await dimension(page, 'body', '2.75');
    await save(page);
    await saved(page);
    const { files } = await diskOf(page);
    await setDisk(page, {
      pick: 'newer.json',
      files: { ...files, 'newer.json': { text: '{"format":"leverwright-part","version":99}', at: 1 } },
    });
    await page.getByLabel('Open a part file').press('Space');
    const said = page.locator('[data-trouble]');
    await said.waitFor();
    expect(await said.textContent()).toMatch(/newer\.json.*version 99.*untouched/);
    await dimension(page, 'body', '2.85');
    await save(page);
    await saved(page);
    expect(JSON.parse((await diskOf(page)).files['mine.json']?.text ?? '')).toMatchObject({
      dimensions: { body: 2.85 },
    });
  });
});

/** A picture of 400 × 200 with a red mark of 10 pixels a side about (100, 100) and a blue one about (300, 100). */
const picture = async (page: Page, type = 'image/png', quality = 1): Promise<Buffer> =>
  Buffer.from(
    await page.evaluate(
      async ([t, q]) => {
        const canvas = new OffscreenCanvas(400, 200);
        const pen = canvas.getContext('2d');
        if (!pen) throw new Error('no canvas');
        pen.fillStyle = '#eeeeee';
        pen.fillRect(0, 0, 400, 200);
        pen.fillStyle = '#ff0000';
        pen.fillRect(95, 95, 10, 10);
        pen.fillStyle = '#0000ff';
        pen.fillRect(295, 95, 10, 10);
        const blob = await canvas.convertToBlob({ type: t, quality: q });
        return [...new Uint8Array(await blob.arrayBuffer())];
      },
      [type, quality] as const,
    ),
  );

/** Middle, in window pixels, of what is of a hue on the sheet. */
const middleOf = (page: Page, hue: 'red' | 'blue'): Promise<{ x: number; y: number } | null> =>
  page.evaluate((h) => {
    const canvas = document.querySelector<HTMLCanvasElement>('#sheet');
    const pen = canvas?.getContext('2d');
    if (!canvas || !pen) return null;
    const { data, width, height } = pen.getImageData(0, 0, canvas.width, canvas.height);
    let [n, sx, sy] = [0, 0, 0];
    for (let i = 0; i < width * height; i++) {
      const [r = 0, g = 0, b = 0] = [data[4 * i], data[4 * i + 1], data[4 * i + 2]];
      if (h === 'red' ? r > 200 && g < 60 && b < 60 : b > 200 && g < 60 && r < 60) {
        n++;
        sx += i % width;
        sy += Math.floor(i / width);
      }
    }
    const k = canvas.clientWidth / width;
    return n < 20 ? null : { x: (sx / n) * k, y: (sy / n) * k };
  }, hue);

describe('a picture under the sheet', () => {
  const laid = async (page: Page, name = 'photo.png', type = 'image/png'): Promise<void> => {
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByLabel('in mm').check();
    await page.getByRole('button', { name: 'Begin' }).click();
    await expect.poll(() => heading(page)).toBe('New part');
    await page
      .getByLabel('Lay a picture under the sheet')
      .setInputFiles({ name, mimeType: type, buffer: await picture(page, type) });
    await page.getByText(`Under the sheet: ${name}`).waitFor();
    await page.getByLabel('How strongly the picture is seen').fill('1');
    // The picture is decoded and drawn some frames after it is named.
    await expect.poll(() => middleOf(page, 'red')).not.toBe(null);
    await expect.poll(() => middleOf(page, 'blue')).not.toBe(null);
  };
  const apart = async (page: Page): Promise<{ x: number; y: number }> => {
    const [red, blue] = [await middleOf(page, 'red'), await middleOf(page, 'blue')];
    if (!red || !blue) throw new Error('the marks are not on the sheet');
    return { x: blue.x - red.x, y: blue.y - red.y };
  };
  test('is scaled by two points and their true distance, with the mouse', async () => {
    const page = await desk();
    await laid(page);
    const scale = await pixelsPerMm(page);
    // As wide as the bar of 80 mm: the marks, half its width apart, are 40 mm apart.
    await expect.poll(async () => (await apart(page)).x / scale).toBeCloseTo(40, 0);
    const [red, blue] = [await middleOf(page, 'red'), await middleOf(page, 'blue')];
    await page.getByRole('button', { name: 'Scale by two points' }).click();
    await page.mouse.click(red?.x ?? 0, red?.y ?? 0);
    await page.mouse.click(blue?.x ?? 0, blue?.y ?? 0);
    await page.getByLabel('True distance between the two points, mm').fill('25');
    await page.getByRole('button', { name: 'Set the scale' }).click();
    await page.getByRole('button', { name: 'Scale by two points' }).waitFor();
    await expect.poll(async () => (await apart(page)).x / scale).toBeCloseTo(25, 0);
    // The first point stays where it is.
    expect((await middleOf(page, 'red'))?.x).toBeCloseTo(red?.x ?? 0, -0.5);
  });

  test('is scaled, moved and turned by keyboard alone, and nonsense is refused', async () => {
    const page = await desk();
    await laid(page);
    const scale = await pixelsPerMm(page);
    await page.getByRole('button', { name: 'Scale by two points' }).press('Enter');
    const first = page.locator('[data-under-point="first"]');
    const before = await first.boundingBox();
    await first.press('Shift+ArrowUp');
    expect((await first.boundingBox())?.y).toBeCloseTo((before?.y ?? 0) - 10, 1);
    await first.press('Shift+ArrowDown');
    const typed = page.getByLabel('True distance between the two points, mm');
    for (const wrong of ['', '0', '-4', 'wide']) {
      await typed.fill(wrong);
      await typed.press('Enter');
      await page.getByText('The true distance must be more than 0.').waitFor();
    }
    // The marks begin a quarter from each side: on the two marks of the picture.
    await typed.fill('30');
    await typed.press('Enter');
    await page.getByRole('button', { name: 'Scale by two points' }).waitFor();
    await expect.poll(async () => (await apart(page)).x / scale).toBeCloseTo(30, 0);

    const start = await middleOf(page, 'red');
    const across = page.getByLabel('Middle of the picture, across');
    await across.fill(String(Number(await across.inputValue()) + 10));
    await across.press('Enter');
    await expect
      .poll(async () => ((await middleOf(page, 'red'))?.x ?? 0) - (start?.x ?? 0))
      .toBeCloseTo(10 * scale, -0.5);
    const turn = page.getByLabel('Turn of the picture, degrees');
    await turn.fill('90');
    await turn.press('Enter');
    await expect.poll(async () => Math.abs((await apart(page)).x)).toBeLessThan(2);
    // Anticlockwise: what was on the right is on top.
    expect((await apart(page)).y / scale).toBeCloseTo(-30, 0);
    await page.getByRole('button', { name: 'Remove the picture under the sheet' }).click();
    await expect.poll(() => middleOf(page, 'red')).toBe(null);
  });

  test('is moved by dragging, comes back with the part, and is in no file', async () => {
    const page = await desk();
    await laid(page, 'photo.webp', 'image/webp');
    const start = await middleOf(page, 'red');
    await page.getByRole('button', { name: 'Move by dragging' }).click();
    await page.mouse.move(500, 350);
    await page.mouse.down();
    await page.mouse.move(520, 330, { steps: 4 });
    await page.mouse.move(560, 310, { steps: 4 });
    await page.mouse.up();
    await page.getByRole('button', { name: 'Leave it there' }).click();
    await expect
      .poll(async () => ((await middleOf(page, 'red'))?.x ?? 0) - (start?.x ?? 0))
      .toBeCloseTo(60, -0.5);
    const moved = await middleOf(page, 'red');
    expect((moved?.y ?? 0) - (start?.y ?? 0)).toBeCloseTo(-40, -0.5);
    expect((await downloaded(page, 'Save part')).text).not.toMatch(/photo|image/);
    await page.waitForTimeout(500);
    await page.reload();
    await page.getByText('Under the sheet: photo.webp').waitFor();
    await expect.poll(async () => (await middleOf(page, 'red'))?.x ?? 0).toBeCloseTo(moved?.x ?? 0, -0.5);
  });

  test('that is too large or no picture is refused with the reason', async () => {
    const page = await desk();
    await spread(page);
    const field = page.getByLabel('Lay a picture under the sheet');
    const said = page.locator('[data-trouble]');
    await field.setInputFiles({ name: 'huge.png', mimeType: 'image/png', buffer: Buffer.alloc(16_000_000) });
    await said.waitFor();
    expect(await said.textContent()).toMatch(/huge\.png.*16 MB.*may have 15 MB/);
    await field.setInputFiles({ name: 'torn.png', mimeType: 'image/png', buffer: Buffer.from('no picture') });
    await said.filter({ hasText: 'torn.png' }).waitFor();
    expect(await said.textContent()).toMatch(/cannot be read as a picture.*untouched/);
    expect(await page.getByRole('region', { name: 'The picture under the sheet' }).count()).toBe(0);
  });
});

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe finds, but for targets that stand close on the drawing: tests/page-axe.test.ts weighs these. */
const violations = async (page: Page): Promise<readonly string[]> => {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE);
  const results = (await page.evaluate(
    "axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice'] })",
  )) as AxeResults;
  return results.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`);
};

test.each(['light', 'dark'] as const)('axe finds nothing on the way in and out, %s', async (colorScheme) => {
  const page = await desk();
  await page.emulateMedia({ colorScheme });
  const found: string[] = [];
  const look = async (where: string): Promise<void> => {
    found.push(...(await violations(page)).map((v) => `${where}: ${v}`));
  };
  await spread(page);
  await look('bring in, take out');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await look('a new part');
  await page.getByRole('button', { name: 'Not now' }).click();
  await dimension(page, 'body', '2.75');
  await page.getByLabel('Open a sample').selectOption('Winch bell crank');
  await look('a question');
  await page.getByRole('button', { name: 'Keep this one' }).click();
  await bringIn(page, 'bracket.svg', NO_UNIT);
  await card(page).getByLabel('Unit of the drawing').selectOption('1');
  await card(page).locator('[data-became]').waitFor();
  await look('a drawing');
  await card(page).getByRole('button', { name: 'Lay it under the sheet' }).click();
  await look('under the sheet');
  await page.getByRole('button', { name: 'Scale by two points' }).click();
  await look('two points');
  expect(found).toEqual([]);
});
