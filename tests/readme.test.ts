import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { makeAll } from '../gcode/chain.ts';
import { readArguments } from '../gcode/command/arguments.ts';

const readme = readFileSync('README.md', 'utf8');
const guide = readFileSync('DEVELOPERS.md', 'utf8');
const manifest = JSON.parse(readFileSync('package.json', 'utf8'));
const blocks = (language: string): readonly string[] =>
  [...readme.matchAll(/```(\w+)\n([\s\S]*?)```/g)].flatMap(([, kind, text]) =>
    kind === language ? [text!] : [],
  );
const [part, route] = blocks('json');

describe('The README', () => {
  test('shows a part file that is made and fits', () => {
    const made = makeAll(part!);
    expect(made.ok && made.proof.verdict).toBe('fits');
  });

  test('shows wishes for a route that the vent latch lever takes', () => {
    const lever = JSON.parse(readFileSync('samples/vent-latch-lever.json', 'utf8'));
    const plain = makeAll(JSON.stringify(lever));
    const changed = makeAll(JSON.stringify({ ...lever, ...JSON.parse(`{${route}}`) }));
    if (!plain.ok || !changed.ok) throw new Error('not made');
    expect(changed.proof.verdict).toBe('fits');
    expect(changed.programs.map((p) => p.text)).not.toEqual(plain.programs.map((p) => p.text));
  });

  test('gives commands that the program reads and scripts that are there', () => {
    const lines = blocks('sh').flatMap((text) => text.split('\n'));
    const ours = lines.flatMap((line) => /^npx leverwright ([^#]*)/.exec(line)?.[1]?.trim() ?? []);
    expect(ours.length).toBeGreaterThanOrEqual(3);
    for (const line of ours) {
      const request = readArguments(line.replace('--setup N', '--setup 1').split(/ +/));
      expect(line.startsWith(request.kind)).toBe(true);
    }
    const scripts = [...`${readme}\n${guide}`.matchAll(/npm run ([a-z]+)/g)].map((m) => m[1]!);
    expect(scripts).toContain('build');
    for (const script of scripts) expect(Object.keys(manifest.scripts)).toContain(script);
  });

  test('leads to files that are there', () => {
    for (const [, to] of `${readme}\n${guide}`.matchAll(/\]\(([^)#]+)\)/g)) {
      if (!to!.startsWith('http')) expect(existsSync(to!), to).toBe(true);
    }
  });
});

test('the guide gives a reason for every package that ships', () => {
  for (const name of Object.keys(manifest.dependencies))
    expect(guide).toMatch(new RegExp(`^\\| .*${name}.* \\|`, 'm'));
  for (const name of Object.keys(manifest.devDependencies)) {
    if (!name.startsWith('@types/')) expect(guide).toContain(name);
  }
});
