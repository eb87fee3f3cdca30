import type { GuideState } from '../guide/index.ts';
import type { Instant, Reason } from '../measure/index.ts';
import { text } from '../words/index.ts';
import type { Beginning } from './beginning.ts';
import type { Logbook } from './logbook.ts';
import type { StoredWindow } from './replay.ts';
import { guidedWindow, resumingFault, storedGuide } from './resuming.ts';
import type { Resumption } from './window-run.ts';

/** What a daemon that had ended left open. */
export interface Left {
  readonly interrupted: string[];
  /** Guided windows that cannot go on, as they stood. */
  readonly guides: Map<string, GuideState>;
  resumable?: Omit<Resumption, 'at'>;
}

/** Enters a guided window as interrupted, where it cannot go on; gives where it stood. */
export const interruptGuided = (logbook: Logbook, stored: StoredWindow, why: Reason): GuideState => {
  const entries = stored.entries.length;
  logbook.enter('window-interrupted', stored.id, 'daemon', { why: text(why), entries, reason: why });
  return storedGuide(stored, { standing: 'interrupted', why });
};

/** Windows that a crash left open are entered as interrupted, and never become a pass. A guided one may go on. */
export const enterInterrupted = (
  open: Beginning['interrupted'],
  path: string,
  logbook: Logbook,
  book: string,
  now: () => Instant,
): Left => {
  const left: Left = { interrupted: [], guides: new Map() };
  for (const { id, entries } of open) {
    const stored = guidedWindow(path, id);
    const fault = stored && resumingFault(stored, book, now());
    if (stored !== undefined && fault !== undefined && fault.why === undefined) {
      left.resumable = { stored, from: fault.from };
      continue;
    }
    left.interrupted.push(id);
    if (stored !== undefined && fault?.why !== undefined)
      left.guides.set(id, interruptGuided(logbook, stored, fault.why));
    else {
      const why = 'the daemon had ended without closing it';
      logbook.enter('window-interrupted', id, 'daemon', { why, entries });
    }
  }
  return left;
};
