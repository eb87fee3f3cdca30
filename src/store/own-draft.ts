import type { EntryKind } from '../record/index.ts';
import type { Draft } from './types.ts';

/** An entry that the writer makes by itself, with the machine's own clocks. `boot` says that it was no daemon's run. */
export const ownDraft = (kind: EntryKind, body: Draft['body']): Draft => ({
  version: 1,
  kind,
  subject: '',
  actor: 'log',
  utc: new Date().toISOString(),
  monotonic: Math.round(performance.now() * 1_000),
  boot: `writer-${process.pid}`,
  body,
});
