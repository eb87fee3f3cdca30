import { parentPort, workerData } from 'node:worker_threads';
import { createCore, openCore } from './log-core.ts';
import { type Batch, type Draft, LogError } from './types.ts';

/** The writer has a thread of its own, so that waiting for the disk never delays a poll. */
type Ask = { readonly id: number; readonly batch?: Batch; readonly close?: true };

const port = parentPort;
if (port === null) throw new Error('the log writer runs as a worker');

const told = (error: unknown): { code: string; message: string } =>
  error instanceof LogError
    ? { code: error.code, message: error.message }
    : { code: 'write-failed', message: String(error) };

try {
  const { path, fresh, genesis, ...place } = workerData as {
    path: string;
    fresh: boolean;
    genesis?: Draft;
    keys?: string;
  };
  const core = fresh ? createCore(path, genesis, place) : openCore(path, place);
  port.on('message', ({ id, batch, close }: Ask) => {
    try {
      if (batch) port.postMessage({ id, appended: core.append(batch), head: core.head() });
      if (!close) return;
      core.close();
      port.postMessage({ id, closed: true });
      port.close();
    } catch (error) {
      port.postMessage({ id, error: told(error) });
    }
  });
  port.postMessage({ id: 0, head: core.head(), opening: core.opening() });
} catch (error) {
  port.postMessage({ id: 0, error: told(error) });
  port.close();
}
