/** What is told when the library of SQLite cannot be loaded. */
import { expect, test, vi } from 'vitest';
import { readLog } from '../../../src/store/index.ts';
import { takeLock } from '../../../src/store/lock.ts';
import { newPath } from './logs.ts';

const library = vi.hoisted(() => ({ fault: '' }));

vi.mock('better-sqlite3', () => ({
  default: class {
    static readonly SqliteError = class extends Error {};

    constructor() {
      throw Object.assign(new Error('was compiled against a different Node.js version'), {
        code: library.fault,
      });
    }
  },
}));

test('a library made for another Node is told as that, and not as a fault of the log or of ours', () => {
  library.fault = 'ERR_DLOPEN_FAILED';
  const told = expect.objectContaining({
    name: 'LogError',
    code: 'no-access',
    message: expect.stringMatching(/not made for this Node, v\d+.*npm rebuild better-sqlite3/),
  });
  expect(() => takeLock(newPath())).toThrow(told);
  expect(() => readLog(import.meta.filename)).toThrow(told);
});
