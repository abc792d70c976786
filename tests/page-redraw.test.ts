import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { untilProven } from './browser.ts';
import { beginPart, type Hand, handOf, type Place, withoutPickers } from './drawing-hand.ts';
import { openSite } from './page-site.ts';

/** Each sample drawn again from an empty page, by mouse and keyboard: the same document comes of it. */

const site = openSite();

const emptyPage = async (): Promise<Page> => {
  const page = await site.browser.newPage({ viewport: { width: 1440, height: 900 } });
  await withoutPickers(page);
  await page.goto(site.url);
  await page.getByRole('button', { name: 'New', exact: true }).waitFor();
  return page;
};

interface Sample {
  readonly name: string;
  readonly unit: 'mm' | 'inch';
  readonly dimensions: Readonly<Record<string, number | string>>;
  readonly bar: Readonly<Record<string, unknown>>;
  readonly [key: string]: unknown;
}

const sampleOf = (file: string): Sample => {
  const { $schema: _, ...sample } = JSON.parse(readFileSync(`samples/${file}.json`, 'utf8'));
  return sample as Sample;
};

/** Name, dimensions and bar are written; features are drawn. */
const prepare = async (page: Page, hand: Hand, sample: Sample): Promise<void> => {
  await beginPart(page, sample.name, sample.unit);
  for (const [name, value] of Object.entries(sample.dimensions)) await hand.dimension(name, String(value));
  await hand.choose('bar.material', String(sample.bar.material));
  for (const key of ['length', 'width', 'thickness', 'sawn']) {
    if (key in sample.bar) await hand.write(`bar.${key}`, String(sample.bar[key]));
  }
  const corner = sample.bar.corner as readonly (string | number)[] | undefined;
  if (corner) {
    await hand.write('bar.corner.0', String(corner[0]));
    await hand.write('bar.corner.1', String(corner[1]));
  } else {
    await page.getByLabel('Place of the bar').selectOption('middle');
  }
  await page.getByRole('button', { name: 'all', exact: true }).click();
};

const ends = async (page: Page, hand: Hand, sample: Sample): Promise<void> => {
  expect(await hand.document()).toEqual(sample);
  const full = await hand.saved();
  const undo = page.getByRole('button', { name: 'Undo' });
  const redo = page.getByRole('button', { name: 'Redo' });
  while (await undo.isEnabled()) await undo.click();
  const empty = await hand.document();
  expect(empty.ends).toBeUndefined();
  expect(empty.dimensions).toBeUndefined();
  while (await redo.isEnabled()) await redo.click();
  expect(await hand.saved()).toBe(full);
  await untilProven(page);
  await page.locator('.rail button', { hasText: 'Prove' }).click();
  expect(await page.locator('[data-verdict]').getAttribute('data-verdict')).toBe('fits');
};

test('the vent latch lever', async () => {
  const page = await emptyPage();
  const hand = handOf(page);
  const sample = sampleOf('vent-latch-lever');
  await prepare(page, hand, sample);
  await hand.draw('plate', [0, -7.5], [28, 7.5]);
  await hand.draw('end', [23, 0], [28, 0]);
  await hand.draw('end', [66, 0], [70, 0]);
  await page.keyboard.press('Escape');
  await hand.write('plates.0.name', 'block');
  for (const [path, text] of [
    ['plates.0.rectangle.0.0', '0'],
    ['plates.0.rectangle.0.1', '-wide/2'],
    ['plates.0.rectangle.1.0', 'block'],
    ['plates.0.rectangle.1.1', 'wide/2'],
    ['ends.0.name', 'neck'],
    ['ends.0.radius', 'neck'],
    ['ends.0.centre.0', 'block - neck'],
    ['ends.1.name', 'tip'],
    ['ends.1.radius', 'tip'],
    ['ends.1.centre.0', 'overall - tip'],
  ] as const) {
    await hand.write(path, text);
  }
  await hand.draw('arm', [23, 0], [66, 0]);
  await hand.write('insideRadius', '4');
  // Dropped on the end's centre it takes over how that is stated.
  await hand.draw('hole', [66, 0], [68, 0]);
  await hand.write('holes.0.name', 'latch pin');
  await hand.choose('holes.0.purpose', 'reamed');
  await hand.draw('fork', [0, 0], [12, 0]);
  for (const [path, text] of [
    ['forks.0.name', 'fork'],
    ['forks.0.width', 'fork'],
    ['forks.0.depth', 'forkDeep'],
  ] as const) {
    await hand.write(path, text);
  }
  await hand.draw('hole', [20, 0]);
  await hand.write('holes.1.name', 'stop screw');
  await hand.choose('holes.1.purpose', 'tapped');
  await hand.write('holes.1.centre.0', '(forkDeep + block)/2');
  await hand.draw('land', [28, -15], [80, 15]);
  for (const [path, text] of [
    ['lands.0.name', 'body'],
    ['lands.0.area.rectangle.0.0', 'block'],
    ['lands.0.area.rectangle.0.1', '-wide'],
    ['lands.0.area.rectangle.1.0', 'overall + wide'],
    ['lands.0.area.rectangle.1.1', 'wide'],
    ['lands.0.top', 'thick'],
    ['lands.0.bottom', 'thick - body'],
  ] as const) {
    await hand.write(path, text);
  }
  await ends(page, hand, sample);
  await page.close();
});

