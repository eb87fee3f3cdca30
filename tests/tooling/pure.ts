import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { normalizePath } from 'vite';

/** Rooms without clock, randomness or I/O: a module of theirs does nothing when it is imported. */
export const { PURE } = createRequire(import.meta.url)('./rooms.cjs') as { readonly PURE: readonly string[] };

const SRC = normalizePath(fileURLToPath(new URL('../../src/', import.meta.url)));
const FOLDERS = PURE.map((room) => `${SRC}${room}/`);

/** Whether a module may do something when it is imported; of others a bundle takes along only what is used. */
export const mayAct = (id: string): boolean => !FOLDERS.some((folder) => id.startsWith(folder));
