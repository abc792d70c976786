import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { allFeatures, copyName, featureOf, freshName, placesOf } from '../sketch/draft/features.ts';
import { getIn, type Json, type JsonObject } from '../sketch/draft/json.ts';
import { freePlace, moveFeatures, movePlaces } from '../sketch/draft/move.ts';
import { FEATURE_KINDS, newFeature } from '../sketch/draft/new-feature.ts';
import { readPart } from '../sketch/part/document.ts';
import { anyDocument, partOf, sample, shift } from './draft-documents.ts';
import './seed.ts';

const plain = {
  format: 'leverwright-part',
  version: 1,
  name: 'Plain lever',
  unit: 'mm',
  dimensions: { long: 40 },
  bar: { length: 80, width: 40, thickness: 6, material: 'brass' },
  ends: [
    { name: 'big', centre: [0, 0], radius: 8 },
    { name: 'small', centre: ['long', 0], radius: 5 },
    { name: 'third', centre: [20, '60/4'], radius: 5 },
  ],
  arms: [
    { from: 'big', to: 'small' },
    { name: 'up', from: 'big', to: 'third' },
  ],
  plates: [
    {
      name: 'foot',
      rectangle: [
        [-8, -10],
        ['long/4', 10],
      ],
    },
  ],
  holes: [
    { name: 'pin', purpose: 'reamed', centre: [0, 0], diameter: 4 },
    { name: 'third pin', purpose: 'reamed', centre: [20, 15], diameter: 4 },
  ],
  slots: [{ name: 'slot', from: [20, 15], to: [20, 5], width: 3 }],
  lands: [{ name: 'boss', area: { disc: { centre: [0, 0], radius: 8 } }, top: 6 }],
} satisfies JsonObject;

const centre = (document: JsonObject, name: string, key = 'centre') => {
  const f = featureOf(document, name)!;
  return getIn(document, [...f.path, ...key.split('.')]);
};

describe('Features are found', () => {
  test('by name, an arm without one by its ends', () => {
    expect(featureOf(plain, 'big – small')).toMatchObject({ kind: 'arms', index: 0 });
    expect(featureOf(plain, 'slot')).toMatchObject({ kind: 'slots', path: ['slots', 0] });
    expect(featureOf(plain, 'none')).toBeNull();
    expect(allFeatures(plain)).toHaveLength(10);
    expect(placesOf(featureOf(plain, 'foot')!).map((p) => p.path.join('/'))).toEqual([
      'plates/0/rectangle/0',
      'plates/0/rectangle/1',
    ]);
  });

  test('new names are free ones', () => {
    expect(freshName(plain, 'hole')).toBe('hole 1');
    expect(copyName(new Set(['pin', 'pin 2']), 'pin')).toBe('pin 3');
    expect(copyName(new Set(['pin 9']), 'pin 9')).toBe('pin 10');
    expect(copyName(new Set(), 'pin')).toBe('pin');
    const long = 'x'.repeat(120);
    expect(copyName(new Set([long]), long)).toHaveLength(120);
  });

  test('a new feature of each kind can be read', () => {
    for (const kind of FEATURE_KINDS) {
      const item = newFeature(kind, partOf(plain));
      const list = ((plain as JsonObject)[kind] ?? []) as readonly Json[];
      expect(readPart({ ...plain, [kind]: [...list, item] }).findings, kind).toEqual([]);
    }
  });
});

