import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';

export default defineConfig({
  plugins: [preact()],
  worker: { format: 'es' },
  build: { outDir: 'dist/page', target: 'es2022' },
  preview: { port: 4400 },
  server: { port: 4400 },
});
