import { existsSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { openBrowser, openSample, servePage, untilProven } from '../browser.ts';
import { handOf, type Place } from '../drawing-hand.ts';
import type { Row } from './row.ts';

// What one frame of a drag costs on the page's own thread, by the browser's tracing: from one pointer move to the next,
// every task of that thread is counted, ours and the browser's. The baseline is a push of the sheet in the same run.

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly ts: number;
  readonly dur?: number;
  readonly tid: number;
  readonly pid: number;
  readonly args?: { readonly data?: { readonly type?: string }; readonly name?: string };
}

/** The work between moves, ms. */
const framesOf = (events: readonly TraceEvent[]): readonly number[] => {
  const moves = events
    .filter((e) => e.name === 'EventDispatch' && e.args?.data?.type === 'pointermove')
    .sort((a, b) => a.ts - b.ts);
  const first = moves[0];
  if (!first) return [];
  const tasks = events.filter((e) => e.pid === first.pid && e.tid === first.tid && e.name === 'RunTask');
  return moves.slice(0, -1).map((move, i) => {
    const end = moves[i + 1]!.ts;
    // The task that holds a move begins a little before it.
    const own = tasks.filter((t) => t.ts + (t.dur ?? 0) > move.ts && t.ts + (t.dur ?? 0) <= end);
    return own.reduce((sum, t) => sum + (t.dur ?? 0), 0) / 1000;
  });
};

const share = (sorted: readonly number[], p: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * p))] ?? Number.NaN;

const STEPS = 90;

const traced = async (browser: Browser, page: Page, from: Place, to: Place): Promise<readonly number[]> => {
  const hand = handOf(page);
  const [a, b] = [await hand.pixel(from), await hand.pixel(to)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await browser.startTracing(page, {
    categories: ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'toplevel'],
  });
  for (let i = 1; i <= STEPS; i++) {
    // There and back, so that nothing leaves the bar.
    const t = Math.sin((i / STEPS) * Math.PI);
    await page.mouse.move(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(done)));
  }
  const buffer = await browser.stopTracing();
  await page.mouse.up();
  const { traceEvents } = JSON.parse(buffer.toString()) as { traceEvents: readonly TraceEvent[] };
  return [...framesOf(traceEvents)].sort((x, y) => x - y);
};

const drawn = (name: string, frames: readonly number[], base: readonly number[]): Row => {
  const middle = share(frames, 0.5);
  const pushed = share(base, 0.5);
  return {
    name,
    ours: `${middle.toFixed(1)} ms`,
    baseline: `${pushed.toFixed(1)} ms`,
    ratio: middle / pushed,
  };
};

/** Against a push of the sheet; work of the page’s thread in the middle one of ninety frames. */
export default async function* (): AsyncGenerator<Row> {
  if (!existsSync('dist/page/index.html') && !process.env.PAGE_FOLDER) {
    throw new Error('the page is not built: run npm run build first');
  }
  const served = await servePage();
  const browser = await openBrowser();
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(served.url);
  await openSample(page, 'Damper yoke');
  await untilProven(page);
  const push = await traced(browser, page, [35, 30], [40, 32]);
  await page.locator('[data-spot="adjuster"]').focus();
  await page.getByRole('button', { name: 'free it' }).click();
  const pulled = await traced(browser, page, [42, 0], [44, 0]);
  yield drawn('drag: a frame of a slot pulled, to one of the sheet pushed', pulled, push);
  await page.keyboard.press('Escape');
  await page.locator('[data-tool="hole"]').click();
  const hole = await traced(browser, page, [30, 0], [31.4, 0]);
  yield drawn('drag: a frame of a hole drawn, to one of the sheet pushed', hole, push);
  await browser.close();
  await served.close();
}
