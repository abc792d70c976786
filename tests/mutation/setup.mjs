// Writes down which of the marked places each test came by; what is come by outside the tests goes to every one of them.
import { appendFileSync } from 'node:fs';
import { afterAll, afterEach, beforeEach } from 'vitest';

const marks = () => globalThis.__stryker__;

beforeEach(({ task }) => {
  if (marks()) marks().currentTestId = task.id;
});
afterEach(() => {
  if (marks()) marks().currentTestId = undefined;
});
afterAll(() => {
  const { static: always, perTest } = marks()?.mutantCoverage ?? { static: {}, perTest: {} };
  const tests = Object.entries(perTest).map(([id, seen]) => [id, Object.keys(seen)]);
  const line = { always: Object.keys(always), tests: Object.fromEntries(tests) };
  appendFileSync(process.env.MARKS_FILE, JSON.stringify(line));
});
