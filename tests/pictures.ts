import { mkdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { goTo, openBrowser, openSample, servePage, untilProven } from './browser.ts';

/** Makes the pictures of the screen in samples/pictures from the built page. Run by `npm run pictures`. */
const FOLDER = process.env.PICTURES ?? 'samples/pictures';
const SAMPLE = 'Vent latch lever';

const SIZES = [
  { name: '1440', width: 1440, height: 900 },
  { name: '1024', width: 1024, height: 768 },
] as const;
const PHONE = { width: 390, height: 844 };

const STAGES = [
  { file: 'draw', stage: 'Draw' },
  { file: 'hold', stage: 'Hold' },
  { file: 'cut', stage: 'Cut' },
  { file: 'prove', stage: 'Prove' },
  { file: 'take-away', stage: 'Take away' },
] as const;

const drawer = (page: Page): Promise<void> => page.locator('.drawer-handle').click();

/** The pass at which the fork's support web stands by itself. */
const showWeb = async (page: Page): Promise<void> => {
  const frame = page.locator('.frame', { has: page.locator('[data-web]') }).first();
  await frame.click();
  await page.waitForTimeout(500);
};

const shoot = async (page: Page, name: string): Promise<void> => {
  await page.waitForTimeout(400);
  await page.screenshot({ path: `${FOLDER}/${name}.png` });
  process.stdout.write(`${FOLDER}/${name}.png\n`);
};

const allStages = async (browser: Browser, url: string, scheme: 'light' | 'dark'): Promise<void> => {
  for (const size of SIZES) {
    const page = await browser.newPage({ viewport: size, colorScheme: scheme });
    await page.goto(url);
    await openSample(page, SAMPLE);
    await untilProven(page);
    for (const { file, stage } of STAGES) {
      await goTo(page, stage);
      if (stage === 'Cut') await showWeb(page);
      await shoot(page, `${file}-${size.name}${scheme === 'dark' ? '-dark' : ''}`);
    }
    await page.close();
  }
};

const phone = async (browser: Browser, url: string): Promise<void> => {
  const page = await browser.newPage({ viewport: PHONE, hasTouch: true, isMobile: true });
  await page.goto(url);
  await drawer(page);
  await openSample(page, SAMPLE);
  await drawer(page);
  await untilProven(page);
  for (const { file, stage } of STAGES) {
    await goTo(page, stage);
    if (stage === 'Cut') await showWeb(page);
    await shoot(page, `${file}-390`);
    await drawer(page);
    await shoot(page, `${file}-390-card`);
    await drawer(page);
  }
  await page.close();
};

mkdirSync(FOLDER, { recursive: true });
const served = await servePage(process.env.PAGE_FOLDER);
const browser = await openBrowser();
try {
  await allStages(browser, served.url, 'light');
  await allStages(browser, served.url, 'dark');
  await phone(browser, served.url);
} finally {
  await browser.close();
  await served.close();
}
