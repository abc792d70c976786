import { existsSync } from 'node:fs';
import { setTimeout } from 'node:timers/promises';
import type { Browser, Page } from 'playwright-core';
import { openBrowser, openSample, servePage, untilProven } from '../browser.ts';
import { handOf, type Place } from '../drawing-hand.ts';
import type { Row } from './row.ts';

// What one frame of a drag costs on the page's own thread, by the browser's tracing: from one pointer move to the next,
// all that our code takes – events, frames, timers, what follows on promises – without what the browser lays out, paints
// and traces itself. The goal is 8 ms; the baseline is a push of the sheet in the same run.

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  /** The thread's own clock and how much of it was spent, µs: not moved by what else the machine does. */
  readonly tts?: number;
  readonly tdur?: number;
  readonly tid: number;
  readonly pid: number;
  readonly args?: { readonly data?: { readonly type?: string }; readonly name?: string };
}

/** The work between moves, ms. */
const framesOf = (events: readonly TraceEvent[]): readonly number[] => {
  const moves = events
    .filter((e) => e.name === 'EventDispatch' && e.args?.data?.type === 'pointermove')
    .sort((a, b) => a.tts! - b.tts!);
  const first = moves[0];
  if (!first) return [];
  const ours = events
    .filter((e) => e.pid === first.pid && e.tid === first.tid && OURS.has(e.name) && e.tdur !== undefined)
    .sort((a, b) => a.tts! - b.tts!);
  return moves.slice(0, -1).map((move, i) => {
    const end = moves[i + 1]!.tts!;
    let sum = 0;
    // One may stand in another: each moment is counted once.
    let done = move.tts!;
    for (const { tts = 0, tdur = 0 } of ours) {
      if (tts < move.tts! || tts >= end) continue;
      sum += Math.max(0, tts + tdur - Math.max(done, tts));
      done = Math.max(done, tts + tdur);
    }
    return sum / 1000;
  });
};

/** The browser's names for the times in which our code runs. */
const OURS = new Set(['EventDispatch', 'FireAnimationFrame', 'FunctionCall', 'RunMicrotasks', 'TimerFire']);

const share = (sorted: readonly number[], p: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * p))] ?? Number.NaN;

const STEPS = 90;
/** Longer than a frame of the display, ms. */
const FRAME = 20;

const traced = async (browser: Browser, page: Page, from: Place, to: Place): Promise<readonly number[]> => {
  const hand = handOf(page);
  const [a, b] = [await hand.pixel(from), await hand.pixel(to)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  const drawing = page.locator('#drawing');
  const before = await drawing.screenshot();
  await browser.startTracing(page, {
    categories: ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'toplevel'],
  });
  // By the browser's own input: the driver's mouse runs scripts of its own on the page at every move.
  const input = await page.context().newCDPSession(page);
  for (let i = 1; i <= STEPS; i++) {
    // There and back, so that nothing leaves the bar.
    const t = Math.sin((i / STEPS) * Math.PI);
    await input.send('Input.dispatchMouseEvent', {
      type: 'mouseMoved',
      x: a.x + (b.x - a.x) * t,
      y: a.y + (b.y - a.y) * t,
      button: 'left',
      buttons: 1,
    });
    await setTimeout(FRAME);
    if (2 * i === STEPS && before.equals(await drawing.screenshot()))
      throw new Error('nothing follows the hand');
  }
  await input.detach();
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
    ours: `${middle.toFixed(1)} ms; ${share(frames, 0.9).toFixed(1)}`,
    baseline: `${pushed.toFixed(1)} ms`,
    ratio: middle / pushed,
    goal: '≤ 8 ms',
  };
};

/** Against a push of the sheet; work of the page’s thread in the middle one of ninety frames, and in the one that nine in ten stay under. */
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
  await page.locator('[data-spot="toe"]').focus();
  await page.getByRole('button', { name: 'free it' }).click();
  const end = await traced(browser, page, [64, 0], [62.6, 0]);
  yield drawn('drag: a frame of an end pulled, its arm following, to one of the sheet pushed', end, push);
  await page.keyboard.press('Escape');
  await page.locator('[data-tool="hole"]').click();
  const hole = await traced(browser, page, [30, 0], [31.4, 0]);
  yield drawn('drag: a frame of a hole drawn, to one of the sheet pushed', hole, push);
  await browser.close();
  await served.close();
}
