import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BLINDNESS, contrast, difference, labOf, over, type Rgb, seenBy } from './colour-sight.ts';

/** The hues in sketch/view/roles.css, as the page has them under one wish of the system or another. */
type Roles = Readonly<Record<string, string>>;

const SHEET = readFileSync(new URL('../sketch/view/roles.css', import.meta.url), 'utf8').replace(
  /\/\*.*?\*\//gs,
  '',
);

/** The roles that stand in blocks whose condition has just these words. */
const rolesIn = (condition: string): Roles => {
  const start = condition === '' ? SHEET.indexOf(':root') : SHEET.indexOf(`@media ${condition} {`);
  if (start < 0) throw new Error(`roles.css has nothing for ${condition}`);
  const open = SHEET.indexOf('{', SHEET.indexOf(':root', start));
  const block = SHEET.slice(open + 1, SHEET.indexOf('}', open));
  return Object.fromEntries(
    [...block.matchAll(/--([a-z0-9-]+):\s*([^;]+);/g)].map(([, name, value]) => [name!, value!.trim()]),
  );
};

const light = rolesIn('');
const dark: Roles = { ...light, ...rolesIn('(prefers-color-scheme: dark)') };
const SCHEMES: Readonly<Record<string, Roles>> = {
  light,
  dark,
  'light, more contrast': { ...light, ...rolesIn('(prefers-contrast: more)') },
  'dark, more contrast': { ...dark, ...rolesIn('(prefers-contrast: more) and (prefers-color-scheme: dark)') },
  print: { ...light, ...rolesIn('print') },
};

const DEPTHS = ['depth-0', 'depth-1', 'depth-2', 'depth-3', 'depth-4', 'depth-5', 'depth-6', 'depth-7'];

/** CIEDE2000 that thin lines must keep: 2.3 is just seen, ten is another colour at a glance. */
const LINES = 10;
/** Patches are larger, and are outlined. */
const FILLS = 7;
/** Neighbours on the stair of depths lie side by side. */
const STEP = 2.3;

test('the look’s own paper and ink', () => {
  expect(light).toMatchObject({ paper: '#faf7f0', ink: '#1f2a37' });
});

const ROOT = new URL('../', import.meta.url);