type Step =
  | { readonly draw: string; readonly from: Place; readonly to?: Place }
  | { readonly write: string; readonly text: string }
  | { readonly choose: string; readonly word: string }
  | { readonly depth: string; readonly of: string; readonly text: string }
  | { readonly all: true };

const draw = (tool: string, from: Place, to?: Place): Step => ({ draw: tool, from, ...(to ? { to } : {}) });
const write = (path: string, text: string): Step => ({ write: path, text });
const choose = (path: string, word: string): Step => ({ choose: path, word });
/** The figures of a place, as the document states them. */
const place = (path: string, [x, y]: readonly [string, string]): readonly Step[] => [
  write(`${path}.0`, x),
  write(`${path}.1`, y),
];

const follow = async (page: Page, hand: Hand, steps: readonly Step[]): Promise<void> => {
  for (const step of steps) {
    if ('draw' in step) await hand.draw(step.draw, step.from, step.to);
    else if ('write' in step) await hand.write(step.write, step.text);
    else if ('choose' in step) await hand.choose(step.choose, step.word);
    else if ('depth' in step) {
      await page.locator('.card').getByLabel(`Depth of ${step.of}`, { exact: true }).selectOption('deep');
      await hand.write(step.depth, step.text);
    } else await page.getByRole('button', { name: 'all', exact: true }).click();
  }
};

const INCH = 25.4;

