import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ProofJson } from '../gcode/proof/json.ts';
import { bundle, namesIn, type Ran, run } from './cli.ts';

let folder = '';
let program = '';
const lever = (...args: string[]): Ran => run(program, args);
const made = (out: string, name: string): string => readFileSync(join(folder, out, name), 'utf8');
const proofOf = (out: string, name: string): ProofJson => JSON.parse(made(out, `${name}-proof.json`));
const put = (name: string, text: string | Uint8Array): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const sample = (name: string): string => `samples/${name}.json`;
/** A sample with some of its document changed. */
const changed = (name: string, change: (document: Record<string, unknown>) => void): string => {
  const document = JSON.parse(readFileSync(sample(name), 'utf8'));
  change(document);
  return JSON.stringify(document);
};

beforeAll(async () => {
  ({ folder, program } = await bundle());
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('leverwright make', () => {
  const SAMPLES: readonly (readonly [string, number])[] = [
    ['vent-latch-lever', 2],
    ['winch-bell-crank', 1],
    ['shutter-link', 2],
    ['bellows-lever', 2],
  ];
  test.each(SAMPLES)('takes %s from its file to %d proven programs', (name, setups) => {
    const out = join(folder, name);
    const ran = lever('make', sample(name), '--out', out);
    expect(ran.err).toBe('');
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/: fits$/m);
    const programs = Array.from({ length: setups }, (_, i) => `${name}-setup-${i + 1}.ngc`);
    const rest = [`${name}-table.csv`, `${name}-sheet.html`, `${name}-proof.json`, `${name}.svg`];
    expect(namesIn(out)).toEqual([...programs, ...rest].sort());
    for (const file of programs) expect(made(name, file)).toMatch(/\nM30\n$/);
    expect(made(name, `${name}-table.csv`)).toMatch(/^setup,job step,pass,stop,way,X \((mm|in)\),/);
    expect(made(name, `${name}-sheet.html`)).toMatch(/^<!doctype html>/i);
    expect(made(name, `${name}.svg`)).toMatch(/^<svg[^>]*width="[\d.]+mm"[\s\S]*\bd="[^"]*A/);
    const proof = proofOf(name, name);
    expect(proof.verdict).toBe('fits');
    expect(proof).toMatchObject({ table: { verdict: 'fits', readBy: 'figures' } });
    expect(made(name, `${name}-sheet.html`)).toContain('Done row after row by its figures');
    expect(proof.setups).toHaveLength(setups);
    for (const setup of proof.setups) {
      expect(setup.rapidsInStock).toBe(0);
      expect(setup.jawHits).toBe(0);
      expect(setup.cutLength_mm).toBeGreaterThan(0);
      expect(setup.time_s).toBeGreaterThan(0);
      expect(setup.passes.length).toBeGreaterThan(0);
      expect(setup.tools.length).toBeGreaterThan(0);
      setup.stock_mm.min.forEach((least, axis) => {
        expect(setup.stock_mm.max[axis]!).toBeGreaterThan(least);
      });
    }
  });

  test('leaves a web in the fork until the releasing pass takes it away, last of all', () => {
    const { setups } = proofOf('vent-latch-lever', 'vent-latch-lever');
    const passes = setups.flatMap((setup) => setup.passes);
    const fork = passes.filter((pass) => pass.step === 'fork');
    expect(Math.min(...fork.map((pass) => pass.webLeft_mm ?? 0))).toBeGreaterThan(0.4);
    expect(passes.at(-1)).toMatchObject({ kind: 'release', step: 'release fork' });
  });

  test('gives the same text for the same part', () => {
    lever('make', sample('shutter-link'), '--out', join(folder, 'again'));
    for (const name of namesIn(join(folder, 'again')) ?? []) {
      expect(made('again', name)).toBe(made('shutter-link', name));
    }
  });

  test('takes another value for a named dimension', () => {
    const ran = lever('make', sample('shutter-link'), '--out', join(folder, 'longer'), '--set', 'centres=80');
    expect(ran.code).toBe(0);
    const width = (out: string): number => {
      const { min, max } = proofOf(out, 'shutter-link').setups[0]!.stock_mm;
      return max[0] - min[0];
    };
    expect(width('longer') - width('shutter-link')).toBeCloseTo(8, 6);
  });

  test('writes for another machine and in another form when asked to', () => {
    const ran = lever(
      ...['make', sample('shutter-link'), '--out', join(folder, 'belts')],
      ...['--machine', 'samples/machines/belt-mill.json', '--form', 'unit=inch', '--form', 'arcs=lines'],
    );
    expect(ran.err).toBe('');
    expect(ran.code).toBe(0);
    const text = made('belts', 'shutter-link-setup-1.ngc');
    expect(text).toMatch(/^N\d+ G17 G20 /m);
    expect(text).not.toMatch(/^[^(]*G0?[23] /m);
    const speeds = [...text.matchAll(/\bS(\d+)/g)].map((m) => Number(m[1]));
    expect(speeds.length).toBeGreaterThan(2);
    expect(speeds.every((s) => [200, 360, 640, 1000, 1500, 2500].includes(s))).toBe(true);
  });

  test('says so, with exit code 1, when the part does not fit', () => {
    const wish = changed('shutter-link', (document) => {
      document.route = { order: { 2: ['release slot travel'] } };
    });
    const ran = lever('make', put('unfinished.json', wish), '--out', join(folder, 'unfinished'));
    expect(ran.err).toBe('');
    expect(ran.out).toContain('does not fit');
    expect(ran.code).toBe(1);
    const proof = proofOf('unfinished', 'shutter-link');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.findings.some((f) => f.severity === 'error' && f.code !== '' && f.message !== '')).toBe(
      true,
    );
  });

  test('speaks of a program that an earlier run left, and leaves it', () => {
    const out = join(folder, 'stale');
    mkdirSync(out);
    writeFileSync(join(out, 'shutter-link-setup-7.ngc'), 'M30\n');
    const ran = lever('make', sample('shutter-link'), '--out', out);
    expect(ran.out).toContain('shutter-link-setup-7.ngc');
    expect(namesIn(out)).toContain('shutter-link-setup-7.ngc');
  });

  test.skipIf(!existsSync('/proc'))('gives up on a folder that the system will not make', () => {
    const args = ['make', sample('shutter-link'), '--out', '/proc/leverwright/out'];
    const ran = spawnSync(program, args, { encoding: 'utf8', timeout: 60_000 });
    expect(ran.status).toBe(2);
    expect(ran.stderr).toMatch(/^leverwright: \/proc\/leverwright.*\n$/);
  });

  test('makes no file outside its folder, and no code, of a hostile name', () => {
    const name = '../../x") M3 S9999\nG0 Z-50 <script>alert(1)</script> =1+1';
    const text = changed('shutter-link', (document) => {
      document.name = name;
      const [first] = document.holes as { name: string }[];
      first!.name = name;
    });
    const out = join(folder, 'a', 'b', 'hostile');
    const ran = lever('make', put('hostile.json', text), '--out', out);
    expect(ran.code).toBe(0);
    expect(namesIn(join(folder, 'a'))).toEqual(['b']);
    expect(namesIn(join(folder, 'a', 'b'))).toEqual(['hostile']);
    for (const file of namesIn(out) ?? []) {
      expect(file).toMatch(/^[a-z0-9-]+\.(ngc|csv|html|json|svg)$/);
      const written = made('a/b/hostile', file);
      if (file.endsWith('.ngc')) {
        const code = written.replace(/\([^()\n]*\)/g, '');
        expect(code).not.toMatch(/9999|Z-50|script/);
      }
      if (/html|svg$/.test(file)) expect(written).not.toContain('<script>alert');
    }
  });
});

