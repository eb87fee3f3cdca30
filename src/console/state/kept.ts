import { effect, type Signal, signal } from '@preact/signals';

const kindOf = (value: unknown): string => (Array.isArray(value) ? 'array' : typeof value);

/** What this browser kept at `place`, field by field where it is of the usual kind. */
const read = <T extends object>(place: string, usual: T): T => {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? '{}') as Record<string, unknown>;
    const fields = Object.entries(usual).map(([key, value]) => [
      key,
      kindOf(kept[key]) === kindOf(value) ? kept[key] : value,
    ]);
    return Object.fromEntries(fields) as T;
  } catch {
    return usual;
  }
};

/** A value that outlives a reload of the page on this device. */
export const keptSignal = <T extends object>(place: string, usual: T): Signal<T> => {
  const kept = signal(read(place, usual));
  effect(() => {
    try {
      localStorage.setItem(place, JSON.stringify(kept.value));
    } catch {
      // A browser that keeps nothing shows the page all the same.
    }
  });
  return kept;
};
