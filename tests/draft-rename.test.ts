import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { allFeatures, featureOf } from '../sketch/draft/features.ts';
import { renameInFormula } from '../sketch/draft/formulas.ts';
import { getIn, type JsonObject } from '../sketch/draft/json.ts';
import { removeFeatures } from '../sketch/draft/remove.ts';
import { renameDimension, renameFeature } from '../sketch/draft/rename.ts';
import { readPart } from '../sketch/part/document.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { applyRouteDocument } from '../toolpath/route/document.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { anyDocument, farthest, partOf, sample, samples } from './draft-documents.ts';
import './seed.ts';

const done = (result: ReturnType<typeof renameFeature>): JsonObject => {
  if (!result.ok) throw new Error(result.message);
  return result.document;
};
const refusal = (result: ReturnType<typeof renameFeature>): string => (result.ok ? 'done' : result.message);

/** The document with every proposed job step adjusted and put in order by name. */
const withRoute = (document: JsonObject): JsonObject => {
  const { route } = proposeRoute(partOf(document), standardProfile);
  const steps = route.setups.flatMap((s) => s.steps);
  return {
    ...document,
    route: {
      adjust: Object.fromEntries(steps.map((s) => [s.name, { cutter: s.cutter }])),
      order: Object.fromEntries(route.setups.map((s) => [String(s.number), s.steps.map((x) => x.name)])),
    },
  };
};
const unknownSteps = (document: JsonObject): readonly string[] => {
  const part = partOf(document);
  const { findings } = applyRouteDocument(proposeRoute(part, standardProfile).route, document.route, part);
  return findings.filter((f) => f.code === 'step-unknown').map((f) => f.message);
};

