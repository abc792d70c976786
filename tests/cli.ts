import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';

/** The command line bundled from the code as it stands, in a folder of its own. */
export const bundle = async (): Promise<{ readonly folder: string; readonly program: string }> => {
  const folder = mkdtempSync(join(tmpdir(), 'leverwright-'));
  // Vitest says it is not production, and the bundle should be as it ships.
  const outDir = join(folder, 'bin');
  await build({ configFile: 'vite.cli.config.ts', mode: 'production', logLevel: 'error', build: { outDir } });
  return { folder, program: join(outDir, 'leverwright.js') };
};

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Run the bundle as a shell would: by its own name. */
export const run = (program: string, args: readonly string[]): Ran => {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: 'utf8' });
  return { code: status, out: stdout, err: stderr };
};

/** Names of everything in a folder, hidden files too; null when there is no such folder. */
export const namesIn = (folder: string): readonly string[] | null => {
  try {
    return readdirSync(folder).sort();
  } catch {
    return null;
  }
};
