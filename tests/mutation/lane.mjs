// One vitest that stays, in which the text of a file can be put in another's place. It is asked by messages
// { files: { name: text }, test, ids, limit } and answers { passed, time, tests }, or ends when it takes too long.
import { join } from 'node:path';
import { createVitest } from 'vitest/node';
import { LATE, root } from './spoilings.mjs';

/** A property is tried with a tenth of its cases, and no more than this: one that is broken mostly shows it soon. */
const CASES = 30;

const fewer = (count) => Math.min(CASES, Math.ceil(count.replaceAll('_', '') / 10));

const marking = process.env.MARKS_FILE !== undefined;
let files = {};

const spoiler = {
  name: 'spoiler',
  enforce: 'pre',
  load: (id) => files[id.split('?')[0].slice(root.length + 1)] ?? null,
  transform: (text, id) =>
    id.startsWith(join(root, 'tests'))
      ? text.replace(/numRuns: ([\d_]+)/g, (_, n) => `numRuns: ${fewer(n)}`)
      : null,
};

const vitest = await createVitest(
  'test',
  {
    root,
    watch: false,
    pool: 'threads',
    maxWorkers: 1,
    bail: marking ? 0 : 1,
    reporters: [{}],
    setupFiles: ['tests/seed.ts', ...(marking ? ['tests/mutation/setup.mjs'] : [])],
  },
  { plugins: [spoiler] },
);
await vitest.standalone();

/** All times are the processor's, so that other work on the machine does not make a spoilt program look slow. ms. */
const used = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

process.on('message', async ({ files: wanted, test, ids, limit }) => {
  for (const name of Object.keys({ ...files, ...wanted })) vitest.invalidateFile(join(root, name));
  files = wanted;
  const [began, clock] = [used(), Date.now()];
  const watch = setInterval(() => {
    if (used() - began > limit) process.exit(LATE);
  }, 500);
  const project = vitest.projects[0];
  const specification = project.createSpecification(join(root, test), ids && { testIds: ids });
  const result = await vitest.runTestSpecifications([specification]);
  clearInterval(watch);
  // What was run before is told again.
  const testModules = result.testModules.filter(({ moduleId }) => moduleId === specification.moduleId);
  const time = used() - began;
  const share = time / Math.max(1, Date.now() - clock);
  const tests = testModules.flatMap((module) =>
    [...module.children.allTests()].map((one) => ({
      id: one.id,
      state: one.result().state,
      time: share * (one.diagnostic()?.duration ?? 0),
    })),
  );
  const passed = result.unhandledErrors.length === 0 && testModules.every((module) => module.ok());
  process.send({ passed, time, tests });
});
process.on('disconnect', () => process.exit());
process.send('ready');
