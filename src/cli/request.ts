import { type Entering, enteringFaults, enteringSchema } from '../api/index.ts';
import { EXIT, Stop } from './io.ts';

/** What was asked for, by the same schema that the daemon uses; says which option is wrong. Never repeats a value. */
export const requestOf = (asked: Readonly<Record<string, unknown>>): Entering => {
  const parsed = enteringSchema.safeParse(asked);
  if (parsed.success) return parsed.data;
  throw new Stop(`this cannot be entered: ${enteringFaults(parsed.error)}`, { exit: EXIT.usage });
};