describe('Renaming a feature', () => {
  test('arms follow their ends', () => {
    const document = done(renameFeature(sample('winch-bell-crank'), 'pivot end', 'hub'));
    expect(document.arms).toEqual([
      { name: 'long arm', from: 'hub', to: 'cable end' },
      { name: 'short arm', from: 'hub', to: 'pawl end' },
    ]);
    expect(getIn(document, ['ends', 0, 'name'])).toBe('hub');
  });

  test('names an arm that had none, and takes a name away that says nothing', () => {
    const start = sample('bellows-lever');
    const document = done(renameFeature(start, 'boss – toe', 'body'));
    expect(document.arms).toEqual([{ name: 'body', from: 'boss', to: 'toe' }]);
    expect(JSON.stringify(done(renameFeature(document, 'body', 'boss – toe')))).toBe(JSON.stringify(start));
  });

  test('refuses a name that is taken, empty or endless, and one of nothing', () => {
    const document = sample('vent-latch-lever');
    expect(refusal(renameFeature(document, 'neck', 'tip'))).toMatch(/called “tip” already/);
    expect(refusal(renameFeature(document, 'neck', ' '))).toMatch(/at least one letter/);
    expect(refusal(renameFeature(document, 'neck', 'n'.repeat(121)))).toMatch(/120/);
    expect(refusal(renameFeature(document, 'nack', 'n'))).toMatch(/Nothing is called “nack”/);
  });

  test.each(samples)('%s: the route follows every feature, each step of it', (_, plain) => {
    const document = withRoute(plain);
    expect(unknownSteps(document)).toEqual([]);
    for (const { name } of allFeatures(document)) {
      const renamed = done(renameFeature(document, name, `other ${name}`));
      expect(unknownSteps(renamed), name).toEqual([]);
    }
  });

  test('the route follows a slot, a milled and a counterbored hole, from the back too', () => {
    const plain: JsonObject = {
      ...sample('damper-yoke'),
      holes: [
        { name: 'wide', purpose: 'clearance', centre: ['long', 0], diameter: 9.63, from: 'back' },
        {
          name: 'bush',
          purpose: 'counterbored',
          centre: [35, 0],
          diameter: 4,
          boreDiameter: 7,
          boreDepth: 1,
        },
      ],
      slots: [{ name: 'adjuster', from: [40, 0], to: [46, 0], width: 5 }],
    };
    const document = withRoute(plain);
    const names = JSON.stringify(document.route);
    for (const step of ['mill hole wide from the back', 'counterbore bush', 'slot adjuster']) {
      expect(names).toContain(`"${step}"`);
    }
    for (const name of ['wide', 'bush', 'adjuster']) {
      expect(unknownSteps(done(renameFeature(document, name, 'other')))).toEqual([]);
    }
  });

  test('the route follows one of several lands that are relieved together', () => {
    const start = sample('bellows-lever');
    const rim = { name: 'rim', area: { disc: { centre: ['centres', 0], radius: 'toe' } }, top: 'web' };
    const document = withRoute({ ...start, lands: [...(start.lands as []), rim] });
    expect(JSON.stringify(document.route)).toContain('"relieve waist and rim"');
    const renamed = done(renameFeature(document, 'waist', 'thin arm'));
    expect(unknownSteps(renamed)).toEqual([]);
    expect(JSON.stringify(renamed.route)).toContain('"relieve thin arm and rim"');
    const removed = removeFeatures(document, ['waist']).document;
    expect(unknownSteps(removed)).toEqual([]);
    expect(JSON.stringify(removed.route)).toContain('"relieve rim"');
    expect(unknownSteps(removeFeatures(document, ['waist', 'rim']).document)).toEqual([]);
  });

  test('screws and packing follow the hole and the fork that they are in, and go with them', () => {
    const setups = {
      2: {
        plate: { kind: 'screws', thread: 'M3', holes: ['latch pin', 'stop screw'] },
        packing: [
          { kind: 'fork', fork: 'fork' },
          { kind: 'block', from: 1, to: 9 },
        ],
      },
    };
    const document: JsonObject = { ...sample('vent-latch-lever'), route: { setups } };
    const renamed = ['latch pin', 'fork', 'neck'].reduce(
      (now, name) => done(renameFeature(now, name, `other ${name}`)),
      document,
    );
    const text = JSON.stringify(renamed.route);
    expect(text).toContain('["other latch pin","stop screw"]');
    expect(text).toContain('"fork":"other fork"');
    const removed = JSON.stringify(removeFeatures(document, ['fork', 'stop screw']).document.route);
    expect(removed).toContain('"holes":["latch pin"]');
    expect(removed).toContain('"packing":[{"kind":"block","from":1,"to":9}]');
  });

  test('leaves a job step alone that two features could mean', () => {
    const document: JsonObject = {
      ...sample('vent-latch-lever'),
      forks: [{ name: 'left' }, { name: 'fork left' }],
      route: { adjust: { 'fork left': { web: 1 } } },
    };
    expect(done(renameFeature(document, 'left', 'right')).route).toEqual(document.route);
  });

  test('there and back is byte for byte the same', () => {
    const some = anyDocument.chain((d) => fc.tuple(fc.constant(d), fc.constantFrom(...allFeatures(d))));
    fc.assert(
      fc.property(some, ([document, { name }]) => {
        const there = done(renameFeature(document, name, 'another'));
        expect(readPart(there).ok).toBe(true);
        expect(featureOf(there, 'another')).not.toBeNull();
        const back = done(renameFeature(there, 'another', name));
        expect(JSON.stringify(back)).toBe(JSON.stringify(document));
      }),
    );
  });
});

