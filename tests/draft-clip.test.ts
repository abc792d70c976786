import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clipOf, clipText, pasteClip, readClip } from '../sketch/draft/clip.ts';
import { allFeatures, featureOf } from '../sketch/draft/features.ts';
import { getIn, type JsonObject } from '../sketch/draft/json.ts';
import { readPart } from '../sketch/part/document.ts';
import { anyDocument, differences, partOf, sample, shift } from './draft-documents.ts';
import './seed.ts';

const NOWHERE = { x: 0, y: 0 };
const pasted = (document: JsonObject, clip: JsonObject, by = NOWHERE) => {
  const result = pasteClip(document, clip, by);
  if (!result.ok) throw new Error(result.message);
  return result;
};
const value = (document: JsonObject, name: string, ...keys: (string | number)[]) =>
  getIn(document, [...featureOf(document, name)!.path, ...keys]);
const empty = (unit: 'mm' | 'inch', dimensions = {}): JsonObject => ({
  format: 'leverwright-part',
  version: 1,
  name: 'Other',
  unit,
  dimensions,
  bar: { length: 20, width: 20, thickness: 6, material: 'brass' },
});

describe('A clip', () => {
  test('pasted into its own part has fresh names, its arms its own ends, and keeps formulas that stay', () => {
    const document = sample('bellows-lever');
    const clip = clipOf(document, ['boss', 'toe', 'boss – toe', 'toe pin']);
    const result = pasted(document, clip, { x: 0, y: 25.4 });
    expect(result.names).toEqual(['boss 2', 'toe 2', 'boss 2 – toe 2', 'toe pin 2']);
    expect(value(result.document, 'toe 2')).toEqual({ name: 'toe 2', centre: ['centres', 1], radius: 'toe' });
    expect(value(result.document, 'boss 2 – toe 2')).toEqual({ from: 'boss 2', to: 'toe 2' });
    expect(result.freed).toEqual([]);
  });

  test('in a part without its dimensions becomes numbers, and says so', () => {
    const clip = clipOf(sample('bellows-lever'), ['toe', 'toe pin', 'waist']);
    const { document, freed } = pasted(empty('inch', { toe: 0.3 }), clip);
    expect(value(document, 'toe')).toEqual({ name: 'toe', centre: [2.25, 0], radius: 0.25 });
    expect(value(document, 'toe pin', 'diameter')).toBe(0.188976);
    expect(freed).toContainEqual({ feature: 'toe', formula: 'centres' });
    expect(readPart(document).ok).toBe(true);
  });

  test('in a part of the other unit is the same size', () => {
    const bellows = sample('bellows-lever');
    const forks = (bellows.forks as readonly JsonObject[]).map((f) => ({ ...f, direction: 90 }));
    const clip = clipOf({ ...bellows, forks }, ['toe', 'set screw', 'fork']);
    const { document } = pasted(empty('mm', { toe: 0.25 }), clip, { x: 1, y: 2 });
    expect(value(document, 'toe')).toEqual({ name: 'toe', centre: [58.15, 2], radius: 6.35 });
    expect(value(document, 'set screw', 'thread')).toBe('8-32 UNC');
    expect(value(document, 'fork')).toMatchObject({ direction: 90, cornerRadius: 2.38125, depth: 12.7 });
  });

  test('leaves out an arm whose ends are not both there, and says so', () => {
    const document = sample('winch-bell-crank');
    const clip = clipOf(document, ['pivot end', 'cable end', 'long arm', 'short arm']);
    const { names, leftOut } = pasted(document, clip);
    expect(names).toEqual(['pivot end 2', 'cable end 2', 'long arm 2']);
    expect(leftOut).toEqual([{ feature: 'short arm', why: 'its ends were not copied with it' }]);
  });

  test('goes through text, and says what no clip is', () => {
    const clip = clipOf(sample('damper-yoke'), ['yoke', 'heel', 'body']);
    expect(readClip(clipText(clip))).toEqual({ ok: true, clip });
    const refused = (text: string): string => {
      const reading = readClip(text);
      return reading.ok ? 'taken' : reading.message;
    };
    for (const text of [
      '',
      'a shopping list',
      '[]',
      'null',
      '{"format":"leverwright-part"}',
      '{"a":1,"a":2}',
    ]) {
      expect(refused(text)).toMatch(/holds no features/);
    }
    expect(refused(`${'['.repeat(1e5)}`)).toMatch(/holds no features/);
    expect(refused(JSON.stringify({ ...clip, version: 2 }))).toMatch(/another version/);
    expect(refused(JSON.stringify({ ...clip, ends: [{ name: 'a' }] }))).toMatch(/lacks/);
    expect(refused(JSON.stringify({ ...clip, holes: 7 }))).not.toBe('taken');
    expect(refused('{"format":"leverwright-clip","version":1,"unit":"mm","__proto__":{"x":1}}')).not.toBe(
      'taken',
    );
    expect(refused(JSON.stringify({ ...clip, dimensions: { a: 'b', b: 'a' } }))).toMatch(/ring/);
    expect(
      refused(JSON.stringify({ ...clip, ends: [{ name: 'a', centre: [1e300, 0], radius: 1 }] })),
    ).not.toBe('taken');
  });

  test('of hostile text never throws, and what it takes can be pasted', () => {
    const value = fc.jsonValue({ maxDepth: 4 });
    const lists = fc.dictionary(
      fc.constantFrom('ends', 'arms', 'holes', 'lands', 'dimensions', 'unit', 'x'),
      value,
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          value.map((v) => JSON.stringify(v)),
        ),
        lists,
        (text, rest) => {
          readClip(text);
          const clip = readClip(
            JSON.stringify({ format: 'leverwright-clip', version: 1, unit: 'mm', ...rest }),
          );
          if (clip.ok) expect(readPart(pasted(empty('mm'), clip.clip).document).ok).toBe(true);
        },
      ),
    );
  });

  test('keeps its geometry wherever it is pasted', () => {
    const some = anyDocument.chain((d) =>
      fc.tuple(fc.constant(d), fc.subarray(allFeatures(d).map((f) => f.name)), anyDocument, shift),
    );
    fc.assert(
      fc.property(some, ([from, names, into, by]) => {
        const reading = readClip(clipText(clipOf(from, names)));
        if (!reading.ok) throw new Error(reading.message);
        const bare = empty(from.unit as 'mm');
        const alone = partOf(pasted(bare, reading.clip).document);
        const result = pasted(into, reading.clip, by);
        const all = partOf(result.document);
        for (const kind of ['ends', 'plates', 'holes', 'slots', 'forks', 'lands'] as const) {
          const copies = all[kind].slice(-alone[kind].length || all[kind].length);
          for (const [path, d] of differences(copies, alone[kind])) {
            if (/name$/.test(path)) continue;
            const axis = /(x|y)$/.exec(path)?.[1] as 'x' | 'y' | undefined;
            expect(Math.abs(d - (axis ? Math.abs(by[axis]) : 0)), path).toBeLessThan(3e-5);
          }
        }
        const now = allFeatures(result.document).map((f) => f.name);
        expect(new Set(now).size).toBe(now.length);
      }),
    );
  });
});