test('nothing but roles.css names a hue', () => {
  const folders = ['sketch/canvas', 'sketch/view', 'toolpath/view', 'gcode/view'];
  const files = folders.flatMap((folder) =>
    readdirSync(new URL(folder, ROOT))
      .filter((name) => /\.(css|tsx?)$/.test(name) && name !== 'roles.css')
      .map((name) => `${folder}/${name}`),
  );
  expect(files.length).toBeGreaterThan(40);
  for (const file of files) {
    const text = readFileSync(new URL(file, ROOT), 'utf8');
    expect(text.match(/#(?:[0-9a-f]{6}|[0-9a-f]{3})\b|\b(?:rgb|hsl|lab|lch)a?\(\s*[\d.]/gi), file).toBeNull();
  }
});

test('the window’s own frame has the paper’s hue, light and dark', () => {
  const page = readFileSync(new URL('index.html', ROOT), 'utf8');
  const hues = [
    ...page.matchAll(/name="theme-color" content="([^"]+)" media="\(prefers-color-scheme: (\w+)\)"/g),
  ];
  expect(Object.fromEntries(hues.map(([, hue, scheme]) => [scheme, hue]))).toEqual({
    light: light.paper,
    dark: dark.paper,
  });
});

describe.each(Object.entries(SCHEMES))('%s', (name, roles) => {
  const wanted = name.includes('more') || name === 'print' ? 7 : 4.5;
  const at = (role: string): string => roles[role]!;

  test.each([
    ['ink', ['paper', 'card', 'picked-wash', 'warning-wash']],
    ['soft', ['paper', 'card', 'picked-wash', 'warning-wash']],
    ['picked', ['paper', 'card']],
    ['warning', ['paper', 'card']],
    ['fine', ['paper', 'card']],
    ['card', ['picked']],
  ] as const)('letters in %s can be read on %s', (text, grounds) => {
    for (const ground of grounds) {
      expect(contrast(at(text), at(ground)), `${text} on ${ground}`).toBeGreaterThanOrEqual(wanted);
    }
  });

  test('lines that carry meaning stand out from what they lie on', () => {
    const grounds = ['paper', 'card', ...DEPTHS, 'metal'];
    for (const line of ['ink', 'picked', 'warning']) {
      for (const ground of grounds) {
        expect(contrast(at(line), at(ground)), `${line} on ${ground}`).toBeGreaterThanOrEqual(3);
      }
    }
    // The rule under a figure says that it can be written in; measures lie on paper and over the part's body.
    for (const ground of ['paper', 'card', 'picked-wash']) {
      expect(contrast(at('rule'), at(ground)), `rule on ${ground}`).toBeGreaterThanOrEqual(3);
    }
    expect(contrast(at('soft'), over(at('body'), 0.5, at('paper')))).toBeGreaterThanOrEqual(3);
    expect(contrast(at('ink'), over(at('jaw'), 0.35, at('paper')))).toBeGreaterThanOrEqual(4.5);
    expect(contrast(at('warning'), at('warning-wash'))).toBeGreaterThanOrEqual(3);
  });

  /** Pairs that mean different things where they meet, and how far apart they must stay. */
  const pairs: readonly (readonly [string, string, number])[] = [
    ['picked', 'warning', LINES],
    ['picked', 'ink', LINES],
    ['picked', 'soft', LINES],
    ['warning', 'ink', LINES],
    ['warning', 'soft', LINES],
    ['warning', 'metal', LINES],
    ['picked', 'metal', LINES],
    ['metal', 'paper', FILLS],
    ['metal', 'jaw', FILLS],
    ['jaw', 'paper', FILLS],
    ['picked-wash', 'warning-wash', FILLS],
  ];
  const eyes: readonly (readonly [string, (hex: string) => string])[] = [
    ['all three cones', (hex: string) => hex],
    ...Object.entries(BLINDNESS).map(([what, m]) => [what, (hex: string) => seenBy(hex, m)] as const),
  ];

  test.each(eyes)('what must be told apart stays apart with %s', (_, see) => {
    for (const [a, b, least] of pairs) {
      const apart = difference(labOf(see(at(a))), labOf(see(at(b))));
      expect(apart, `${a} and ${b}`).toBeGreaterThanOrEqual(least);
    }
    for (const [i, depth] of DEPTHS.slice(1).entries()) {
      const apart = difference(labOf(see(at(depth))), labOf(see(at(DEPTHS[i]!))));
      expect(apart, `${depth} and the one above`).toBeGreaterThanOrEqual(STEP);
    }
  });

  test('in grey print depth is a stair of even steps, and metal, jaws and paper are three greys', () => {
    const grey = (role: string): number => labOf(at(role))[0];
    const rises = DEPTHS.slice(1).map((d, i) => grey(DEPTHS[i]!) - grey(d));
    for (const rise of rises) {
      expect(rise).toBeGreaterThan(2.8);
      expect(rise / rises[0]!).toBeGreaterThan(0.75);
      expect(rise / rises[0]!).toBeLessThan(1.3);
    }
    const three = [grey('metal'), grey('jaw'), grey('paper')].sort((a, b) => a - b);
    for (const [i, g] of three.slice(1).entries()) expect(g - three[i]!).toBeGreaterThan(9);
    // Lines of one grey are told apart by weight, dash and hatch; the picked one is also not ink's.
    expect(Math.abs(grey('picked') - grey('ink'))).toBeGreaterThan(name.startsWith('dark') ? 5 : 9);
  });
});

test('the measure of difference gives the published pairs', () => {
  // Sharma, Wu and Dalal 2005, table 1; values from memory.
  const table: readonly (readonly [Rgb, Rgb, number])[] = [
    [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
    [[50, -1, 2], [50, 0, 0], 2.3669],
    [[50, 2.5, 0], [73, 25, -18], 27.1492],
    [[50, 2.5, 0], [50, 3.2592, 0.335], 1],
    [[22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619], 2.0373],
    [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
  ];
  for (const [a, b, e] of table) expect(difference(a, b)).toBeCloseTo(e, 4);
});

test('without a cone, white and grey stay what they are', () => {
  for (const m of Object.values(BLINDNESS)) {
    for (const row of m) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 5);
    expect(seenBy('#ffffff', m)).toBe('#ffffff');
    expect(seenBy('#808080', m)).toBe('#808080');
  }
});

test('black on white is the most there is', () => {
  expect(contrast('#000', '#fff')).toBeCloseTo(21, 9);
  // #767676 is the lightest grey that can be read on white (WCAG technique, value from memory).
  expect(contrast('#767676', '#fff')).toBeGreaterThan(4.5);
  expect(contrast('#777777', '#fff')).toBeLessThan(4.5);
});
