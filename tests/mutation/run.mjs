// Spoils the code of three rooms in small ways, one at a time, and sees whether the tests notice. A sample of all the
// ways there are, drawn from a seed, so that a score can be had in an hour and again tomorrow. What was found is kept in
// dist/mutation, so that a run that was broken off goes on where it was.
//   npm run mutation -- [program|passes|proof ...] [--count 150] [--seed 1] [--lanes 2]
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { drawn, LATE, marked, placeOf, root, textOf } from './spoilings.mjs';

/** The rooms, and the tests that answer for them: such as run in seconds, without a browser. */
const ROOMS = {
  program: { folder: 'gcode/program', tests: /^program(-lines|-round-trip)?\.test/ },
  passes: {
    folder: 'toolpath/passes',
    tests: /^(passes|peel\.|gentle-fronts|visiting|engagement-limit|plan-|plate-hold)/,
  },
  proof: {
    folder: 'gcode/proof',
    tests: /^(proof(?!-memory)|prove-)/,
    // They only save time, and the tests that hold them against proofs of their own take minutes.
    without: ['proof-memory', 'setup-memory', 'wall-memory', 'wanted-change'].map(
      (name) => `gcode/proof/${name}.ts`,
    ),
  },
};

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    count: { type: 'string', default: '150' },
    seed: { type: 'string', default: '1' },
    lanes: { type: 'string', default: '2' },
  },
});

const kept = join(root, 'dist/mutation');
mkdirSync(kept, { recursive: true });

const digest = (...texts) => {
  const hash = createHash('sha256');
  for (const text of texts) hash.update(text);
  return hash.digest('hex').slice(0, 16);
};

const filesIn = (folder, isMeant) =>
  readdirSync(join(root, folder), { recursive: true })
    .filter((name) => /\.tsx?$/.test(name) && isMeant(name))
    .sort()
    .map((name) => `${folder}/${name}`);

/** What every test leans on. */
const sound = digest(
  ...['sketch', 'toolpath', 'gcode'].flatMap((folder) => filesIn(folder, () => true)).map(textOf),
  ...filesIn('tests', (name) => !name.includes('.test.')).map(textOf),
);

