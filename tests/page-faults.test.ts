import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { goTo, openSample, untilProven } from './browser.ts';
import { openSite } from './page-site.ts';

/** Faults made on purpose: a worker that is gone, one that cannot begin, a frozen tab, a clock that jumps. */

const site = openSite();

const openPage = async (before: (page: Page) => Promise<unknown> = async () => undefined): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await before(page);
  await page.goto(site.url);
  await page.getByRole('button', { name: 'New', exact: true }).waitFor();
  return page;
};
const verdict = async (page: Page): Promise<string | null> => {
  await goTo(page, 'Prove');
  return page.locator('[data-verdict]').getAttribute('data-verdict');
};
const write = async (page: Page, dimension: string, value: string): Promise<void> => {
  const field = page.getByLabel(`Dimension ${dimension}`, { exact: true });
  await field.focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.type(value);
  await page.keyboard.press('Enter');
};
const trouble = (page: Page) => page.locator('.card-body > [role="alert"]');

/** Keeps the page's workers at hand, so that a test can end them as a system short of memory would: without a word. */
const withWorkersAtHand = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const Plain = window.Worker;
    const all: Worker[] = [];
    window.Worker = class extends Plain {
      constructor(...terms: ConstructorParameters<typeof Worker>) {
        super(...terms);
        all.push(this);
      }
    };
    Object.assign(window, {
      endWorkers: () => {
        for (const worker of all.splice(0)) worker.terminate();
      },
    });
  });
const endWorkers = (page: Page): Promise<unknown> => page.evaluate('endWorkers()');

test('workers that end without a word are missed, the part stays, and the work is begun again', async () => {
  const page = await openPage(async (p) => {
    await withWorkersAtHand(p);
    await p.clock.install();
  });
  await openSample(page, 'Vent latch lever');
  await untilProven(page);
  await endWorkers(page);
  await write(page, 'body', '2.8');
  await page.clock.runFor(10_000);
  // It is not said too soon: a slow machine is no fault.
  expect(await trouble(page).count()).toBe(0);
  await page.clock.runFor(15_000);
  await trouble(page).waitFor();
  expect(await trouble(page).textContent()).toContain('no sign of life');
  expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.8');
  await page.getByRole('button', { name: 'begin again' }).click();
  await page.clock.runFor(1000);
  await untilProven(page);
  expect(await trouble(page).count()).toBe(0);
  expect(await verdict(page)).toBe('fits');
  await page.close();
});

test('a worker that cannot be loaded is told, and the next try brings it', async () => {
  let shut = true;
  const page = await openPage((p) =>
    p.route(/worker-[^/]*\.js/, (route) => (shut ? route.abort() : route.continue())),
  );
  await trouble(page).waitFor();
  expect(await trouble(page).textContent()).toContain('could not be started');
  // Drawing goes on without it.
  await openSample(page, 'Vent latch lever');
  await write(page, 'body', '2.7');
  expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.7');
  await trouble(page).waitFor();
  shut = false;
  await page.getByRole('button', { name: 'begin again' }).click();
  await untilProven(page);
  expect(await verdict(page)).toBe('fits');
  await page.close();
});

test('a tab that is frozen in the middle of its work goes on when it is looked at again', async () => {
  const page = await openPage();
  await openSample(page, 'Damper yoke');
  const session = await page.context().newCDPSession(page);
  await session.send('Page.setWebLifecycleState', { state: 'frozen' });
  await new Promise((done) => setTimeout(done, 3000));
  await session.send('Page.setWebLifecycleState', { state: 'active' });
  await untilProven(page);
  expect(await trouble(page).count()).toBe(0);
  expect(await verdict(page)).toBe('fits');
  await page.close();
});

test.each([
  ['back by a year', '2025-11-01T08:00:00'],
  ['on by a year', '2027-11-01T08:00:00'],
])('a clock set %s loses no edit and stops no work', async (_, later) => {
  const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.clock.install({ time: '2026-11-01T08:00:00' });
  await page.goto(site.url);
  await openSample(page, 'Vent latch lever');
  await page.clock.runFor(2000);
  await write(page, 'body', '2.6');
  await page.clock.runFor(2000);
  await page.clock.setSystemTime(later);
  await write(page, 'body', '2.9');
  await page.clock.runFor(2000);
  await untilProven(page);
  await page.reload();
  await page.getByLabel('Dimension body', { exact: true }).waitFor();
  // The last edit is the newest one, whatever the clock says.
  expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.9');
  await page.clock.runFor(2000);
  await untilProven(page);
  expect(await verdict(page)).toBe('fits');
  await context.close();
});

test('where the later stages cannot be fetched one draws on, is told, and gets them by loading the page anew', async () => {
  let gone = true;
  const page = await openPage((p) =>
    p.route('**/workshop-*.js', (route) => (gone ? route.abort() : route.continue())),
  );
  await page.locator('[data-spot]').first().waitFor();
  await trouble(page).waitFor();
  expect(await trouble(page).textContent()).toMatch(/could not be fetched/);
  await openSample(page, 'Vent latch lever');
  await write(page, 'body', '2.75');
  await goTo(page, 'Prove');
  expect(await page.locator('[data-verdict]').count()).toBe(0);
  gone = false;
  await trouble(page).getByRole('button', { name: 'load the page anew' }).click();
  await untilProven(page);
  expect(await page.getByLabel('Dimension body', { exact: true }).inputValue()).toBe('2.75');
  expect(await verdict(page)).toBe('fits');
  await page.close();
});
