import { signal } from '@preact/signals';
import type { FindingTold, Now } from '../../api/index.ts';
import type { GuideState } from '../../guide/index.ts';

/** The last that the daemon told; undefined until it did. */
export const now = signal<Now | undefined>(undefined);
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

/** Follows the daemon; after a loss the browser tries again by itself. Returns how to stop. */
export const follow = (): (() => void) => {
  const source = new EventSource('/api/stream');
  source.addEventListener('open', () => {
    connected.value = true;
  });
  source.addEventListener('error', () => {
    connected.value = false;
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
  return () => source.close();
};
