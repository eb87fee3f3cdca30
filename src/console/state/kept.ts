import { effect, type Signal, signal } from '@preact/signals';

const kindOf = (value: unknown): string => (Array.isArray(value) ? 'array' : typeof value);

/** What was kept, field by field where it is of the usual kind. */
const likeUsual = <T extends object>(kept: Readonly<Record<string, unknown>>, usual: T): T => {
  const fields = Object.entries(usual).map(([key, value]) => [
    key,
    kindOf(kept[key]) === kindOf(value) ? kept[key] : value,
  ]);
  return Object.fromEntries(fields) as T;
};

/** Whatever this browser kept at `place`; nothing where that cannot be read. */
const read = (place: string): Readonly<Record<string, unknown>> => {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(place) ?? '{}');
    return { ...(kept as object) };
  } catch {
    return {};
  }
};

/** A value that outlives a reload of the page on this device. `made`: from what was kept, which may be anything. */
export const keptSignal = <T extends object>(
  place: string,
  usual: T,
  made: (kept: Readonly<Record<string, unknown>>, usual: T) => T = likeUsual,
): Signal<T> => {
  const kept = signal(made(read(place), usual));
  effect(() => {
    try {
      localStorage.setItem(place, JSON.stringify(kept.value));
    } catch {
      // A browser that keeps nothing shows the page all the same.
    }
  });
  return kept;
};
