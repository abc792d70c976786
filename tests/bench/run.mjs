// Runs every benchmark of this folder in turn, or those whose names hold a word given behind the command, and prints
// one table. Each is bundled first, as the page and the command line are: what is measured is what is shipped.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { build } from 'vite';

const root = `${import.meta.dirname}/../..`;
const wanted = process.argv.slice(2);
const files = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();
// As deep in the tree as the files it is made of, for these find the samples from where they are.
const folder = mkdtempSync(`${root}/.bench-`);
try {
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    build: {
      ssr: true,
      outDir: folder,
      target: 'node20',
      rollupOptions: {
        input: Object.fromEntries(
          ['row.ts', ...files].map((name) => [name, `${import.meta.dirname}/${name}`]),
        ),
        output: { entryFileNames: '[name].mjs', chunkFileNames: '[name]-[hash].mjs' },
      },
    },
  });
  const row = `${folder}/row.ts.mjs`;
  const { tableHead } = await import(row);
  console.log(tableHead());
  // Each by itself: what one has run must not tell on how another runs.
  for (const name of files) {
    const script = `
      import { tableLine } from ${JSON.stringify(row)};
      import bench from ${JSON.stringify(`${folder}/${name}.mjs`)};
      for await (const row of bench()) console.log(tableLine(row));`;
    execFileSync(process.execPath, ['--input-type=module', '-e', script], { stdio: 'inherit' });
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
