import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { SlowFirst } from './sequencer.ts';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    pool: 'forks',
    maxWorkers: 2,
    sequence: { sequencer: SlowFirst },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // What is waited for may come late on a loaded machine; it is never slept for.
    expect: { poll: { timeout: 20_000 } },
  },
});
