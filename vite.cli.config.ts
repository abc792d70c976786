import { chmodSync } from 'node:fs';
import { defineConfig } from 'vite';

/** The command line is the same code as the page, bundled for Node. It goes beside the page and empties nothing. */
export default defineConfig({
  plugins: [{ name: 'executable', closeBundle: () => chmodSync('dist/leverwright.js', 0o755) }],
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
