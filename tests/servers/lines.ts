/** Serial lines without wires: pseudo-terminals by socat. */
import { type ChildProcess, spawn } from 'node:child_process';
import { closeSync, constants, existsSync, mkdtempSync, openSync, rmSync, watch } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface PseudoLine {
  /** The end that the client opens. */
  readonly path: string;
  /** The other end, where it is a line too. */
  readonly far: string;
  stop(): Promise<void>;
}

const appeared = (folder: string, paths: readonly string[]): Promise<void> =>
  new Promise((resolve) => {
    const all = (): boolean => paths.every((path) => existsSync(path));
    const watcher = watch(folder, () => {
      if (!all()) return;
      watcher.close();
      resolve();
    });
    if (all()) {
      watcher.close();
      resolve();
    }
  });

const ended = async (child: ChildProcess): Promise<void> => {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const exit = new Promise((resolve) => child.once('exit', resolve));
  child.kill();
  await exit;
};

/** A line whose other end is a line (`pair`), or a TCP peer at `HOST:PORT`. */
export const startLine = async (to: 'pair' | string): Promise<PseudoLine> => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-line-'));
  const path = join(folder, 'near');
  const far = join(folder, 'far');
  const pty = (link: string): string => `PTY,link=${link},raw,echo=0`;
  const other = to === 'pair' ? pty(far) : `TCP:${to},nodelay`;
  const there = appeared(folder, to === 'pair' ? [path, far] : [path]);
  const child = spawn('socat', [pty(path), other], { stdio: 'ignore' });
  await there;
  // Held open by us too: socat ends when nobody has an end of it any more, a cable does not.
  const flags = constants.O_RDWR | constants.O_NOCTTY | constants.O_NONBLOCK;
  const ends = (to === 'pair' ? [path, far] : [path]).map((end) => openSync(end, flags));
  return {
    path,
    far,
    stop: async () => {
      for (const end of ends) closeSync(end);
      await ended(child);
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