describe('A move', () => {
  test('takes along what sits on an end, and nothing else', () => {
    const { document, held } = moveFeatures(plain, ['big'], { x: 2, y: -3 });
    expect(held).toEqual([]);
    expect(centre(document, 'big')).toEqual([2, -3]);
    expect(centre(document, 'pin')).toEqual([2, -3]);
    expect(centre(document, 'boss', 'area.disc.centre')).toEqual([2, -3]);
    expect(document.slots).toBe(plain.slots);
    expect(document.plates).toBe(plain.plates);
  });

  test('leaves the corners of a plate that only meet there', () => {
    const fin = {
      name: 'foot',
      corners: [
        [0, 0],
        [9, 0],
        [0, 9],
      ],
    };
    const document = moveFeatures({ ...plain, plates: [fin] }, ['big'], { x: 1, y: 1 }).document;
    expect(document.plates).toEqual([fin]);
  });

  test('takes one end of a slot along with the end it lies on', () => {
    const { document } = moveFeatures(plain, ['third'], { x: 1, y: 1 });
    expect(document.slots).toEqual([{ name: 'slot', from: [21, 16], to: [20, 5], width: 3 }]);
    expect(centre(document, 'third')).toEqual([21, 16]);
  });

  test('leaves it behind when the end goes alone', () => {
    const { document } = moveFeatures(plain, ['big'], { x: 2, y: 0 }, { alone: true });
    expect(centre(document, 'pin')).toEqual([0, 0]);
    expect(centre(document, 'big')).toEqual([2, 0]);
  });

  test('does not override a formula, and says which it was', () => {
    const { document, held } = moveFeatures(plain, ['small'], { x: 2, y: 1 });
    expect(centre(document, 'small')).toEqual(['long', 1]);
    expect(held).toEqual([{ feature: 'small', axis: 'x', formula: 'long', path: ['ends', 1, 'centre', 0] }]);
  });

  test('does not bend a shape of which one corner is held', () => {
    const { document, held } = moveFeatures(plain, ['foot'], { x: 2, y: 1 });
    expect(getIn(document, ['plates', 0, 'rectangle'])).toEqual([
      [-8, -9],
      ['long/4', 11],
    ]);
    expect(held.map((h) => [h.feature, h.axis])).toEqual([['foot', 'x']]);
  });

  test('of an arm takes both its ends, and holds both where one is held', () => {
    const up = moveFeatures(plain, ['up'], { x: 1, y: 2 }).document;
    expect([centre(up, 'big'), centre(up, 'third'), centre(up, 'third pin')]).toEqual([
      [1, 2],
      [21, 17],
      [21, 17],
    ]);
    const level = moveFeatures(plain, ['big – small'], { x: 1, y: 2 });
    expect([centre(level.document, 'big'), centre(level.document, 'small')]).toEqual([
      [0, 2],
      ['long', 2],
    ]);
    expect(level.held).toHaveLength(1);
  });

  test('moves what two chosen features share once', () => {
    const { document } = moveFeatures(plain, ['big', 'up', 'pin'], { x: 1, y: 0 });
    expect(centre(document, 'big')).toEqual([1, 0]);
    expect(centre(document, 'pin')).toEqual([1, 0]);
  });

  test('writes no noise', () => {
    const { document } = moveFeatures(plain, ['big'], { x: 10.000000001, y: -1e-9 });
    expect(JSON.stringify(centre(document, 'big'))).toBe('[10,0]');
  });

  test('works in the unit of the file', () => {
    const document = moveFeatures(sample('bellows-lever'), ['set screw'], { x: 2.54, y: 0 }).document;
    expect(centre(document, 'set screw')).toEqual([0.25, 0]);
  });

  test('of single places bends the shape as asked', () => {
    const place = placesOf(featureOf(plain, 'foot')!)[0]!;
    const { document } = movePlaces(plain, [place], { x: -1, y: -1 });
    expect(getIn(document, place.path)).toEqual([-9, -11]);
  });

  test('frees a place from its formulas only when told to', () => {
    expect(getIn(freePlace(plain, ['ends', 1, 'centre']), ['ends', 1, 'centre'])).toEqual([40, 0]);
    expect(freePlace(plain, ['ends', 0, 'centre'])).toBe(plain);
  });

  test('there and back is the same document, and every one on the way can be read', () => {
    const some = anyDocument.chain((document) =>
      fc.tuple(fc.constant(document), fc.subarray(allFeatures(document).map((f) => f.name)), shift),
    );
    fc.assert(
      fc.property(some, ([document, names, d]) => {
        const there = moveFeatures(document, names, d);
        expect(readPart(there.document).ok).toBe(true);
        const back = moveFeatures(there.document, names, { x: -d.x, y: -d.y });
        expect(JSON.stringify(back.document)).toBe(JSON.stringify(document));
      }),
    );
  });
});
