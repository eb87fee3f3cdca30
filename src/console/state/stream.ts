import { computed, signal } from '@preact/signals';
import type { FindingTold, InterlockNow, Now, SessionNow, SignalNow } from '../../api/index.ts';
import type { GuideState } from '../../guide/index.ts';
import { ask } from './api.ts';
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
/** Findings since the page was opened, oldest first. */
export const findings = signal<readonly (FindingTold & { readonly window: string })[]>([]);
export const connected = signal(true);
/** So many milliseconds the daemon's clock is ahead of this device's. */
export const ahead = signal(0);

const KEPT = 500;

/** So many looks at the daemon's clock are compared. */
const LOOKS = 40;
let looks: readonly number[] = [];

/** What took the least time on its way tells best: of many looks the greatest lead is the nearest to the truth. */
const lookAtClock = (utc: string): number => {
  looks = [...looks, Date.parse(utc) - Date.now()].slice(-LOOKS);
  return Math.max(...looks);
};

const AGAIN_MS = 2_000;

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
    now.value = told;
    ahead.value = lookAtClock(told.utc);
    if (told.window === undefined || told.window.demand) guide.value = undefined;
  });
  source.addEventListener('guide', (event) => {
    guide.value = JSON.parse(event.data as string) as GuideState;
  });
  source.addEventListener('finding', (event) => {
    const told = JSON.parse(event.data as string) as FindingTold & { readonly window: string };
    findings.value = [...findings.value, told].slice(-KEPT);
  });
  return source;
};

/** Follows the daemon, also after a loss and after a refusal. Returns how to stop. */
export const follow = (): (() => void) => {
  let source: EventSource;
  let waiting: number | undefined;
  const begin = (): void => {
    source = listen(() => {
      void askSession();
      waiting = setTimeout(begin, AGAIN_MS);
    });
  };
  begin();
  return () => {
    clearTimeout(waiting);
    source.close();
    // Whoever is not let in any more sees nothing of it.
    now.value = undefined;
    guide.value = undefined;
  };
};