describe('Renaming a dimension', () => {
  test('replaces whole names and no others', () => {
    expect(renameInFormula('wide/2 - wider + 2*wide', 'wide', 'w')).toBe('w/2 - wider + 2*w');
    expect(renameInFormula('e*1e3 - e2', 'e', 'x')).toBe('x*1e3 - e2');
    expect(renameInFormula('2e3*e3 + .5e3', 'e3', 'x')).toBe('2e3*x + .5e3');
    expect(renameInFormula('a−b·c', 'b', 'x')).toBe('a−x·c');
    expect(renameInFormula('höhe-h', 'h', 'x')).toBe('höhe-x');
    expect(renameInFormula('cos(c)*c', 'c', 'lean')).toBe('cos(lean)*lean');
  });

  test('keeps its place, and every formula follows', () => {
    const document = done(renameDimension(sample('vent-latch-lever'), 'wide', 'across'));
    expect(Object.keys(document.dimensions as object)[1]).toBe('across');
    expect(JSON.stringify(document)).not.toContain('wide');
  });

  test('refuses what no dimension can be called', () => {
    const document = sample('vent-latch-lever');
    expect(refusal(renameDimension(document, 'wide', 'thick'))).toMatch(/already/);
    expect(refusal(renameDimension(document, 'wide', 'sin'))).toMatch(/cannot be named/);
    expect(refusal(renameDimension(document, 'wide', '__proto__'))).toMatch(/cannot be named/);
    expect(refusal(renameDimension(document, 'toString', 'x'))).toMatch(/no dimension/);
    const long: JsonObject = { ...document, leastWall: `wide${' + wide'.repeat(55)}` };
    expect(readPart(long).ok).toBe(true);
    expect(refusal(renameDimension(long, 'wide', 'w'.repeat(40)))).toMatch(/longer than 400/);
  });

  test.each(samples)('%s: changes no number, and back is byte for byte the same', (_, document) => {
    for (const name of Object.keys(document.dimensions as object)) {
      const there = done(renameDimension(document, name, 'another'));
      expect(farthest(partOf(there), partOf(document))).toBe(0);
      expect(JSON.stringify(done(renameDimension(there, 'another', name)))).toBe(JSON.stringify(document));
    }
  });
});

describe('Removing', () => {
  test('an end takes its arms with it, and says so', () => {
    const { document, alsoGone } = removeFeatures(sample('winch-bell-crank'), ['cable end', 'nothing']);
    expect(alsoGone).toEqual(['long arm']);
    expect(document.arms).toEqual([{ name: 'short arm', from: 'pivot end', to: 'pawl end' }]);
    expect(document.ends).toHaveLength(2);
  });

  test('of the last of a kind leaves no empty list, of nothing the same document', () => {
    const start = sample('winch-bell-crank');
    const all = allFeatures(start).map((f) => f.name);
    const { document, alsoGone } = removeFeatures(start, all);
    expect(alsoGone).toEqual([]);
    expect(Object.keys(document)).toEqual([
      '$schema',
      'format',
      'version',
      'name',
      'unit',
      'dimensions',
      'bar',
      'insideRadius',
    ]);
    expect(readPart(document).ok).toBe(true);
    expect(removeFeatures(start, ['nothing']).document).toBe(start);
  });

  test('a fork takes its job steps out of the route', () => {
    const start = withRoute(sample('vent-latch-lever'));
    const { document } = removeFeatures(start, ['fork']);
    expect(JSON.stringify(document.route)).not.toContain('fork');
    expect(unknownSteps(document)).toEqual([]);
    expect(removeFeatures(start, ['neck']).document.route).toBe(start.route);
  });

  test('leaves a document that can be read', () => {
    const some = anyDocument.chain((d) =>
      fc.tuple(fc.constant(d), fc.subarray(allFeatures(d).map((f) => f.name))),
    );
    fc.assert(
      fc.property(some, ([document, names]) => {
        const removed = removeFeatures(document, names);
        expect(readPart(removed.document).ok).toBe(true);
        const left = new Set(allFeatures(removed.document).map((f) => f.name));
        for (const name of [...names, ...removed.alsoGone]) expect(left.has(name)).toBe(false);
        expect(left.size + names.length + removed.alsoGone.length).toBe(allFeatures(document).length);
      }),
    );
  });
});
