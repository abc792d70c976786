// Runs every benchmark of this folder in turn, or those whose names hold a word given behind the command, and prints
// one table.
import { readdirSync } from 'node:fs';
import { runnerImport } from 'vite';

const load = async (name) =>
  (await runnerImport(`${import.meta.dirname}/${name}`, { configFile: false })).module;

const wanted = process.argv.slice(2);
const files = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();
const { tableHead, tableLine } = await load('row.ts');
console.log(tableHead());
for (const name of files) {
  for await (const row of (await load(name)).default()) console.log(tableLine(row));
}
