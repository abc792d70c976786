import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

/** The bundle is run by its name, so it must be allowed to. */
const executable: Plugin = {
  name: 'executable',
  writeBundle: ({ dir }, files) => {
    for (const file of Object.keys(files)) if (dir) chmodSync(join(dir, file), 0o755);
  },
};

/** The command line is the same code as the page, bundled for Node. It goes beside the page and empties nothing. */
export default defineConfig({
  plugins: [executable],
  build: {
    ssr: 'gcode/cli.ts',
    outDir: 'dist',
    emptyOutDir: false,
    copyPublicDir: false,
    target: 'node20',
    rollupOptions: { output: { entryFileNames: 'leverwright.js', banner: '#!/usr/bin/env node' } },
  },
  ssr: { noExternal: true },
});
