// Runs every benchmark of this folder in turn, or those whose names hold a word given behind the command.
import { readdirSync } from 'node:fs';
import { runnerImport } from 'vite';

const wanted = process.argv.slice(2);
const files = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();
for (const name of files) {
  console.log(`\n${name}`);
  const { module } = await runnerImport(`${import.meta.dirname}/${name}`, { configFile: false });
  await module.default();
}
