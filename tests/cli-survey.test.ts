import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { withDoing } from '../gcode/command/progress.ts';
import type { Doing } from '../gcode/survival/doing.ts';
import { bundle, namesIn, run } from './cli.ts';

/** The survey on the command line: what is written before it, and how far it is. */

let folder = '';
let program = '';
beforeAll(async () => {
  ({ folder, program } = await bundle());
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const LINK = 'samples/shutter-link.json';
const read = (out: string, name: string): string => readFileSync(join(out, name), 'utf8');

test('all is written before the survey, and stays whole when the survey is stopped', async () => {
  const out = join(folder, 'stopped');
  const lever = spawn(program, ['make', 'samples/vent-latch-lever.json', '--out', out, '--stiffness']);
  let told = '';
  lever.stdout.on('data', (data) => {
    told += data;
    // Told what is written, and not yet what it estimates: stopped here as a person would.
    if (told.includes('Written in')) lever.kill('SIGINT');
  });
  const signal = await new Promise((done) => lever.on('exit', (_, by) => done(by)));
  expect(signal).toBe('SIGINT');
  expect(told).not.toContain('Will it survive?');
  const name = 'vent-latch-lever';
  expect(namesIn(out)).toEqual(
    ['-proof.json', '-setup-1.ngc', '-setup-2.ngc', '-sheet.html', '-table.csv', '.svg'].map(
      (end) => name + end,
    ),
  );
  expect(read(out, `${name}-setup-2.ngc`)).toMatch(/\nM30\n$/);
  const proof = JSON.parse(read(out, `${name}-proof.json`));
  expect([proof.verdict, proof.survival]).toEqual(['fits', undefined]);
  expect(read(out, `${name}-sheet.html`).trimEnd()).toMatch(/<\/html>$/);
}, 120_000);

test('the survey is put into the sheet and the proof file, and changes nothing else', () => {
  const [bare, full] = [join(folder, 'bare'), join(folder, 'full')];
  run(program, ['make', LINK, '--out', bare]);
  const ran = run(program, ['make', LINK, '--out', full, '--stiffness']);
  expect(ran.code).toBe(0);
  expect(namesIn(full)).toEqual(namesIn(bare));
  for (const name of namesIn(bare)!.filter((n) => !/sheet|proof/.test(n))) {
    expect(read(full, name)).toBe(read(bare, name));
  }
  const [plain, told] = [bare, full].map((out) => JSON.parse(read(out, 'shutter-link-proof.json')));
  const { survival, ...rest } = told;
  expect(rest).toEqual(plain);
  expect(survival.passes.length).toBeGreaterThan(5);
  expect(survival.advice.orders.length).toBeGreaterThan(0);
  expect(read(full, 'shutter-link-sheet.html')).toContain('will it survive?');
  const at = (what: string): number => ran.out.indexOf(what);
  expect(at('Written in')).toBeLessThan(at('Will it survive?'));
  expect(at('Will it survive?')).toBeLessThan(at('Written once more, with these estimates'));
  expect(existsSync(join(full, 'shutter-link-sheet.html'))).toBe(true);
}, 240_000);

describe('progress of long work', () => {
  function* work(): Generator<Doing, string> {
    for (let i = 0; i < 40; i++) {
      yield { what: `Solving pass ${i + 1} of 40`, share: i / 40, secondsLeft: i === 0 ? null : 200 - 5 * i };
    }
    return 'done';
  }
  const told = (isTTY: boolean, tick: number): string => {
    let [text, clock] = ['', 0];
    const write = (more: string | Uint8Array): boolean => {
      text += more;
      return true;
    };
    const now = (): number => {
      clock += tick;
      return clock;
    };
    expect(withDoing(work(), { isTTY, columns: 80, write }, now)).toBe('done');
    return text;
  };

  test('is one line on a terminal, with the time left, no wider than it, wiped away at the end', () => {
    const lines = told(true, 200).split('\r').slice(1);
    expect(lines.length).toBeGreaterThan(15);
    expect(lines.every((line) => line.length < 80 && !line.includes('\n'))).toBe(true);
    expect(lines.join()).toMatch(/Solving pass 2\d of 40 +\[#+\.+\] \d\d %, about \d+ s left/);
    expect(lines.at(-2)!.trim()).toBe('');
    expect(lines.at(-2)!.length).toBe(Math.max(...lines.map((l) => l.length)));
  });

  test('is a line now and then elsewhere, and none for short work', () => {
    const lines = told(false, 3000).split('\n');
    expect(lines.length).toBeGreaterThan(5);
    expect(lines.length).toBeLessThan(20);
    expect(lines[0]).toMatch(/^Solving pass \d of 40, \d+ %, about (\d+ s|\d min) left$/);
    expect(told(false, 100)).toBe('');
  });
});
