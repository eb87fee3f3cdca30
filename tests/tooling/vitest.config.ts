import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { PURE } from './pure.ts';
import { SlowFirst } from './sequencer.ts';

/** Suites that mock modules, and those that start other programs, have a process of their own. */
const OWN_PROCESS = ['rehearse', 'report', 'plant'];
const SHARING = [
  ...PURE.filter((room) => !OWN_PROCESS.some((own) => room.startsWith(own))).map(
    (room) => `tests/rooms/${room}/**/*.test.ts`,
  ),
  'tests/{published,properties}/**/*.test.ts',
  'tests/campaigns/{item-times,reference,restart,run,underspeed-truth}.test.ts',
];
const ALL = ['tests/**/*.test.ts'];

/** What waits for processes, sockets and browsers leaves room for one more beside it; then comes what only computes. */
export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    pool: 'forks',
    sequence: { sequencer: SlowFirst },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // What is waited for may come late on a loaded machine; it is never slept for.
    expect: { poll: { timeout: 20_000 } },
    projects: [
      {
        extends: true,
        test: {
          name: 'outside',
          globalSetup: 'tests/tooling/program-ready.mjs',
          include: ALL,
          exclude: SHARING,
          maxWorkers: 3,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: { name: 'pure', include: SHARING, isolate: false, maxWorkers: 2, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
