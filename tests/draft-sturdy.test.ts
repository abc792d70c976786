import fc from 'fast-check';
import { expect, test } from 'vitest';
import { clipOf, clipText, pasteClip, readClip } from '../sketch/draft/clip.ts';
import { drive } from '../sketch/draft/drive.ts';
import { enlargePart } from '../sketch/draft/enlarge.ts';
import { allFeatures } from '../sketch/draft/features.ts';
import { isObject, type Json, type JsonObject, type JsonPath, setIn } from '../sketch/draft/json.ts';
import { type Measure, type MeasuredPlace, measuredValue } from '../sketch/draft/measure.ts';
import { mirrorFeatures } from '../sketch/draft/mirror.ts';
import { freePlace, moveFeatures } from '../sketch/draft/move.ts';
import { nameMeasure } from '../sketch/draft/name-measure.ts';
import { patternAlong, patternRound } from '../sketch/draft/pattern.ts';
import { removeFeatures } from '../sketch/draft/remove.ts';
import { renameDimension, renameFeature } from '../sketch/draft/rename.ts';
import { turnFeatures } from '../sketch/draft/turn.ts';
import { readPart } from '../sketch/part/document.ts';
import { samples } from './draft-documents.ts';
import './seed.ts';

/** Every way to a value of a document below the top. */
const waysIn = (value: Json, path: JsonPath = []): readonly JsonPath[] => {
  const inner: readonly (readonly [string | number, Json])[] = Array.isArray(value)
    ? (value as readonly Json[]).map((v, i) => [i, v] as const)
    : isObject(value)
      ? Object.entries(value)
      : [];
  return [...(path.length > 0 ? [path] : []), ...inner.flatMap(([key, v]) => waysIn(v, [...path, key]))];
};

const odd: fc.Arbitrary<Json> = fc.oneof(
  fc.constantFrom<Json>(
    ...[
      0,
      -1,
      1e-9,
      1999,
      1e300,
      '',
      'nought',
      'wide/0',
      '1/3',
      'thick',
      'sqrt(-1)',
      'pi',
      '__proto__',
      'front',
    ],
    ...[null, true, [], {}, [0, 0], [[0, 0]], ['wide', 'x', 3], 'whole', { disc: {} }, { corners: [] }],
  ),
  fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<Json>,
);

/** A sample with some of its values put wrong; about a third of them can still be read. */
const spoilt = fc
  .constantFrom(...samples.map(([, d]) => d))
  .chain((document) =>
    fc
      .array(fc.tuple(fc.constantFrom(...waysIn(document)), odd), { maxLength: 3 })
      .map((changes) =>
        changes.reduce<JsonObject>((d, [path, v]) => setIn(d, path, v) as JsonObject, document),
      ),
  );

test('No edit throws, whatever the document; what could be read can be read afterwards, or has outgrown its sizes', () => {
  const numbers = fc.tuple(fc.integer({ min: -90, max: 90 }), fc.integer({ min: -90, max: 90 }));
  let readable = 0;
  fc.assert(
    fc.property(spoilt, fc.array(fc.nat(30), { maxLength: 4 }), numbers, (document, picks, [x, y]) => {
      const sound = readPart(document).ok;
      if (sound) readable++;
      const features = allFeatures(document);
      const names = picks.flatMap((i) => features[i % Math.max(1, features.length)]?.name ?? 'none');
      const [first = 'none', second = 'none'] = names;
      const at = { x, y };
      const place = (feature: string): MeasuredPlace => ({
        feature,
        point: (['centre', 'from', 'to', 'mouth', 'root', 0, 2, 7] as const)[Math.abs(x) % 8]!,
      });
      const measures: readonly Measure[] = [
        { kind: 'between', from: place(first), to: place(second), along: 'straight' },
        { kind: 'between', from: place(second), to: place(first), along: 'x' },
        { kind: 'angle', vertex: place(first), from: null, to: place(second) },
        { kind: 'field', path: features[0] ? [...features[0].path, 'radius'] : ['bar', 'length'], factor: 2 },
        { kind: 'overall', along: 'y' },
      ];
      const results: readonly (JsonObject | null)[] = [
        moveFeatures(document, names, at).document,
        removeFeatures(document, names).document,
        freePlace(document, ['ends', 0, 'centre']),
        ...[
          renameFeature(document, first, 'another'),
          renameDimension(document, 'wide', 'another'),
          mirrorFeatures(document, names, [at, { x: 0, y: 1 }]),
          mirrorFeatures(document, names, [at, { x: 0, y: 1 }], { copy: true }),
          turnFeatures(document, names, at, x / 10),
          patternAlong(document, names, at, 3),
          patternRound(document, names, at, 3),
          enlargePart(document, 1 + Math.abs(x) / 50),
          enlargePart(document, 1 / (1 + Math.abs(x)), { keepThickness: true }),
          pasteClip(samples[0]![1], clipOf(document, names), at),
          pasteClip(document, clipOf(samples[3]![1], ['toe', 'fork']), at),
          ...measures.flatMap((m) => [
            drive(document, m, Math.abs(y) / 3),
            nameMeasure(document, m, 'another'),
          ]),
        ].map((result) => (result.ok ? result.document : null)),
      ];
      for (const m of measures) measuredValue(document, m);
      readClip(clipText(clipOf(document, names)));
      if (!sound) return;
      for (const result of results) {
        if (result === null) continue;
        const reading = readPart(result);
        for (const { code } of reading.ok ? [] : reading.findings) expect(code).toMatch(/^(size|too-many)/);
      }
    }),
    { numRuns: 150 },
  );
  expect(readable).toBeGreaterThan(30);
});
