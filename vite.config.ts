import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';

/** Nothing is run, fetched or styled but what this page was built with; the dev server needs more and is left alone. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const contentPolicy: Plugin = {
  name: 'content-policy',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
      injectTo: 'head-prepend',
    },
  ],
};

export default defineConfig({
  plugins: [preact(), contentPolicy],
  worker: { format: 'es' },
  build: { outDir: 'dist/page', target: 'es2022', modulePreload: { polyfill: false } },
  preview: { port: 4400 },
  server: { port: 4400 },
});
