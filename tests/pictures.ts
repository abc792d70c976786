import { mkdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { goTo, openBrowser, openSample, servePage, untilProven } from './browser.ts';

/** Makes the pictures of the screen in samples/pictures from the built page. Run by `npm run pictures`. */
const FOLDER = process.env.PICTURES ?? 'samples/pictures';
/** A lever with a fork's web to be seen, and one whose proof has places to show. */
const LEVER = 'Vent latch lever';
const WITH_FINDINGS = 'Winch bell crank';

const DESK = { width: 1440, height: 900 };
const TABLET = { width: 1024, height: 768 };
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

const stages = async (
  browser: Browser,
  url: string,
  viewport: { width: number; height: number },
  scheme: 'light' | 'dark',
  suffix: string,
): Promise<void> => {
  const page = await browser.newPage({ viewport, colorScheme: scheme });
  await page.goto(url);
  await openSample(page, LEVER);
  await untilProven(page);
  for (const { file, stage } of STAGES) {
    await goTo(page, stage);
    if (stage === 'Cut') await showWeb(page);
    if (stage === 'Prove') continue;
    await shoot(page, `${file}${suffix}`);
    if (stage !== 'Draw') continue;
    await page.getByLabel('What the second view shows').selectOption('edge');
    await shoot(page, `${file}-edge${suffix}`);
    await page.getByLabel('What the second view shows').selectOption('section');
  }
  await openSample(page, WITH_FINDINGS);
  await untilProven(page);
  await goTo(page, 'Prove');
  await page.locator('[data-finding]').first().getByRole('button').click();
  await shoot(page, `prove${suffix}`);
  await page.close();
};

const phone = async (browser: Browser, url: string): Promise<void> => {
  const page = await browser.newPage({ viewport: PHONE, hasTouch: true, isMobile: true });
  await page.goto(url);
  await drawer(page);
  await openSample(page, LEVER);
  await drawer(page);
  await untilProven(page);
  for (const { file, stage } of STAGES) {
    await goTo(page, stage);
    if (stage === 'Cut') await showWeb(page);
    await shoot(page, `${file}-390`);
  }
  await goTo(page, 'Cut');
  await drawer(page);
  await shoot(page, 'cut-390-card');
  await goTo(page, 'Take away');
  await page.getByRole('button', { name: 'Go to the machine, setup 1' }).click();
  // Some way in, where the cutter is at the outline.
  for (let i = 0; i < 30; i++) await page.keyboard.press('PageDown');
  await shoot(page, 'machine-390');
  await page.close();
};

mkdirSync(FOLDER, { recursive: true });
const served = await servePage();
const browser = await openBrowser();
try {
  await stages(browser, served.url, DESK, 'light', '');
  await stages(browser, served.url, TABLET, 'light', '-1024');
  await stages(browser, served.url, DESK, 'dark', '-dark');
  await phone(browser, served.url);
} finally {
  await browser.close();
  await served.close();
}
