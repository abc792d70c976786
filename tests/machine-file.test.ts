import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { toJsonSchema } from '@valibot/to-json-schema';
import { describe, expect, test } from 'vitest';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import { readProfile, writeProfile } from '../toolpath/machine/profile-document.ts';
import { ProfileSchema } from '../toolpath/machine/profile-schema.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { samplePart } from './samples.ts';

const file = (changes: object): string =>
  JSON.stringify({ format: 'leverwright-machine', version: 1, name: 'Bench mill', ...changes });
const refusal = (text: string): string => {
  const read = readProfile(text);
  expect(read.ok).toBe(false);
  expect(read.findings.every((f) => f.severity === 'error')).toBe(true);
  return read.findings.map((f) => f.message).join('\n');
};

describe('A machine file', () => {
  test('is read back as it was written', () => {
    const read = readProfile(writeProfile(standardProfile));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    expect(read.findings).toEqual([]);
    expect(read.profile.spindle).toEqual(standardProfile.spindle);
    expect(read.profile.parallels).toEqual(standardProfile.parallels);
    expect(read.profile.program).toEqual(standardProfile.program);
    expect(read.profile.cutters).toHaveLength(standardProfile.cutters.length);
    read.profile.cutters.forEach((cutter, i) => {
      const { pointAngle, plunge, ...rest } = cutter;
      const wanted = standardProfile.cutters[i]!;
      expect(wanted).toMatchObject(rest);
      expect(pointAngle).toBeCloseTo(wanted.pointAngle, 8);
      expect(plunge.ramp).toBeCloseTo(wanted.plunge.ramp, 8);
    });
  });

  test('may be short: what it leaves out is the example machine, and a note says so', () => {
    const read = readProfile(file({ program: { toolChange: 'stop-and-prompt' } }));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    expect(read.profile.program).toEqual({ ...standardProfile.program, toolChange: 'stop-and-prompt' });
    expect(read.profile.cutters).toEqual(standardProfile.cutters);
    expect(read.findings.map((f) => f.severity)).toEqual(['note']);
    expect(read.findings[0]?.message).toContain('cutters');
  });

  test('gives common angles and flutes to cutters that do not say theirs, and puts belt steps in order', () => {
    const read = readProfile(
      file({
        spindle: { least: 200, most: 2000, power: 350, steps: [2000, 200, 900] },
        cutters: [
          { name: 'drill', number: 1, kind: 'drill', diameter: 3, fluteLength: 30 },
          { name: 'spot', number: 2, kind: 'spot', diameter: 6, fluteLength: 10 },
          { name: 'tap', number: 3, kind: 'tap', thread: 'm3', fluteLength: 10 },
          { name: 'mill', number: 4, kind: 'endmill', diameter: 5, fluteLength: 15, centreCutting: false },
        ],
      }),
    );
    if (!read.ok) throw new Error(read.findings[0]?.message);
    const [drill, spot, tap, mill] = read.profile.cutters;
    expect(read.profile.spindle.steps).toEqual([200, 900, 2000]);
    expect(drill!.pointAngle).toBeCloseTo((118 * Math.PI) / 180, 12);
    expect(spot!.pointAngle).toBeCloseTo(Math.PI / 2, 12);
    expect(tap).toMatchObject({ designation: 'M3 × 0.5', diameter: 3 });
    expect(mill!.plunge.straight).toBe(false);
  });

  test('keeps figures of materials and of the vice that its owner knows better, and writes them back', () => {
    const materials = { brass: { kc11: 610, source: 'test cuts of last May' }, acetal: { young: 2600 } };
    const vice = { jawWidth: 80, jawHeight: 25, opening: 65, clamp: 5200, friction: 0.12 };
    const read = readProfile(file({ materials, vice }));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    expect(read.profile.materials).toEqual(materials);
    expect(read.profile.vice).toEqual(vice);
    const again = readProfile(writeProfile(read.profile));
    if (!again.ok) throw new Error(again.findings[0]?.message);
    expect(again.profile).toEqual(read.profile);
    expect(writeProfile(standardProfile)).not.toContain('"materials"');
  });

  const drill = { name: 'a', number: 1, kind: 'drill', diameter: 3, fluteLength: 30 };
  test.each([
    ['no JSON', '{', /Line 1/],
    ['nothing', 'null', /no machine file/],
    ['a part file', '{"format": "leverwright-part", "version": 1}', /no machine file/],
    ['a later version', file({ version: 2 }), /version/],
    [
      'a modulus in GPa',
      file({ materials: { brass: { young: 100 } } }),
      /^materials\.brass\.young: at least 500 MPa is wanted\.$/,
    ],
    [
      'a rise of one',
      file({ materials: { brass: { mc: 1 } } }),
      /^materials\.brass\.mc: at most 0\.9 is wanted\.$/,
    ],
    [
      'no force at all',
      file({ materials: { brass: { kc11: 0 } } }),
      /^materials\.brass\.kc11: at least 10 MPa/,
    ],
    ['rubber', file({ materials: { brass: { poisson: 0.5 } } }), /^materials\.brass\.poisson: at most 0\.48/],
    ['an unknown material', file({ materials: { cheese: {} } }), /^materials\.cheese is not known here\.$/],
    [
      'a vice of ice',
      file({ vice: { jawWidth: 80, jawHeight: 25, opening: 65, friction: 0 } }),
      /^vice\.friction: at least 0\.02 is wanted\.$/,
    ],
    [
      'a word for a number',
      file({ feed: { most: 'fast', mostPlunge: 1, rapid: 1 } }),
      /^feed\.most should be a number\.$/,
    ],
    ['an unknown key', file({ colour: 'red' }), /^colour is not known here\.$/],
    ['a missing key', file({ feed: { most: 9, rapid: 9 } }), /^feed\.mostPlunge is missing\.$/],
    [
      'a strange word',
      file({ program: { arcs: 'curves' } }),
      /^program\.arcs should be "arcs" or "lines"\.$/,
    ],
    ['a list for an object', file({ vice: [] }), /^vice\b/],
    [
      'a cutter of no size',
      file({ cutters: [{ ...drill, diameter: 0 }] }),
      /^cutters\.0\.diameter \(a\): more than 0 is wanted\.$/,
    ],
    ['no cutters', file({ cutters: [] }), /at least one cutter/],
    ['a number twice', file({ cutters: [drill, { ...drill, name: 'b' }] }), /number 1/],
    ['a name twice', file({ cutters: [drill, { ...drill, number: 2 }] }), /name a/],
    ['a tap of no thread', file({ cutters: [{ ...drill, kind: 'tap' }] }), /needs its "thread"/],
    ['a strange thread', file({ cutters: [{ ...drill, kind: 'tap', thread: 'M3.1' }] }), /M3\.1/],
    ['a spindle upside down', file({ spindle: { least: 900, most: 100, power: 1 } }), /slower/],
    ['a step outside', file({ spindle: { least: 100, most: 900, power: 1, steps: [50] } }), /step 50/],
  ])('with %s is refused in one sentence', (_, text, words) => {
    expect(refusal(text)).toMatch(words);
  });
});

