import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Import, importsBelow, impurities, ROOMS, roomOf, wrongWays } from './house.ts';

const FOLDERS = ['sketch', 'toolpath', 'gcode'];
const LONGEST = 300;

const sources = FOLDERS.flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`),
);
const pure = sources.filter((file) => ROOMS[roomOf(file)]?.pure === true);

describe('The house', () => {
  let imports: readonly Import[] = [];
  let circles: readonly string[] = [];
  beforeAll(async () => {
    ({ imports, circles } = await importsBelow(process.cwd(), FOLDERS));
  });

  test('was walked through: every source file was looked at', () => {
    expect(sources.length).toBeGreaterThan(80);
    const seen = new Set(imports.flatMap(({ from, to }) => [from, to]));
    expect(sources.filter((file) => !seen.has(file) && /^import /m.test(readFileSync(file, 'utf8')))).toEqual(
      [],
    );
  });

  test('has no import that runs the wrong way', () => {
    expect(wrongWays(imports)).toEqual([]);
  });

  test('has no circle of imports', () => {
    expect(circles).toEqual([]);
  });

  test('keeps pages and Node out of the pure rooms', () => {
    expect(pure.length).toBeGreaterThan(50);
    expect(impurities(pure.map((file) => resolve(file)))).toEqual([]);
  });

  test(`has no file over ${LONGEST} lines in the pure rooms`, () => {
    const lines = (file: string): number => readFileSync(file, 'utf8').split('\n').length - 1;
    expect(pure.filter((file) => lines(file) > LONGEST).map((file) => `${file}: ${lines(file)}`)).toEqual([]);
  });
});

describe('The walk through the house sees', () => {
  const base = mkdtempSync(join(tmpdir(), 'house-'));
  const put = (path: string, text: string): string => {
    mkdirSync(dirname(join(base, path)), { recursive: true });
    writeFileSync(join(base, path), text);
    return join(base, path);
  };
  afterAll(() => rmSync(base, { recursive: true }));

  test('an import that runs backwards, one that skips into a view, and one from no room', async () => {
    put('gcode/program/write.ts', 'export const write = 1;\n');
    put('toolpath/view/panel.ts', 'export interface Panel { readonly a: number }\n');
    put(
      'sketch/part/back.ts',
      "import { write } from '../../gcode/program/write.ts';\nexport const a = write;\n",
    );
    put(
      'toolpath/passes/look.ts',
      "import type { Panel } from '../view/panel.ts';\nexport type P = Panel;\n",
    );
    put('toolpath/attic/box.ts', "import '../passes/look.ts';\n");
    const { imports } = await importsBelow(base, FOLDERS);
    expect([...wrongWays(imports)].sort()).toEqual([
      'sketch/part/back.ts must not import gcode/program/write.ts',
      'toolpath/attic/box.ts: there is no room toolpath/attic',
      'toolpath/passes/look.ts must not import toolpath/view/panel.ts',
    ]);
  });

  test('a circle, but not one of types alone', async () => {
    put('sketch/shape/a.ts', "import { b } from './b.ts';\nexport const a = (): number => b();\n");
    put('sketch/shape/b.ts', "import { a } from './a.ts';\nexport const b = (): number => a();\n");
    put('sketch/shape/c.ts', "import type { D } from './d.ts';\nexport type C = D;\n");
    put('sketch/shape/d.ts', "import type { C } from './c.ts';\nexport type D = C | 1;\n");
    const { circles } = await importsBelow(base, FOLDERS);
    expect(circles.length).toBeGreaterThan(0);
    expect(circles.every((circle) => /shape\/[ab]\.ts/.test(circle) && !/shape\/[cd]/.test(circle))).toBe(
      true,
    );
  });

  test.each([
    ['a page', 'export const a = document.title;\n', /document/],
    ['a window', 'export const a = window.innerWidth;\n', /window/],
    ['Node', 'export const a = process.argv;\n', /process/],
    ['a package of pages', "import { h } from 'no-such-room';\nexport const a = h;\n", /no-such-room/],
  ])('%s named in a pure room', (_, text, words) => {
    const file = put('sketch/part/impure.ts', text);
    expect(impurities([file]).join('\n')).toMatch(words);
  });

  test('nothing amiss in a name that only looks like the page', () => {
    const file = put(
      'sketch/part/pure.ts',
      'export const f = (document: { a: number }): number => document.a;\n',
    );
    expect(impurities([file])).toEqual([]);
  });
});
