import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import { openBrowser } from '../browser.ts';
import { type Row, time } from './row.ts';

// From typing the address to the first drawing, in Chromium with nothing cached, as on a phone of the middle range: the
// processor slowed four times, 9 Mbit/s, 60 ms there and back. Against a page that only fetches the same bytes.

const SLOWER = 4;
const BITS = 9e6;
const LATENCY = 60;
const ROUNDS = 5;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
};

const folder = resolve(process.env.PAGE_FOLDER ?? 'dist/page');

/** The built page, compressed as any server would, and `/bare` that fetches what it needs at first and does nothing. */
const serve = async () => {
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const files = [...html.matchAll(/(?:src|href)="\/?([^"]+\.(?:js|css))"/g)].map((m) => `/${m[1]}`);
  const bare = `<!doctype html><title>bare</title><script>
    Promise.all(${JSON.stringify(files)}.map((f) => fetch(f).then((r) => r.text()))).then(() =>
      requestAnimationFrame(() => requestAnimationFrame(() => { window.drawnAt = performance.now(); })));
  </script>${' '.repeat(html.length)}`;
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://page').pathname;
    const file = normalize(join(folder, path === '/' ? 'index.html' : path));
    const known = path === '/bare' || (file.startsWith(folder) && existsSync(file));
    if (!known) {
      response.writeHead(404).end();
      return;
    }
    const body = path === '/bare' ? Buffer.from(bare) : readFileSync(file);
    const type = path === '/bare' ? '.html' : extname(file);
    response.writeHead(200, {
      'content-type': TYPES[type] ?? 'application/octet-stream',
      'content-encoding': 'gzip',
    });
    response.end(gzipSync(body));
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  const close = (): Promise<void> =>
    new Promise((done) => {
      server.closeAllConnections();
      server.close(() => done());
    });
  return { url: `http://127.0.0.1:${port}`, close };
};

/** Seconds to the frame after the one in which all of the drawing's features stand on the sheet. */
const drawnAfter = async (browser: Browser, url: string): Promise<number> => {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  const cdp = await context.newCDPSession(page);
  await cdp.send('Network.enable');
  await cdp.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: LATENCY,
    downloadThroughput: BITS / 8,
    uploadThroughput: BITS / 8,
  });
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  await page.addInitScript(() => {
    const look = (): void => {
      if (document.querySelector('[data-spot]') && document.querySelector('canvas')) {
        requestAnimationFrame(() =>
          requestAnimationFrame(() => {
            (window as { drawnAt?: number }).drawnAt = performance.now();
          }),
        );
      } else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await page.goto(url);
  await page.waitForFunction(() => (window as { drawnAt?: number }).drawnAt !== undefined, null, {
    timeout: 60_000,
  });
  const at = await page.evaluate(() => (window as { drawnAt?: number }).drawnAt!);
  await context.close();
  return at / 1000;
};

export default async function* (): AsyncGenerator<Row> {
  if (!existsSync(join(folder, 'index.html'))) {
    throw new Error('the page is not built: run npm run build first');
  }
  const served = await serve();
  const browser = await openBrowser();
  const [ours, bare]: [number[], number[]] = [[], []];
  for (let k = 0; k < ROUNDS; k++) {
    ours.push(await drawnAfter(browser, `${served.url}/`));
    bare.push(await drawnAfter(browser, `${served.url}/bare`));
  }
  await browser.close();
  await served.close();
  yield {
    name: 'start: to the first drawing on a slowed phone (9 Mbit/s, 60 ms), to fetching the same bytes',
    ours: time(Math.min(...ours)),
    baseline: time(Math.min(...bare)),
    ratio: Math.min(...ours) / Math.min(...bare),
    goal: '1 s',
  };
}
