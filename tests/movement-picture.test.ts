import { beforeAll, describe, expect, test } from 'vitest';
import { planPart, survivalQuestion, writePrograms } from '../gcode/chain.ts';
import {
  exaggerationFor,
  levelText,
  type MovementPicture,
  movementPicture,
} from '../gcode/survival/movement-picture.ts';
import { exaggerationText, movementWords } from '../gcode/survival/movement-words.ts';
import { bandStep, stepText } from '../toolpath/survival/bands.ts';
import { placesOf } from '../toolpath/survival/elasticity/bricks.ts';
import { type MovementField, movementFields } from '../toolpath/survival/movement-field.ts';
import type { PassSurvival } from '../toolpath/survival/pass-survival.ts';
import { surviveRoute } from '../toolpath/survival/survival.ts';
import { sampleText } from './samples.ts';

/** The picture of a movement: what is drawn, measured off its own paths. */

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const asked = survivalQuestion(planned, writePrograms(planned.part, planned.plan, planned.profile));
const TERMS = { cell: 0.3, brick: 1.5, only: () => false } as const;
let survey: readonly PassSurvival[];
beforeAll(() => {
  survey = surviveRoute(asked, TERMS);
});

const solvedField = (label: string): MovementField => {
  const number = asked.passes.findIndex((p) => p.label === label);
  const pass = survey[number]!;
  const field = movementFields(asked, TERMS)(number, pass.force, pass.bending[0]!.place);
  if (field?.kind !== 'field') throw new Error(`nothing to show for ${label}`);
  return field;
};

/** The same work bent by a rule of our own: straight up in the program as the square of the way along it, `most` mm at its end. */
const bentBy = (field: MovementField, most: number): MovementField => {
  const places = placesOf(field.grid);
  const { xs } = field.grid;
  const [from, to] = [xs[0]!, xs.at(-1)!];
  const sense = field.setup.frame.face === 'front' ? 1 : -1;
  const movement = places.map((_, n) =>
    n % 3 === 2 ? sense * most * ((places[n - 2]! - from) / (to - from)) ** 2 : 0,
  );
  return { ...field, movement, most };
};

/** All points of a path, Y up. */
const pointsOf = (path: string): readonly (readonly [number, number])[] =>
  [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), -Number(m[2])] as const);

const viewOf = (picture: MovementPicture, name: 'above' | 'edge') =>
  picture.views.find((v) => v.view === name)!;

describe.each(['outline, pass 3', 'thin body from the back, pass 2'])('“%s” bent by a rule', (label) => {
  const most = 0.0321;
  let field: MovementField;
  let picture: MovementPicture;
  beforeAll(() => {
    field = bentBy(solvedField(label), most);
    picture = movementPicture(field, 24, 'mm');
  });
  const end = (): number => field.grid.xs.at(-1)! - field.setup.frame.zero.x;

  test('is drawn as large as its exaggeration says, from the edge', () => {
    const drawn = viewOf(picture, 'edge').work.flatMap((p) => pointsOf(p.path));
    const rest = pointsOf(viewOf(picture, 'edge').rest);
    const topAt = (all: readonly (readonly [number, number])[]): number =>
      Math.max(...all.filter(([x]) => Math.abs(x - end()) < 0.05).map(([, y]) => y));
    expect(topAt(drawn) - topAt(rest)).toBeCloseTo(picture.exaggeration * most, 1);
    expect(picture.exaggeration * most).toBeGreaterThan(1.5);
    expect(picture.exaggeration * most).toBeLessThan(0.06 * field.map.columns * field.map.cell + 1e-9);
    expect([1, 2, 5]).toContain(Number(String(picture.exaggeration)[0]));
  });

  test('from above nothing that rises straight up is moved aside', () => {
    const view = viewOf(picture, 'above');
    const [drawn, rest] = [view.work.filter((p) => p.kind === 'rim').map((p) => p.path), view.rest];
    expect(drawn.join('')).toBe(rest);
  });

  test('lines of equal movement lie where the rule has it, and part the bands of the key', () => {
    const { step, bands } = picture;
    expect(bands).toBe(Math.floor(most / step) + 1);
    const [from, to] = [field.grid.xs[0]!, field.grid.xs.at(-1)!];
    const lines = viewOf(picture, 'above').work.filter((p) => p.kind === 'line');
    expect(new Set(lines.map((l) => l.band))).toEqual(
      new Set(Array.from({ length: bands - 1 }, (_, n) => n + 1)),
    );
    const brick = Math.max(...field.grid.xs.slice(1).map((x, n) => x - field.grid.xs[n]!));
    for (const { band, path } of lines) {
      const x = from + (to - from) * Math.sqrt((band * step) / most) - field.setup.frame.zero.x;
      // Between nodes movement goes straight: the parabola's line is off by at most an eighth of its bend over one brick.
      for (const [at] of pointsOf(path)) expect(Math.abs(at - x)).toBeLessThan(0.25 * brick);
    }
    // Each band lies between its lines.
    for (const { band, path } of viewOf(picture, 'above').work.filter((p) => p.kind === 'band')) {
      const bound = (n: number): number =>
        from + (to - from) * Math.sqrt(Math.min(1, (n * step) / most)) - field.setup.frame.zero.x;
      for (const [x] of pointsOf(path)) {
        expect(x).toBeGreaterThan(bound(band) - 0.25 * brick);
        expect(x).toBeLessThan(bound(band + 1) + 0.25 * brick);
      }
    }
  });

  test('says its figures on the lines, the newtons at the arrow, and draws the jaws', () => {
    for (const view of picture.views) {
      const said = view.letters.map((l) => l.text);
      expect(said.filter((t) => /^\d+ N$/.test(t)).length).toBe(1);
      expect(said.filter((t) => /^0\.\d+$/.test(t)).length).toBeGreaterThan(1);
      expect(view.marks.filter((m) => m.kind === 'jaw').length).toBe(view.view === 'above' ? 2 : 1);
      expect(view.marks.some((m) => m.kind === 'cutter')).toBe(true);
      for (const { at } of view.letters) {
        expect(at.x).toBeGreaterThan(view.box.x);
        expect(at.x).toBeLessThan(view.box.x + view.box.width);
        expect(-at.y).toBeGreaterThan(view.box.y);
        expect(-at.y).toBeLessThan(view.box.y + view.box.height);
      }
    }
  });
});

