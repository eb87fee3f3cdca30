import { computed, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { FindingTold, InterlockNow, Now, SessionNow, SignalNow, WindowNow } from '../../api/index.ts';
import type { GuideState } from '../../guide/index.ts';
import { ask, windowPath } from './api.ts';
import { session } from './session.ts';

/** The last that the daemon told; undefined until it did. */
export const now = signal<Now | undefined>(undefined);
const signals = computed(() => new Map(now.value?.signals.map((one) => [one.name, one])));
const interlocks = computed(() => new Map(now.value?.interlocks.map((one) => [one.name, one])));
/** What a signal, an interlock was when the daemon last told. */
export const signalNow = (name: string): SignalNow | undefined => signals.value.get(name);
export const interlockNow = (name: string): InterlockNow | undefined => interlocks.value.get(name);

/** State of the guided window that is open; undefined where there is none. */
export const guide = signal<GuideState | undefined>(undefined);
type Heard = FindingTold & { readonly window: string };
/** Findings since the page was opened, and those of a window from before that were asked for; oldest first. */
export const findings = signal<readonly Heard[]>([]);
export const connected = signal(true);
/** So many milliseconds the daemon's clock is ahead of this device's. */
export const ahead = signal(0);

const KEPT = 500;

/** None stands there twice. */
const hear = (more: readonly Heard[]): void => {
  const all = new Map([...findings.value, ...more].map((one) => [`${one.window} ${one.index}`, one]));
  findings.value = [...all.values()]
    .sort((a, b) => a.finding.at - b.finding.at || a.index - b.index)
    .slice(-KEPT);
};

const readFindings = async (window: string): Promise<void> => {
  try {
    const { findings: told } = await ask<WindowNow>(windowPath(window));
    hear(told.map((one) => ({ ...one, window })));
  } catch {
    // Where it cannot be read now, what is there stays.
  }
};

/** Puts into `findings` what was found in a window before this page was there, and while nothing came through to it. */
export const useMissed = (window: string): void => {
  const there = connected.value;
  useEffect(() => {
    if (there) void readFindings(window);
  }, [window, there]);
};

/** So many looks at the daemon's clock are compared. */
const LOOKS = 40;
let looks: readonly number[] = [];

/** What took the least time on its way tells best: of many looks the greatest lead is the nearest to the truth. */
const lookAtClock = (utc: string): number => {
  looks = [...looks, Date.parse(utc) - Date.now()].slice(-LOOKS);
  return Math.max(...looks);
};

const AGAIN_MS = 2_000;
/** Twice a second there is a message: so long without one, and nobody can tell what is now. */
const SILENT_MS = 2_500;
/** A connection that died unnoticed does not come back by itself. */
const DEAD_MS = 10_000;
const LOOK_MS = 500;

/** When the daemon was last heard, milliseconds of this page. */
let heardAt = 0;

/** Asks anew who is there: a session may be over, and the page then asks for a password instead of trying for ever. */
const askSession = async (): Promise<void> => {
  try {
    session.value = await ask<SessionNow>('/api/session');
    connected.value = true;
  } catch {
    // The daemon is away: what stands there stays, and is said to be old.
  }
};

/** `onRefused`: the daemon let nobody in, and the browser does not try again by itself. */
const listen = (onRefused: () => void): EventSource => {
  const source = new EventSource('/api/stream');
  source.addEventListener('open', () => {
    connected.value = true;
  });
  source.addEventListener('error', () => {
    connected.value = false;
    if (source.readyState === EventSource.CLOSED) onRefused();
  });
  source.addEventListener('now', (event) => {
    const told = JSON.parse(event.data as string) as Now;
    connected.value = true;
    heardAt = performance.now();
    now.value = told;
    ahead.value = lookAtClock(told.utc);
    if (told.window === undefined || told.window.demand) guide.value = undefined;
  });
  source.addEventListener('guide', (event) => {
    guide.value = JSON.parse(event.data as string) as GuideState;
  });
  source.addEventListener('finding', (event) => {
    hear([JSON.parse(event.data as string) as Heard]);
  });
  return source;
};

/** Follows the daemon, also after a loss and after a refusal. Returns how to stop. */
export const follow = (): (() => void) => {
  let source: EventSource;
  let waiting: number | undefined;
  const begin = (): void => {
    heardAt = performance.now();
    source = listen(() => {
      void askSession();
      waiting = setTimeout(begin, AGAIN_MS);
    });
  };
  begin();
  const watch = setInterval(() => {
    const silent = performance.now() - heardAt;
    if (silent > SILENT_MS) connected.value = false;
    if (silent < DEAD_MS || source.readyState === EventSource.CLOSED) return;
    source.close();
    begin();
  }, LOOK_MS);
  return () => {
    clearInterval(watch);
    clearTimeout(waiting);
    source.close();
    // Whoever is not let in any more sees nothing of it.
    now.value = undefined;
    guide.value = undefined;
  };
};
