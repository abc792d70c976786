// Spoils the code of three rooms in small ways, one at a time, and sees whether the tests notice. A sample of all the
// ways there are, drawn from a seed, so that a score can be had in an hour and again tomorrow.
//   npm run mutation -- [program|passes|proof ...] [--count 150] [--seed 1] [--lanes 2]
import { execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { Instrumenter } from '@stryker-mutator/instrumenter';

/** The rooms, and the tests that answer for them: such as run in seconds, without a browser. */
const ROOMS = {
  program: { folder: 'gcode/program', tests: /^(program|written)/ },
  passes: {
    folder: 'toolpath/passes',
    tests: /^(passes|peel|tooth-load|route-terms|packing|plan-|chain)/,
  },
  proof: { folder: 'gcode/proof', tests: /^(proof|prove-|removal)/ },
};

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    count: { type: 'string', default: '150' },
    seed: { type: 'string', default: '1' },
    lanes: { type: 'string', default: '2' },
  },
});

const root = join(import.meta.dirname, '../..');

/** Numbers from 0 to 1 from a seed (mulberry32, public domain). */
const randomFrom = (seed) => () => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
};

const quiet = { debug() {}, info() {}, isDebugEnabled: () => false };

/** Every way to spoil a file: where it stands in the text and what is put there. */
const spoilings = async (file) => {
  const content = readFileSync(join(root, file), 'utf8');
  const options = { excludedMutations: [], ignorers: [], plugins: null, noHeader: true };
  const { mutants } = await new Instrumenter(quiet).instrument(
    [{ name: file, mutate: true, content }],
    options,
  );
  const starts = [0];
  for (let i = content.indexOf('\n'); i >= 0; i = content.indexOf('\n', i + 1)) starts.push(i + 1);
  const at = ({ line, column }) => starts[line] + column;
  return mutants.map(({ location, replacement, mutatorName }) => {
    const [from, to] = [at(location.start), at(location.end)];
    return {
      file,
      line: location.start.line + 1,
      kind: mutatorName,
      was: content.slice(from, to),
      now: replacement,
      text: content.slice(0, from) + replacement + content.slice(to),
      whole: content,
    };
  });
};

const filesBelow = (folder) =>
  readdirSync(join(root, folder), { recursive: true })
    .filter((name) => name.endsWith('.ts'))
    .sort()
    .map((name) => `${folder}/${name}`);

/** A copy of the tree in which one may spoil. */
const lane = () => {
  const folder = mkdtempSync(join(tmpdir(), 'spoilt-'));
  const kept = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  });
  for (const name of kept.split('\n')) if (name) cpSync(join(root, name), join(folder, name));
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  return folder;
};

/** Runs the tests in a lane: 'passed', 'failed', or 'late' when they take far longer than they did on sound code. */
const run = (folder, tests, limit) =>
  new Promise((done) => {
    const child = spawn(
      'npx',
      ['vitest', 'run', '--bail', '1', '--reporter', 'dot', '--maxWorkers', '1', ...tests],
      {
        cwd: folder,
        stdio: 'ignore',
        detached: true,
      },
    );
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      process.kill(-child.pid, 'SIGKILL');
    }, limit);
    child.on('exit', (code) => {
      clearTimeout(timer);
      done(late ? 'late' : code === 0 ? 'passed' : 'failed');
    });
  });

const short = (text) => text.replace(/\s+/g, ' ').slice(0, 70);

const lanes = Array.from({ length: Number(values.lanes) }, lane);
try {
  console.log('| room | ways to spoil it | tried | noticed | too slow | unnoticed | score |');
  console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: |');
  for (const name of positionals.length > 0 ? positionals : Object.keys(ROOMS)) {
    const room = ROOMS[name];
    const all = (await Promise.all(filesBelow(room.folder).map(spoilings))).flat();
    const random = randomFrom(Number(values.seed));
    const sample = all.map((one) => ({ one, key: random() })).sort((a, b) => a.key - b.key);
    const waiting = sample.slice(0, Number(values.count)).map(({ one }) => one);
    const tried = waiting.length;
    const tests = readdirSync(join(root, 'tests'))
      .filter((test) => test.endsWith('.test.ts') && room.tests.test(test))
      .map((test) => `tests/${test}`);
    const began = Date.now();
    if ((await run(lanes[0], tests, 3_600_000)) !== 'passed')
      throw new Error(`${name}: the tests fail on sound code`);
    const limit = 5 * (Date.now() - began) + 20_000;
    const counts = { failed: 0, late: 0, passed: 0 };
    const unnoticed = [];
    await Promise.all(
      lanes.map(async (folder) => {
        for (let next = waiting.pop(); next; next = waiting.pop()) {
          writeFileSync(join(folder, next.file), next.text);
          const end = await run(folder, tests, limit);
          writeFileSync(join(folder, next.file), next.whole);
          counts[end]++;
          if (end === 'passed') unnoticed.push(next);
        }
      }),
    );
    const score = (100 * (tried - counts.passed)) / tried;
    console.log(
      `| ${name} | ${all.length} | ${tried} | ${counts.failed} | ${counts.late} | ${counts.passed} | ${score.toFixed(0)} % |`,
    );
    for (const { file, line, kind, was, now } of unnoticed) {
      console.error(`${file}:${line} ${kind}: ${short(was)}  →  ${short(now)}`);
    }
  }
} finally {
  for (const folder of lanes) rmSync(folder, { recursive: true, force: true });
}
