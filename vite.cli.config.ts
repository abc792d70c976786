import { defineConfig } from 'vite';

/** The command line is the same code as the page, bundled for Node. */
export default defineConfig({
  build: {
    ssr: 'gcode/cli.ts',
    outDir: 'dist',
    emptyOutDir: false,
    target: 'node20',
    rollupOptions: { output: { entryFileNames: 'leverwright.js', banner: '#!/usr/bin/env node' } },
  },
  ssr: { noExternal: true },
});