test('a solved movement is drawn by the same rule: no point strays farther than exaggeration times the most', () => {
  const field = solvedField('thin body from the back, pass 2');
  const picture = movementPicture(field, 24, 'mm');
  const high = Math.max(
    ...viewOf(picture, 'edge')
      .work.flatMap((p) => pointsOf(p.path))
      .map(([, y]) => y),
  );
  const rest = Math.max(...pointsOf(viewOf(picture, 'edge').rest).map(([, y]) => y));
  expect(high - rest).toBeLessThan(picture.exaggeration * field.most + 0.02);
  const words = movementWords(field, 'end tip', 'mm');
  expect(words.moves).toContain(`${field.under.toFixed(3)} mm under the cutter`);
  expect(words.push).toMatch(
    /about \d+ N, \d+ N level and \d+ N (up|down) at the end tip, X -?\d+\.\d, Y -?\d+\.\d/,
  );
  expect(words.lie).toBe('As it lies in setup 2, back up.');
});

test('exaggerations and steps are round numbers, with words for them', () => {
  expect(exaggerationFor(0.0123, 5)).toBe(200);
  expect(exaggerationFor(0.01, 5)).toBe(500);
  expect(exaggerationFor(0, 5)).toBe(1);
  expect(exaggerationText(400)).toBe('drawn 400 times as large');
  expect(exaggerationText(10_000)).toBe('drawn 10\u202f000 times as large');
  expect([bandStep(0.0165), bandStep(0.008), bandStep(0.41), bandStep(0.00008)]).toEqual([
    0.005, 0.001, 0.1, 0.00001,
  ]);
  expect(stepText(0.015, 0.005)).toBe('0.015');
  expect(stepText(0.4, 0.1)).toBe('0.4');
});

test('in inches its lines stand at round figures of an inch, and its words are in inches', () => {
  const field = solvedField('thin body from the back, pass 2');
  const picture = movementPicture(field, 24, 'inch');
  const inches = picture.step / 25.4;
  const power = 10 ** Math.floor(Math.log10(inches) + 1e-9);
  expect([1, 2, 5].some((f) => Math.abs(inches / power - f) < 1e-6)).toBe(true);
  // The same bend under the same lines, whatever they are told in.
  expect(picture.bands).toBe(Math.floor(field.most / picture.step + 1e-9) + 1);
  const figures = picture.views.flatMap((v) => v.letters.map((l) => l.text)).filter((t) => !t.endsWith(' N'));
  expect(figures.length).toBeGreaterThan(1);
  const levels = Array.from({ length: picture.bands }, (_, n) => levelText(picture, n + 1));
  for (const text of figures) expect(levels).toContain(text);
  expect(Number(levels.at(-1))).toBeLessThanOrEqual((field.most / 25.4) * 1.0001 + inches);
  const words = movementWords(field, null, 'inch');
  expect(words.moves).toContain(`${(field.under / 25.4).toFixed(4)} in under the cutter`);
  expect(`${words.moves} ${words.push}`).not.toMatch(/\bmm\b/);
});
