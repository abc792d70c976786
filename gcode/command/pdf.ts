import { spawnSync } from 'node:child_process';
import { accessSync, constants, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Sizes of paper that the sheets are laid out for. */
export const PAPERS = ['A4', 'Letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** Where a Chromium may be; the first that can be run is taken, `$CHROMIUM` before all. */
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];

export type Printed =
  | { readonly ok: true; readonly bytes: Uint8Array }
  | { readonly ok: false; readonly why: string };

/** How long a browser may take over some dozen pages, ms. */
const PATIENCE = 120_000;

/**
 * A sheet printed to PDF by a Chromium that is on this machine already. Nothing is fetched: the page needs nothing and
 * the browser is told to keep to itself. Says in one line why there is none; never throws for want of a browser.
 */
export const printPdf = (html: string, paper: Paper): Printed => {
  const browser = findBrowser();
  if (browser === null) {
    return {
      ok: false,
      why: `no PDF: no Chromium at ${process.env.CHROMIUM ?? PLACES[0]}; set CHROMIUM to one, or print the sheet from a browser`,
    };
  }
  const folder = mkdtempSync(join(tmpdir(), 'leverwright-'));
  try {
    const page = join(folder, 'sheet.html');
    const pdf = join(folder, 'sheet.pdf');
    writeFileSync(page, html.replace('@page {', `@page { size: ${paper};`));
    const { status, error } = spawnSync(
      browser,
      [
        ...['--headless', '--disable-gpu', '--no-first-run', '--disable-extensions'],
        ...['--disable-background-networking', '--disable-component-update', '--disable-sync'],
        // Only root needs to do without the sandbox; the page is our own and runs no script.
        ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
        ...[`--user-data-dir=${join(folder, 'profile')}`, '--no-pdf-header-footer', `--print-to-pdf=${pdf}`],
        pathToFileURL(page).href,
      ],
      { stdio: 'ignore', timeout: PATIENCE },
    );
    if (error !== undefined || status !== 0) {
      return { ok: false, why: `no PDF: ${browser} ${error ? 'could not be run' : `ended with ${status}`}` };
    }
    return { ok: true, bytes: readFileSync(pdf) };
  } catch {
    return { ok: false, why: `no PDF: ${browser} wrote none` };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const findBrowser = (): string | null => {
  const { CHROMIUM } = process.env;
  // One that is named but not there is a mistake to be told of, not to be passed over.
  const places = CHROMIUM === undefined || CHROMIUM === '' ? PLACES : [CHROMIUM];
  return places.find(canRun) ?? null;
};

const canRun = (path: string): boolean => {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};
