import { z } from 'zod';
import { OUTCOMES } from '../../measure/index.ts';
import { createNames } from '../register/names.ts';
import type { Entry } from '../types.ts';

/**
 * One trial of an interlock, counted over the whole log. Nothing takes an attempt away: as-found is the first that
 * reached the trip region in its window, and what came later is a later attempt.
 */
export interface Attempt {
  /** From 1, by interlock, over all windows and demands. */
  readonly attempt: number;
  readonly entry: number;
  readonly utc: string;
  readonly window: string;
  /** Its number in the window. */
  readonly trial: number;
  readonly outcome: (typeof OUTCOMES)[number];
  readonly standing: string;
  readonly asFound: boolean;
  /** A real trip, not a test. */
  readonly demand: boolean;
}

const trialSchema = z.looseObject({
  kind: z.literal('trial'),
  interlock: z.int(),
  trial: z.int(),
  demand: z.boolean().optional(),
  verdict: z.looseObject({
    outcome: z.enum(OUTCOMES),
    standing: z.string(),
    asFound: z.boolean(),
  }),
});

/** Every attempt by name of the interlock, in the order of the log. */
export const attemptsOf = (entries: Iterable<Entry>): ReadonlyMap<string, readonly Attempt[]> => {
  const names = createNames();
  const found = new Map<string, Attempt[]>();
  const demands = new Set<string>();
  for (const entry of entries) {
    names.take(entry);
    if (entry.kind === 'window-opened' && entry.body['demand'] === true) demands.add(entry.subject);
    const read = entry.kind === 'finding' ? trialSchema.safeParse(entry.body['finding']) : undefined;
    if (!read?.success) continue;
    const { interlock, trial, demand, verdict } = read.data;
    const name = names.interlock(entry, interlock);
    const own = found.get(name) ?? [];
    found.set(name, own);
    const { seq, utc, subject: window } = entry;
    const { outcome, standing, asFound } = verdict;
    const isDemand = demand === true || demands.has(window);
    own.push({
      attempt: own.length + 1,
      entry: seq,
      utc,
      window,
      trial,
      outcome,
      standing,
      asFound,
      demand: isDemand,
    });
  }
  return found;
};