describe('The published schema of machine files', () => {
  const path = new URL('../samples/machines/leverwright-machine.schema.json', import.meta.url);

  test('is the one the program reads by (UPDATE_SCHEMA=1 npx vitest run tests/machine-file.test.ts writes it anew)', () => {
    const schema = toJsonSchema(ProfileSchema, { target: 'draft-07', errorMode: 'ignore' });
    const text = `${JSON.stringify(schema, null, 2)}\n`;
    if (process.env.UPDATE_SCHEMA === '1') writeFileSync(path, text);
    expect(readFileSync(path, 'utf8')).toBe(text);
  });

  const machines = readdirSync(new URL('../samples/machines/', import.meta.url)).filter(
    (name) => name.endsWith('.json') && !name.includes('schema'),
  );

  test.each(machines)('is named by %s, which is read without a word', (name) => {
    const text = readFileSync(new URL(`../samples/machines/${name}`, import.meta.url), 'utf8');
    expect(JSON.parse(text).$schema).toBe('./leverwright-machine.schema.json');
    expect(readProfile(text)).toMatchObject({ ok: true, findings: [] });
  });
});

describe('Handwheels in a machine file', () => {
  const wheel = { pitch: 0.1, divisions: 100, direction: 'rises', backlash: 0.006 };
  const hand = { unit: 'inch', x: wheel, y: { ...wheel, direction: 'falls' }, z: { ...wheel, pitch: 0.05 } };

  test('are told in the screws’ own unit and kept in mm', () => {
    const read = readProfile(file({ hand, vice: { ...standardProfile.vice, torque: 30, handle: 150 } }));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    expect(read.profile.hand?.readout).toBe(false);
    expect(read.profile.hand?.x.pitch).toBeCloseTo(2.54, 12);
    expect(read.profile.hand?.x.division).toBeCloseTo(0.0254, 12);
    expect(read.profile.hand?.y.direction).toBe('falls');
    expect(read.profile.hand?.z.backlash).toBeCloseTo(0.1524, 12);
    expect(read.profile.vice.torque).toBe(30);
    const again = readProfile(writeProfile(read.profile));
    if (!again.ok) throw new Error(again.findings[0]?.message);
    expect(again.profile.hand).toEqual(read.profile.hand);
    expect(again.profile.vice).toEqual(read.profile.vice);
  });

  test('are not there when the file says nothing of them, and nobody misses them', () => {
    const read = readProfile(writeProfile(standardProfile));
    expect(read.ok && read.profile.hand).toBeUndefined();
    expect(read.findings).toEqual([]);
  });

  test.each([
    ['no lines on the dial', { divisions: 0 }, /^X: A dial of 0 divisions/],
    ['a third of a division', { divisions: 33.3 }, /^X: A dial of 33\.3 divisions/],
    ['a pitch of nothing', { pitch: 0 }, /^X: A screw's pitch of 0 in/],
    ['a pitch of an inch', { pitch: 1 }, /^X: A screw's pitch of 1 in/],
    ['a backlash below nothing', { backlash: -0.001 }, /^X: Backlash of -0\.001 in/],
    ['a backlash of a turn', { backlash: 0.1 }, /^X: Backlash of 0\.1 in/],
    ['a strange sense', { direction: 'left' }, /^hand\.x\.direction should be "rises" or "falls"/],
  ])('with %s are refused, and by their axis', (_, change, words) => {
    expect(refusal(file({ hand: { ...hand, x: { ...wheel, ...change } } }))).toMatch(words);
  });

  test('with a coarse dial are taken, with a word on it', () => {
    const read = readProfile(file({ hand: { ...hand, z: { ...wheel, divisions: 20 } } }));
    expect(read.ok).toBe(true);
    expect(read.findings.map((f) => [f.code, f.severity])).toContainEqual(['screw-coarse', 'warning']);
    expect(read.findings[0]?.message).toMatch(/^Z: One division/);
  });

  test('make the proposed route cut conventionally where the slides have lost motion', () => {
    const read = readProfile(file({ hand }));
    if (!read.ok) throw new Error(read.findings[0]?.message);
    const ways = (profile: MachineProfile): readonly string[] => [
      ...new Set(
        proposeRoute(samplePart('vent-latch-lever'), profile).route.setups.flatMap((setup) =>
          setup.steps.flatMap((step) => ('direction' in step ? [step.direction] : [])),
        ),
      ),
    ];
    expect(ways(read.profile)).toEqual(['conventional']);
    expect(ways(standardProfile)).toEqual(['climb']);
  });
});

describe('The example machine', () => {
  const { cutters } = standardProfile;

  test('has cutters of unlike names and numbers', () => {
    expect(new Set(cutters.map((c) => c.name)).size).toBe(cutters.length);
    expect(new Set(cutters.map((c) => c.number)).size).toBe(cutters.length);
  });

  test('has parallels low enough for the jaws to grip above them', () => {
    const { jawHeight } = standardProfile.vice;
    expect(standardProfile.parallels.filter((p) => p.height < jawHeight).length).toBeGreaterThan(6);
  });
});
