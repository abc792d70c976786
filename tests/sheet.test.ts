import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Made, makeAll } from '../gcode/chain.ts';
import { groupLevels } from '../gcode/sheet/levels.ts';
import { partSvg } from '../gcode/sheet/part-svg.ts';
import { sheetHtml } from '../gcode/sheet/sheet.ts';
import { harmless } from '../gcode/sheet/svg.ts';
import { figure } from '../gcode/table/figures.ts';
import { setupRows, type TableRow, tableRows } from '../gcode/table/rows.ts';
import { readPart } from '../sketch/part/document.ts';
import { edgesFromAbove } from '../sketch/part/edges.ts';
import { outlineOf, solidOf } from '../sketch/part/solid.ts';
import { disc, pathLength, perimeter, rectangle, segmentsOf } from '../sketch/shape/region.ts';
import { pointAlong } from '../sketch/shape/segment.ts';
import type { Pass } from '../toolpath/passes/pass.ts';

const textOf = (name: string): string => readFileSync(`samples/${name}.json`, 'utf8');
const NAMES = readdirSync('samples')
  .filter((name) => name.endsWith('.json') && !name.includes('schema'))
  .map((name) => name.replace('.json', ''));
const made = new Map<string, Made>();
const madeOf = (name: string): Made => {
  const known = made.get(name);
  if (known) return known;
  const result = makeAll(textOf(name));
  if (!result.ok) throw new Error(result.findings[0]?.message);
  made.set(name, result);
  return result;
};
const partOf = (name: string) => {
  const reading = readPart(textOf(name));
  if (!reading.ok) throw new Error(reading.findings[0]?.message);
  return reading.part;
};
const total = (segments: readonly Parameters<typeof pointAlong>[0][]): number => pathLength({ segments });

describe('Edges seen from above', () => {
  test('are heavy where nothing lies over them and hidden where something does, to the very corner', () => {
    // A block 10 × 10 lies on a strip 30 × 4 that sticks out on both sides.
    const strip = { bottom: 0, top: 1, region: rectangle({ x: -15, y: -2 }, { x: 15, y: 2 }) };
    const block = { bottom: 1, top: 3, region: rectangle({ x: -5, y: -5 }, { x: 5, y: 5 }) };
    const { visible, hidden } = edgesFromAbove([strip, block]);
    expect(total(visible)).toBeCloseTo(40 + 2 * (10 + 4 + 10), 9);
    expect(total(hidden)).toBeCloseTo(2 * 10, 9);
    for (const s of hidden) for (const t of [0, 1]) expect(Math.abs(pointAlong(s, t).x)).toBeCloseTo(5, 9);
  });

  test('that two slabs share are drawn once', () => {
    const low = { bottom: 0, top: 1, region: disc({ x: 0, y: 0 }, 4) };
    const high = { bottom: 1, top: 2, region: disc({ x: 0, y: 0 }, 4) };
    const { visible, hidden } = edgesFromAbove([low, high]);
    expect(total(visible)).toBeCloseTo(8 * Math.PI, 6);
    expect(hidden).toEqual([]);
  });

  test.each(NAMES)('of %s leave none of the outline out', (name) => {
    const part = partOf(name);
    const { visible, hidden } = edgesFromAbove(solidOf(part).slabs);
    const all = [...visible, ...hidden];
    for (const s of segmentsOf(outlineOf(part))) {
      const p = pointAlong(s, 0.37);
      const mouth = part.forks.some((f) => Math.hypot(f.mouth.x - p.x, f.mouth.y - p.y) < f.width / 2 + 1e-6);
      if (mouth) continue;
      const near = Math.min(
        ...all.map((e) => Math.min(...sampled(e).map((q) => Math.hypot(q.x - p.x, q.y - p.y)))),
      );
      expect(near).toBeLessThan(0.2);
    }
  });
});

const sampled = (s: Parameters<typeof pointAlong>[0]) =>
  Array.from({ length: 401 }, (_, i) => pointAlong(s, i / 400));

