// The ways in which the code of a room can be spoilt, and a fair sample of them.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Instrumenter } from '@stryker-mutator/instrumenter';
import ts from 'typescript';
import { UNNOTICEABLE } from './unnoticeable.mjs';

export const root = join(import.meta.dirname, '../..');

/** How a lane ends that took too long. */
export const LATE = 3;

const quiet = { debug() {}, info() {}, isDebugEnabled: () => false };
const OPTIONS = { excludedMutations: [], ignorers: [], plugins: null, noHeader: false };

/** `mutate` is true for everything, or the places to be looked at. */
const instrumented = (file, mutate) =>
  new Instrumenter(quiet).instrument([{ name: file, mutate, content: textOf(file) }], OPTIONS);

export const textOf = (file) => readFileSync(join(root, file), 'utf8');

/** A place by name, as the walks remember it. */
export const placeOf = ({ file, location: { start, end } }) =>
  `${file} ${start.line}:${start.column}-${end.line}:${end.column}`;

/** Every way to spoil a file: where it stands in the text and what is put there. */
const spoilings = async (file) => {
  const content = textOf(file);
  const { mutants } = await instrumented(file, true);
  const starts = [0];
  for (let i = content.indexOf('\n'); i >= 0; i = content.indexOf('\n', i + 1)) starts.push(i + 1);
  const at = ({ line, column }) => starts[line] + column;
  return mutants.map(({ location, replacement, mutatorName }) => {
    const [from, to] = [at(location.start), at(location.end)];
    return {
      file,
      line: location.start.line + 1,
      whole: content.slice(starts[location.start.line], starts[location.start.line + 1]).trim(),
      kind: mutatorName,
      location,
      was: content.slice(from, to),
      now: replacement,
      text: content.slice(0, from) + replacement + content.slice(to),
    };
  });
};

/** The files with marks at the places of a sample, and which mark is which place. */
export const marked = async (sample) => {
  const files = {};
  const places = {};
  for (const file of new Set(sample.map((one) => one.file))) {
    const mutate = sample.filter((one) => one.file === file).map((one) => one.location);
    const result = await instrumented(file, mutate);
    // The marks count from nought in each file; the file's name tells them apart.
    files[file] = result.files[0].content.replaceAll(
      /(stryCov_9fa48\()("[^)]*)\)/g,
      (_, call, ids) =>
        `${call}${ids
          .replaceAll('"', '')
          .split(', ')
          .map((id) => JSON.stringify(`${file} ${id}`))
          .join(', ')})`,
    );
    for (const { id, location } of result.mutants) places[`${file} ${id}`] = placeOf({ file, location });
  }
  return { files, places };
};

/** Numbers from 0 to 1 from a seed (mulberry32, public domain). */
const randomFrom = (seed) => () => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
};

/**
 * Those that the compiler takes. What it does not take is no question for the tests. Each stands beside the sound file
 * as a file of its own, so that all are looked at in one go.
 */
const compiling = (spoilt) => {
  const config = ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile).config;
  const parsed = ts.parseJsonConfigFileContent(config, ts.sys, root);
  const options = { ...parsed.options, noUnusedLocals: false, noUnusedParameters: false };
  const texts = new Map(
    spoilt.map(({ file, text }, k) => [join(root, file).replace(/\.ts$/, `.spoilt-${k}.ts`), text]),
  );
  const host = ts.createCompilerHost(options);
  const { readFile, fileExists } = host;
  host.readFile = (path) => texts.get(path) ?? readFile(path);
  host.fileExists = (path) => texts.has(path) || fileExists(path);
  const getSourceFile = host.getSourceFile.bind(host);
  host.getSourceFile = (path, ...more) =>
    texts.has(path) ? ts.createSourceFile(path, texts.get(path), ...more) : getSourceFile(path, ...more);
  const declarations = parsed.fileNames.filter((path) => path.endsWith('.d.ts'));
  const program = ts.createProgram([...texts.keys(), ...declarations], options, host);
  const paths = [...texts.keys()];
  return spoilt.filter((_, k) => {
    const file = program.getSourceFile(paths[k]);
    return program.getSyntacticDiagnostics(file).length + program.getSemanticDiagnostics(file).length === 0;
  });
};

const filesBelow = (folder) =>
  readdirSync(join(root, folder), { recursive: true })
    .filter((name) => name.endsWith('.ts'))
    .sort()
    .map((name) => `${folder}/${name}`);

const fits = (meant, text, was) =>
  typeof meant === 'string' ? meant === text : meant instanceof RegExp ? meant.test(text) : meant(text, was);

const isUnnoticeable = (one) =>
  UNNOTICEABLE.some(
    ({ file, line, was, now = /^/ }) =>
      fits(file, one.file) && fits(line, one.whole) && fits(was, one.was) && fits(now, one.now, one.was),
  );

/** `count` ways drawn from all there are in a room, such as compile and are not known to change nothing. */
export const drawn = async ({ folder, without = [] }, count, seed) => {
  const files = filesBelow(folder).filter((file) => !without.includes(file));
  const all = (await Promise.all(files.map(spoilings))).flat();
  const random = randomFrom(seed);
  const shuffled = all.map((one) => ({ one, key: random() })).sort((a, b) => a.key - b.key);
  const noticeable = shuffled.map(({ one }) => one).filter((one) => !isUnnoticeable(one));
  const sample = [];
  let asked = 0;
  while (sample.length < count && asked < noticeable.length) {
    const next = noticeable.slice(asked, asked + count);
    asked += next.length;
    sample.push(...compiling(next));
  }
  return { sample: sample.slice(0, count), ways: all.length, unnoticeable: all.length - noticeable.length };
};
