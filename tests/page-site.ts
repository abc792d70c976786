import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { openBrowser, type Served, servePage } from './browser.ts';

/** The built page served and a browser open while the tests of a file run. */
export interface Site {
  readonly url: string;
  readonly browser: Browser;
}

/** Opens a site before the first test of the file that calls it and closes it after the last. */
export const openSite = (): Site => {
  let served: Served;
  let browser: Browser;
  beforeAll(async () => {
    served = await servePage();
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });
  return {
    get url() {
      return served.url;
    },
    get browser() {
      return browser;
    },
  };
};