describe("The part's drawing", () => {
  test('is to scale: its size in mm is its view box, and arcs are arcs', () => {
    const svg = partSvg(partOf('vent-latch-lever'));
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg)!;
    const box = /viewBox="([^"]+)"/.exec(svg)![1]!.split(' ').map(Number);
    expect([Number(width), Number(height)]).toEqual(box.slice(2));
    // 70 × 15 mm of lever and 8 mm of paper all round.
    expect(box).toEqual([-8, -15.5, 86, 31]);
    expect(svg).toMatch(/A2\.5 2\.5 0 0 [01] /);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  test('shows what lies behind in dashes and centre lines in chains', () => {
    const svg = partSvg(partOf('vent-latch-lever'));
    expect(svg).toContain('class="hidden" d="M28 7.5L28 -7.5"');
    // Fork, arm and both holes lie on one line: one chain, from before the mouth to beyond the tip.
    expect(svg.match(/class="centre" d="M[-\d.]+ 0L[-\d.]+ 0"/g)).toEqual(['class="centre" d="M-3 0L73 0"']);
  });

  test('draws a turned-up Y the right way: what is up in the part is up on paper', () => {
    const svg = partSvg(partOf('winch-bell-crank'));
    const pawl = partOf('winch-bell-crank').holes.find((h) => h.name === 'pawl pin')!;
    expect(pawl.centre.y).toBeGreaterThan(0);
    const chain = new RegExp(`M[-\\d.]+ ${String(-Number(pawl.centre.y.toFixed(4)))}L`);
    expect(svg).toMatch(chain);
  });
});

describe('Passes that differ in depth alone', () => {
  test('are printed once, with every level, and lose nothing', () => {
    for (const name of NAMES) {
      const { part, plan } = madeOf(name);
      for (const setup of plan.setups) {
        for (const step of setup.steps) {
          const rows = setupRows({ ...setup, steps: [step] }, part.unit);
          const groups = groupLevels(step.passes, rows);
          expect(groups.flatMap((g) => g.passes)).toEqual(step.passes);
          // Written out again, the groups give every row, to what a hand can set.
          const again = groups.flatMap((g) =>
            g.passes.flatMap((pass) =>
              g.rows.map((row, k) => {
                const height = g.heights[k]!;
                return [row.at.x, row.at.y, height.kind === 'fixed' ? height.z : pass.z + height.above];
              }),
            ),
          );
          expect(again.length).toBe(rows.length);
          again.forEach(([x, y, z], i) => {
            expect(Math.abs(x! - rows[i]!.at.x)).toBeLessThan(0.005);
            expect(Math.abs(y! - rows[i]!.at.y)).toBeLessThan(0.005);
            expect(Math.abs(z! - rows[i]!.at.z)).toBeLessThan(0.005);
          });
        }
      }
    }
  });

  test('are printed apart when something besides the height tells them apart', () => {
    const rows = [rowAt(1, 5, -1), rowAt(2, 5, -2)];
    const groups = (alike: () => boolean): number =>
      groupLevels([passAt(-1), passAt(-2)], rows, alike).length;
    expect([groups(() => true), groups(() => false)]).toEqual([1, 2]);
  });

  const passAt = (z: number): Pass => ({ kind: 'rough', z, web: null, moves: [] });
  const rowAt = (pass: number, x: number, z: number, note = 'along X'): TableRow => ({
    ...{ setup: 1, step: 'a', pass, kind: 'rough', coming: 'straight', about: '', note },
    ...{ round: null, tool: 1, speed: 1000, feed: 100 },
    at: { x, y: 0, z },
  });
  const blocks = (second: TableRow): number =>
    groupLevels([passAt(-1), passAt(-2)], [rowAt(1, 5, -1), second]).length;

  test.each([
    ['at the same place', rowAt(2, 5, -2), 1],
    ['nearer than a hand can set', rowAt(2, 5.003, -2), 1],
    ['a setting aside', rowAt(2, 5.01, -2), 2],
    ['come to in another way', rowAt(2, 5, -2, 'arc clockwise round X 0.00 Y 0.00'), 2],
    ['at a height of its own', { ...rowAt(2, 5, -1.5) }, 2],
    ['at one height for both', rowAt(2, 5, -1), 1],
  ])('count as one only when they may: a second pass %s', (_, second, count) => {
    expect(blocks(second)).toBe(count);
  });

  test('make the fork of the vent latch lever two blocks: down to where its bar is squared, and below', () => {
    const { part, plan } = madeOf('vent-latch-lever');
    const setup = plan.setups[0]!;
    const fork = setup.steps.find((s) => s.step.kind === 'fork')!;
    const groups = groupLevels(fork.passes, setupRows({ ...setup, steps: [fork] }, part.unit));
    expect(groups.map((g) => g.passes.length)).toEqual([4, 2]);
  });
});