describe('leverwright prove', () => {
  const name = 'vent-latch-lever';
  const own = (): string => made(name, `${name}-setup-1.ngc`);
  const proving = (text: string | Uint8Array, ...more: string[]): Ran =>
    lever('prove', sample(name), put('edited.ngc', text), '--setup', '1', ...more);

  test('lets its own program pass', () => {
    const ran = proving(own());
    expect(ran.out).toContain('fits');
    expect(ran.code).toBe(0);
  });

  test('finds a depth edited by hand', () => {
    const lines = own().split('\n');
    // The last feed down of the outline: two millimetres deeper, and the cutter is in the jaws.
    const next = lines.findLastIndex((line) => line.startsWith('(STEP outline - PASS'));
    const at = lines.findIndex((line, i) => i > next && /^G1 Z-\d/.test(line));
    expect(next).toBeGreaterThan(0);
    lines[at] = lines[at]!.replace(/Z-(\d+)/, (_, mm: string) => `Z-${Number(mm) + 2}`);
    const ran = proving(lines.join('\n'), '--json');
    expect(ran.code).toBe(1);
    const proof: ProofJson = JSON.parse(ran.out);
    expect(proof.verdict).toBe('does not fit');
    expect(proof.findings.filter((f) => f.severity === 'error').length).toBeGreaterThan(0);
  });

  test.each([
    ['half of it', () => own().slice(0, own().length / 2)],
    ['nothing at all', () => ''],
    ['a program that cuts nothing', () => 'G21 G90 G17 G94 G54\nM30\n'],
    ['no program but prose', () => 'Dear machine, please make the lever.\n'],
    ['a rapid into the bar', () => own().replace(/^M30$/m, 'T8 M6\nG0 X35 Y7.5\nG0 Z-4\nM30')],
  ])('does not let %s pass', (_, text) => {
    const ran = proving(text());
    expect(ran.code).toBe(1);
    expect(ran.out).toContain('does not fit');
  });

  test('reads a program written in inches and lines the same way', () => {
    lever('make', sample(name), '--out', join(folder, 'inch'), '--form', 'unit=inch', '--form', 'arcs=lines');
    const text = made('inch', `${name}-setup-1.ngc`);
    expect(text).toContain('G20');
    expect(proving(text).code).toBe(0);
  });

  test('can be told to be stricter', () => {
    lever('make', sample(name), '--out', join(folder, 'coarse'), '--form', 'decimals=2');
    const text = made('coarse', `${name}-setup-1.ngc`);
    expect(proving(text).code).toBe(0);
    expect(proving(text, '--gouge', '0.0001', '--excess', '0.0001').code).toBe(1);
  });
});

