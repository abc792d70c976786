import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';

/** What must come over the line before a hand can draw; workers and everything else come later. */
const MOST_GZIPPED = 216_000;

const folder = resolve(process.env.PAGE_FOLDER ?? 'dist/page');

test('what the page needs before the first stroke stays within its budget', () => {
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const files = [...html.matchAll(/(?:src|href)="\/?([^"]+\.(?:js|css))"/g)].map((m) => m[1]!);
  expect(files.filter((f) => f.endsWith('.js')).length).toBeGreaterThan(0);
  expect(files.filter((f) => f.endsWith('.css')).length).toBeGreaterThan(0);
  const bytes = files.map((f) => gzipSync(readFileSync(join(folder, f)), { level: 9 }).length);
  const total = bytes.reduce((a, b) => a + b, gzipSync(html).length);
  expect(total, files.map((f, i) => `${f}: ${bytes[i]}`).join('\n')).toBeLessThan(MOST_GZIPPED);
});
