import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/seed.ts'],
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