const lane = (marksFile) => {
  const env = { ...process.env, LEVERS: '4', GENTLE: '1', ...(marksFile && { MARKS_FILE: marksFile }) };
  const child = fork(join(import.meta.dirname, 'lane.mjs'), {
    env,
    detached: true,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  return { child, ready: new Promise((done) => child.once('message', done)) };
};

/** Runs one test file in a lane, or some of its tests. It is 'late' when it takes far longer than on sound code. */
const asked = async (at, message) => {
  await at.ready;
  return new Promise((done) => {
    const { child } = at;
    const end = (answer) => {
      child.removeAllListeners();
      done(answer);
    };
    child.once('message', (answer) => end({ ...answer, how: answer.passed ? 'passed' : 'failed' }));
    child.once('exit', (code) => {
      Object.assign(at, lane());
      end({ how: code === LATE ? 'late' : 'failed' });
    });
    child.send(message);
  });
};

const short = (text) => text.replace(/\s+/g, ' ').slice(0, 90);
const said = ({ file, line, kind, was, now }) => `${file}:${line} ${kind}: ${short(was)}  →  ${short(now)}`;

/** Tests that take longer are asked by themselves, ms; those beyond the second only where no other comes by. */
const QUICK = 200;
const LONG = 8000;

/**
 * How long each test takes on sound code and which places of the sample it comes by. Quick and slow tests of a file are
 * asked apart. A test that wants more cases than it is given here is left out.
 */
const walked = async (tests, sample, name) => {
  const cache = join(kept, `${name}-walks.json`);
  const drawing = digest(sound, ...sample.map(said));
  const keyOf = (test) => digest(drawing, textOf(test));
  const known = existsSync(cache) ? JSON.parse(readFileSync(cache, 'utf8')) : {};
  const missing = tests.filter((test) => known[test]?.key !== keyOf(test));
  if (missing.length > 0) {
    const { files, places } = await marked(sample);
    const marksFile = join(kept, `${name}-marks`);
    const at = lane(marksFile);
    for (const test of missing) {
      if (stopping) break;
      writeFileSync(marksFile, '');
      const { time, tests: each } = await asked(at, { files, test, limit: 3_600_000 });
      const marks = JSON.parse(readFileSync(marksFile, 'utf8'));
      const placesOf = (ids) => [...new Set((ids ?? []).map((id) => places[id]))];
      const sure = each.filter((one) => one.state === 'passed');
      const slips = each.length - sure.length;
      console.error(
        `${test}: ${(time / 1000).toFixed(1)} s${slips ? `, ${slips} of ${each.length} left out` : ''}`,
      );
      known[test] = {
        key: keyOf(test),
        before: time - each.reduce((sum, one) => sum + one.time, 0),
        always: placesOf(marks.always),
        tests: sure.map(({ id, time }) => ({ id, time, seen: placesOf(marks.tests[id]) })),
      };
      writeFileSync(cache, JSON.stringify(known));
    }
    at.child.kill();
    rmSync(marksFile, { force: true });
    if (stopping) return [];
  }
  return tests.flatMap((test) => {
    const { before, always, tests: each } = known[test];
    const lengthOf = ({ time }) => (time > LONG ? 'long' : time > QUICK ? 'slow' : 'quick');
    return ['quick', 'slow', 'long'].map((length) => ({
      test,
      length,
      /** The tests that come by a place, and how long they take. */
      about: (place) => {
        const meant = each.filter(
          (one) => lengthOf(one) === length && (always.includes(place) || one.seen.includes(place)),
        );
        const time = before + meant.reduce((sum, one) => sum + one.time, 0);
        return { ids: meant.map(({ id }) => id), time };
      },
    }));
  });
};

/** Whoever breaks it off is told what was found so far. */
let stopping = false;
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => (stopping = true));

const answer = async (name) => {
  const room = ROOMS[name];
  const { sample, ways, unnoticeable } = await drawn(room, Number(values.count), Number(values.seed));
  console.error(`${name}: ${sample.length} of ${ways}; ${unnoticeable} are known to change nothing`);
  const tests = filesIn('tests', (test) => test.endsWith('.test.ts') && room.tests.test(test));
  const all = digest(sound, ...tests.map(textOf));
  // A spoiling that a test noticed is noticed as long as that test and the code stay; one that none noticed is asked
  // again when any test of the room is another.
  const record = join(kept, `${name}.jsonl`);
  const keyOf = ({ text }, { how, test }) =>
    digest(text, how === 'passed' ? all : digest(sound, textOf(test)), how);
  const known = new Map();
  for (const line of existsSync(record) ? readFileSync(record, 'utf8').split('\n').filter(Boolean) : []) {
    const found = JSON.parse(line);
    if (found.test === undefined || existsSync(join(root, found.test))) known.set(found.key, found);
  }
  const found = new Map();
  for (const one of sample) {
    for (const f of known.values()) {
      if (f.what === said(one) && f.key === keyOf(one, f)) found.set(one, f);
    }
  }
  const waiting = sample.filter((one) => !found.has(one));
  const walks = waiting.length > 0 ? await walked(tests, sample, name) : [];
  /** How often a part of a test file was asked about a file of the room, and how often it noticed. */
  const luck = new Map();
  const luckOf = ({ test, length }, { file }) =>
    luck.get(`${test} ${length} ${file}`) ?? { asked: 0, noticed: 0 };
  /** Likely and quick first. */
  const cost = (walk, time, one) =>
    (time * (luckOf(walk, one).asked + 1)) / (luckOf(walk, one).noticed + 0.5);
  const tell = (one, how, test) => {
    const f = { what: said(one), how, test };
    found.set(one, f);
    appendFileSync(record, `${JSON.stringify({ ...f, key: keyOf(one, f) })}\n`);
    const unnoticed = [...found.values()].filter((g) => g.how === 'passed').length;
    console.error(
      `${found.size}/${sample.length}, ${unnoticed} unnoticed: ${how} ${test ?? ''} ${said(one)}`,
    );
  };
  const next = () => (stopping ? undefined : waiting.pop());
  const lanes = Array.from({ length: Math.min(waiting.length, Number(values.lanes)) }, () => lane());
  await Promise.all(
    lanes.map(async (at) => {
      for (let one = next(); one; one = next()) {
        const by = walks
          .map((walk) => ({ walk, ...walk.about(placeOf(one)) }))
          .filter(({ ids }) => ids.length > 0)
          .sort((a, b) => cost(a.walk, a.time, one) - cost(b.walk, b.time, one));
        const brief = by.filter(({ walk }) => walk.length !== 'long');
        const coming = brief.length > 0 ? brief : by;
        let noticed = null;
        for (const { walk, ids, time } of coming) {
          const files = { [one.file]: one.text };
          const { how } = await asked(at, { files, test: walk.test, ids, limit: 3 * time + 10_000 });
          const { asked: times, noticed: hits } = luckOf(walk, one);
          const now = { asked: times + 1, noticed: hits + (how === 'passed' ? 0 : 1) };
          luck.set(`${walk.test} ${walk.length} ${one.file}`, now);
          if (how === 'passed') continue;
          noticed = { how, test: walk.test };
          break;
        }
        tell(one, noticed?.how ?? 'passed', noticed?.test);
      }
    }),
  );
  for (const { child } of lanes) child.kill();
  const count = (how) => [...found.values()].filter((f) => f.how === how).length;
  const tried = found.size;
  const score = tried === 0 ? '–' : `${((100 * (tried - count('passed'))) / tried).toFixed(0)} %`;
  for (const [one, { how }] of found) if (how === 'passed') console.error(said(one));
  return `| ${name} | ${ways} | ${tried} | ${count('failed')} | ${count('late')} | ${count('passed')} | ${score} |`;
};

const rows = [];
for (const name of positionals.length > 0 ? positionals : Object.keys(ROOMS))
  if (!stopping) rows.push(await answer(name));
console.log('| room | ways to spoil it | tried | noticed | too slow | unnoticed | score |');
console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: |');
for (const row of rows) console.log(row);
