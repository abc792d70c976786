import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Both cores of a small machine; the default leaves one idle.
    maxWorkers: 2,
    setupFiles: ['tests/seed.ts'],
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
