import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, resolve } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

/** Debian's browser; another may be named by the environment. */
const EXECUTABLE = process.env.CHROMIUM ?? '/usr/bin/chromium';
/** Another build may be put to the same tests. */
const PAGE = resolve(process.env.PAGE_FOLDER ?? 'dist/page');

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

export interface Served {
  readonly url: string;
  readonly close: () => Promise<void>;
}

/** Serves the built page on a free port. Throws when it has not been built. */
export const servePage = async (folder = PAGE): Promise<Served> => {
  if (!existsSync(join(folder, 'index.html')))
    throw new Error('the page is not built: run npm run build first');
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://page').pathname;
    const file = normalize(join(folder, path === '/' ? 'index.html' : path));
    if (!file.startsWith(folder) || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' });
    response.end(readFileSync(file));
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/`,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
};

const LAUNCH = {
  executablePath: EXECUTABLE,
  args: [
    '--no-sandbox',
    '--disable-background-networking',
    '--disable-component-update',
    '--no-first-run',
    // Nobody could answer the browser's own file dialogs: files are downloaded and uploaded, as where it has none.
    '--disable-blink-features=FileSystemAccessLocal',
  ],
};

export const openBrowser = (): Promise<Browser> => chromium.launch(LAUNCH);

/** A browser that keeps what it keeps in a folder, and finds it there again. */
export const openLasting = (
  folder: string,
  options: { readonly viewport: { readonly width: number; readonly height: number } },
): Promise<BrowserContext> => chromium.launchPersistentContext(folder, { ...LAUNCH, ...options });

/** Waits until the passes are drawn in the strip, the programs written and the proof done. */
export const untilProven = async (page: Page): Promise<void> => {
  await page.waitForFunction(
    () => {
      const frames = document.querySelectorAll('.frame');
      const drawn = document.querySelectorAll('.frame svg');
      return frames.length > 0 && drawn.length === frames.length && !document.querySelector('.progress');
    },
    null,
    { timeout: 60_000 },
  );
};

/** Goes to one of the five stages by its name on the rail. */
export const goTo = (page: Page, stage: string): Promise<void> =>
  page.locator('.rail button', { hasText: stage }).click();

/** Opens a sample by its name; on a phone the drawer must be out. */
export const openSample = async (page: Page, name: string): Promise<void> => {
  await page.getByLabel('Open a sample').selectOption(name);
  await page.waitForFunction((wanted) => document.title.startsWith(wanted), name);
};