const DRAWN: Readonly<Record<string, readonly Step[]>> = {
  'bellows-lever': [
    draw('end', [0, 0], [9.525, 0]),
    { all: true },
    draw('end', [1.25 * INCH, 0], [1.5 * INCH, 0]),
    draw('plate', [-0.6 * INCH, -9.525], [0, 9.525]),
    { all: true },
    write('ends.0.name', 'boss'),
    write('ends.0.radius', 'wide/2'),
    ...place('ends.0.centre', ['0', '0']),
    write('ends.1.name', 'toe'),
    ...place('ends.1.centre', ['centres', '0']),
    write('ends.1.radius', 'toe'),
    { all: true },
    write('plates.0.name', 'cheeks'),
    ...place('plates.0.rectangle.0', ['-cheek', '-wide/2']),
    ...place('plates.0.rectangle.1', ['0', 'wide/2']),
    { all: true },
    draw('arm', [0, 0], [2.25 * INCH, 0]),
    draw('hole', [0.15 * INCH, 0]),
    write('holes.0.name', 'set screw'),
    choose('holes.0.purpose', 'tapped'),
    write('holes.0.thread', '8-32 UNC'),
    ...place('holes.0.centre', ['0.15', '0']),
    draw('hole', [2.25 * INCH, 0]),
    write('holes.1.name', 'toe pin'),
    write('holes.1.diameter', 'pinDrill'),
    draw('fork', [-0.6 * INCH, 0], [-0.1 * INCH, 0]),
    write('forks.0.name', 'fork'),
    write('forks.0.width', 'fork'),
    write('forks.0.depth', 'forkDeep'),
    ...place('forks.0.mouth', ['-cheek', '0']),
    choose('forks.0.root', 'square'),
    write('forks.0.cornerRadius', '3/32'),
    draw('land', [9.525, -12], [1.9 * INCH, 12]),
    write('lands.0.name', 'waist'),
    ...place('lands.0.area.rectangle.0', ['wide/2', '-wide']),
    ...place('lands.0.area.rectangle.1', ['centres - toe - 0.1', 'wide']),
    write('lands.0.top', 'web'),
  ],
  'winch-bell-crank': [
    draw('end', [0, 0], [8, 0]),
    { all: true },
    draw('end', [26, 0], [31, 0]),
    { all: true },
    draw('end', [-3.5, 19.5], [1, 19.5]),
    { all: true },
    write('ends.0.name', 'pivot end'),
    ...place('ends.0.centre', ['0', '0']),
    write('ends.0.radius', 'pivot'),
    write('ends.1.name', 'cable end'),
    ...place('ends.1.centre', ['long', '0']),
    write('ends.1.radius', 'cable'),
    write('ends.2.name', 'pawl end'),
    ...place('ends.2.centre', ['short*cos(lean)', 'short*sin(lean)']),
    write('ends.2.radius', 'pawl'),
    { all: true },
    draw('arm', [0, 0], [26, 0]),
    write('arms.0.name', 'long arm'),
    draw('arm', [0, 0], [-3.47, 19.7]),
    write('arms.1.name', 'short arm'),
    write('insideRadius', '5'),
    draw('hole', [0, 0], [3, 0]),
    write('holes.0.name', 'pivot'),
    write('holes.0.diameter', '6'),
    choose('holes.0.purpose', 'reamed'),
    draw('hole', [26, 0], [27.6, 0]),
    write('holes.1.name', 'cable pin'),
    write('holes.1.diameter', 'pin'),
    draw('hole', [-3.47, 19.7], [-1.87, 19.7]),
    write('holes.2.name', 'pawl pin'),
    write('holes.2.diameter', 'pin'),
  ],
  'shutter-link': [
    draw('end', [10, 0], [16, 0]),
    draw('end', [40, 0], [46, 0]),
    write('ends.0.name', 'left end'),
    ...place('ends.0.centre', ['-centres/2', '0']),
    write('ends.0.radius', 'wide/2'),
    write('ends.1.name', 'right end'),
    ...place('ends.1.centre', ['centres/2', '0']),
    write('ends.1.radius', 'wide/2'),
    { all: true },
    draw('arm', [-36, 0], [36, 0]),
    write('arms.0.name', 'body'),
    draw('hole', [-36, 0], [-34, 0]),
    write('holes.0.name', 'left pin'),
    write('holes.0.diameter', '4'),
    choose('holes.0.purpose', 'reamed'),
    draw('hole', [36, 0]),
    write('holes.1.name', 'right pin'),
    write('holes.1.diameter', '4'),
    choose('holes.1.purpose', 'reamed'),
    draw('slot', [-10, 0], [10, 0]),
    write('slots.0.name', 'travel'),
    write('slots.0.width', 'slot'),
    ...place('slots.0.from', ['-travel/2', '0']),
    ...place('slots.0.to', ['travel/2', '0']),
  ],
  'damper-yoke': [
    draw('end', [16, 0], [26, 0]),
    draw('end', [64, 0], [70, 0]),
    draw('plate', [0, -10], [16, 10]),
    write('ends.0.name', 'heel'),
    write('ends.0.centre.0', 'jaw - wide/2'),
    write('ends.0.radius', 'wide/2'),
    write('ends.1.name', 'toe'),
    write('ends.1.centre.0', 'long'),
    write('ends.1.radius', 'toe'),
    write('plates.0.name', 'jaw'),
    ...place('plates.0.rectangle.0', ['0', '-wide/2']),
    ...place('plates.0.rectangle.1', ['jaw - wide/2', 'wide/2']),
    draw('arm', [16, 0], [64, 0]),
    draw('hole', [64, 0], [66, 0]),
    write('holes.0.name', 'toe bush'),
    choose('holes.0.purpose', 'counterbored'),
    write('holes.0.boreDiameter', '7'),
    write('holes.0.boreDepth', '1.5'),
    draw('hole', [22, 0]),
    write('holes.1.name', 'grub screw'),
    choose('holes.1.purpose', 'tapped'),
    write('holes.1.thread', '4 BA'),
    { depth: 'holes.1.depth', of: 'grub screw', text: '7' },
    write('holes.1.centre.0', 'jaw - 4'),
    draw('slot', [36, 0], [48, 0]),
    write('slots.0.name', 'adjuster'),
    write('slots.0.width', '5'),
    write('slots.0.from.0', 'jaw + 10'),
    write('slots.0.to.0', 'long - 16'),
    draw('fork', [0, 0], [15, 0]),
    write('forks.0.name', 'yoke'),
    write('forks.0.depth', '15'),
    write('forks.0.width', 'fork'),
    choose('forks.0.root', 'square'),
    write('forks.0.cornerRadius', '3'),
    draw('land', [26, -15], [80, 15]),
    write('lands.0.name', 'body'),
    ...place('lands.0.area.rectangle.0', ['jaw', '-wide']),
    ...place('lands.0.area.rectangle.1', ['long + wide', 'wide']),
    write('lands.0.top', '(thick + body)/2'),
    write('lands.0.bottom', '(thick - body)/2'),
  ],
};

for (const [file, steps] of Object.entries(DRAWN)) {
  test(`the ${file.replaceAll('-', ' ')}`, async () => {
    const page = await emptyPage();
    const hand = handOf(page);
    const sample = sampleOf(file);
    await prepare(page, hand, sample);
    await follow(page, hand, steps);
    await ends(page, hand, sample);
    await page.close();
  });
}
