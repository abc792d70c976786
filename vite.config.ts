import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

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

/**
 * The page is put by whole at the first visit, so that it opens in a workshop without a network. A newer one waits until
 * it is wished for (sketch/view/offline.ts).
 */
const offline = VitePWA({
  registerType: 'prompt',
  injectRegister: false,
  // The patterns below find the icons as well.
  includeManifestIcons: false,
  manifest: {
    name: 'Leverwright',
    short_name: 'Leverwright',
    description: 'Draw a small lever, plan how it is milled and held, and leave with proven numbers.',
    lang: 'en',
    display: 'standalone',
    background_color: '#faf7f0',
    theme_color: '#faf7f0',
    icons: [
      { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: 'icon-full-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
      { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
    ],
  },
  workbox: {
    globPatterns: ['**/*.{html,js,css,svg,png,webmanifest}'],
    cleanupOutdatedCaches: true,
    sourcemap: false,
  },
});

export default defineConfig({
  plugins: [preact(), contentPolicy, offline],
  publicDir: 'sketch/view/public',
  worker: { format: 'es' },
  build: { outDir: 'dist/page', target: 'es2022', modulePreload: { polyfill: false } },
  preview: { port: 4400 },
  // Not the built page's port: what that one put by would be shown here instead.
  server: { port: 4401 },
});