describe('leverwright check', () => {
  test.each(['vent-latch-lever', 'winch-bell-crank', 'shutter-link', 'bellows-lever'])(
    'finds %s sound',
    (name) => {
      const ran = lever('check', sample(name));
      expect(ran).toMatchObject({ code: 0, err: '' });
      expect(ran.out).not.toBe('');
    },
  );

  test('names the feature and the number', () => {
    const ran = lever('check', sample('vent-latch-lever'), '--set', 'fork=14.5');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/fork/i);
    expect(ran.err).toMatch(/\d/);
  });
});

describe('What cannot be used ends with exit code 2, one line, and nothing written:', () => {
  const good = sample('shutter-link');
  const file = (text: string | Uint8Array) => (): readonly string[] => [put('bad.json', text)];
  const part = (change: (document: Record<string, unknown>) => void) => (): readonly string[] => [
    put('bad.json', changed('shutter-link', change)),
  ];
  const with_ =
    (...more: string[]) =>
    (): readonly string[] => [good, ...more];

  test.each<readonly [string, () => readonly string[], RegExp]>([
    ['no such file', () => ['no-such-file.json'], /no such file/],
    ['a folder', () => ['samples'], /folder/],
    ['an empty file', file(''), /line 1/i],
    ['a broken file', file('{"format": '), /line 1/i],
    ['bytes that are no text', file(new Uint8Array([0xff, 0xfe, 0x00, 0x80])), /UTF-8/],
    ['another kind of file', file('{"a": 1}'), /not a part file/],
    ['a list', file('[]'), /not a part file/],
    ['very deep nesting', file('['.repeat(100_000)), /./],
    ['a later version', part((d) => Object.assign(d, { version: 99 })), /99/],
    ['a key that is not known', part((d) => Object.assign(d, { hols: [] })), /hols/],
    ['a formula that goes round', part((d) => Object.assign(d, { dimensions: { a: 'b', b: 'a' } })), /./],
    [
      'a bar of no thickness',
      part((d) => Object.assign(d.bar as object, { thickness: 0 })),
      /thickness|thick/,
    ],
    ['a part without an outline', part((d) => Object.assign(d, { ends: [], arms: [] })), /./],
    ['a slot wider than its link', with_('--set', 'slot=11.8'), /slot|travel/],
    ['a slot of hardly any length', with_('--set', 'travel=0.0001'), /no room to sink/],
    ['a dimension that is not known', with_('--set', 'colour=3'), /colour/],
    ['a value that is no number', with_('--set', 'travel=long'), /long/],
    ['a value without a name', with_('--set', '=3'), /name=value/],
    ['no such machine file', with_('--machine', 'no-such-machine.json'), /no-such-machine/],
    ['a machine file that is a part', with_('--machine', good), /machine/],
    [
      'a wish for a step that is not there',
      part((d) => Object.assign(d, { route: { order: { 1: ['polish'] } } })),
      /polish/,
    ],
    ['a tolerance of nothing', with_('--tolerance', '0'), /--tolerance takes a length in mm, at least 0.001/],
    ['a tolerance of centimetres', with_('--tolerance', '20'), /at most 1, not “20”/],
    ['a form that is not known', with_('--form', 'colour=red'), /colour/],
    ['a strange option', with_('--colour', 'red'), /colour/],
    ['a second part', with_('another.json'), /./],
  ])('%s', (_, args, words) => {
    const out = join(folder, 'nothing');
    const ran = lever('make', ...args(), '--out', out);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toMatch(/^leverwright: [^\n]+\n$/);
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toMatch(/should not happen/);
    expect(namesIn(out)).toBeNull();
  });

  test('a folder where a file should go: the other files of an earlier run stay as they were', () => {
    const out = join(folder, 'in-the-way');
    mkdirSync(join(out, 'shutter-link.svg'), { recursive: true });
    writeFileSync(join(out, 'shutter-link-setup-1.ngc'), 'as it was');
    const ran = lever('make', good, '--out', out);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('shutter-link.svg');
    expect(namesIn(out)).toEqual(['shutter-link-setup-1.ngc', 'shutter-link.svg']);
    expect(readFileSync(join(out, 'shutter-link-setup-1.ngc'), 'utf8')).toBe('as it was');
  });

  test('a disc without room for all of it: what an earlier run made stays, whole', () => {
    const out = join(folder, 'no-room');
    expect(lever('make', sample('vent-latch-lever'), '--out', out).code).toBe(0);
    const before = (namesIn(out) ?? []).map((name) => [name, readFileSync(join(out, name), 'utf8')]);
    // No file may grow over ten kilobytes: the programs can be written, the sheet breaks off in the middle.
    const asked = [program, 'make', sample('vent-latch-lever'), '--set', 'body=2.6', '--out', out];
    const ran = spawnSync('sh', ['-c', 'ulimit -f 20 && "$@"', 'sh', ...asked], { encoding: 'utf8' });
    expect(ran.status).toBe(2);
    expect(ran.stderr).toMatch(/^leverwright: [^\n]+\n$/);
    expect((namesIn(out) ?? []).map((name) => [name, readFileSync(join(out, name), 'utf8')])).toEqual(before);
  });

  test('a file where the folder should go', () => {
    const ran = lever('make', good, '--out', put('plain-file', 'as it was'));
    expect(ran.code).toBe(2);
    expect(readFileSync(join(folder, 'plain-file'), 'utf8')).toBe('as it was');
  });

  test.each([
    ['no command', []],
    ['a strange command', ['carve', good]],
    ['make without a folder', ['make', good]],
    ['prove without a program', ['prove', good, '--setup', '1']],
    ['prove without a setup', ['prove', good, good]],
    ['prove for a setup that is not there', ['prove', good, good, '--setup', '9']],
    ['prove for a setup that is no number', ['prove', good, good, '--setup', 'one']],
    ['check with an option it does not know', ['check', good, '--out', 'x']],
  ])('%s', (_, args) => {
    const ran = lever(...args);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(/^leverwright: [^\n]+\n$/);
  });
});

describe('leverwright by itself', () => {
  test('tells how it is used, and its version', () => {
    const help = lever('--help');
    expect(help.code).toBe(0);
    for (const word of ['make', 'prove', 'check', '--set', '--out', '--setup', '--machine', '--form']) {
      expect(help.out).toContain(word);
    }
    const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(lever('--version')).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });
});