describe('Setup sheets', () => {
  test.each(NAMES)('of %s stand alone and hold every setup, cutter and place', (name) => {
    const result = madeOf(name);
    const { part, plan, proof } = result;
    const html = sheetHtml(result, proof);
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/NaN|Infinity|undefined|\[object/);
    // Nothing is loaded from anywhere and nothing runs.
    expect(html).not.toMatch(/<script|<link|<img|\bsrc=|https?:\/\/(?!www\.w3\.org\/2000\/svg)/i);
    expect(html).not.toMatch(/\bon\w+=/i);
    for (const { setup, steps } of plan.setups) {
      expect(html).toContain(`setup ${setup.number}, ${setup.face} up</h1>`);
      for (const { step, cutter } of steps) {
        expect(html).toContain(harmless(step.name));
        expect(html).toContain(harmless(cutter.name));
      }
    }
    for (const row of tableRows(plan, part.unit)) {
      expect(html).toContain(`>${figure(row.at.x, part.unit)}</td>`);
      expect(html).toContain(`>${figure(row.at.y, part.unit)}</td>`);
    }
    for (const pass of plan.setups
      .flatMap((s) => s.steps)
      .flatMap((s) => (s.step.kind === 'tap' ? [] : s.passes))) {
      expect(html).toContain(figure(pass.z, part.unit));
    }
    expect(html).toMatch(/eye protection/i);
    expect(html).toContain(`<strong>${proof.verdict}</strong>`);
  });

  test('are well formed', () => {
    for (const name of NAMES) {
      const result = madeOf(name);
      expect(unclosed(sheetHtml(result, result.proof))).toEqual([]);
      expect(unclosed(partSvg(result.part))).toEqual([]);
    }
  });

  test('let nothing that a part file says become markup', () => {
    const hostile = `</title><script>alert(1)</script>"'&<b onload=x>\u0000\u0007\ud800`;
    const document = JSON.parse(textOf('vent-latch-lever'));
    document.name = hostile;
    for (const hole of document.holes) hole.name = `${hole.name} ${hostile}`;
    document.lands[0].name = hostile;
    const result = makeAll(JSON.stringify(document));
    if (!result.ok) throw new Error(result.findings[0]?.message);
    for (const text of [sheetHtml(result, result.proof), partSvg(result.part)]) {
      expect(text).not.toMatch(/<script|<b |onload=x>/);
      expect(text).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
      expect(text).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
      expect(text).not.toMatch(/\p{Surrogate}/u);
      expect(unclosed(text)).toEqual([]);
    }
  });

  test('say when a part was not proven', () => {
    expect(sheetHtml(madeOf('shutter-link'), null)).toContain('Not proven.');
  });

  test('speak inches of a part in inches', () => {
    const result = madeOf('bellows-lever');
    const html = sheetHtml(result, result.proof);
    expect(html).toContain('X in</th>');
    expect(html).toContain('Feed in/min');
    expect(html).not.toMatch(/\d mm (high|thick|of)/);
  });
});

/** Tags that are opened and not closed in order, or closed and not opened. */
const unclosed = (markup: string): readonly string[] => {
  const VOID = new Set(['meta', 'br', 'col', 'hr', '!doctype']);
  const open: string[] = [];
  const wrong: string[] = [];
  const bare = markup.replace(/<style>[\s\S]*?<\/style>/g, '');
  for (const [, slash, name, self] of bare.matchAll(/<(\/?)([!a-z][a-z0-9]*)\b[^<>]*?(\/?)>/gi)) {
    const tag = name!.toLowerCase();
    if (self || VOID.has(tag)) continue;
    if (!slash) open.push(tag);
    else if (open.pop() !== tag) wrong.push(tag);
  }
  return [...wrong, ...open];
};

test('the perimeter of the outline is what the drawing shows of it', () => {
  const part = { ...partOf('shutter-link'), holes: [], slots: [] };
  const { visible } = edgesFromAbove(solidOf(part).slabs);
  expect(total(visible)).toBeCloseTo(perimeter(outlineOf(part)), 6);
});

describe('A tapped hole on the sheet', () => {
  test('says what its drill leaves of the thread, and the printed table beside it', () => {
    const made = makeAll(readFileSync('samples/bellows-lever.json', 'utf8'));
    if (!made.ok) throw new Error('not made');
    const hole = made.part.holes.find((h) => h.purpose === 'tapped')!;
    if (hole.purpose !== 'tapped') throw new Error('not tapped');
    const html = sheetHtml(made, null);
    expect(html).toContain(`leaves ${Math.round(hole.engagement * 100)} % of the thread`);
    expect(html).toMatch(/of the thread; table: (\d+ = )?[\d.]+ mm/);
  });
});
