import { z } from 'zod';
import { RESTORATIONS } from '../guide/index.ts';

/** As typed. Left out, it is the account that is signed in. */
const by = z.string().min(1).max(120).optional();
const interlock = z.string().min(1).max(200);
const said = { by, interlock };

/** Longest and usual time from the beginning of a countdown to NOW, seconds. */
const LONGEST = 60;
const USUAL = 5;

/** A step on the way through a guided window, as whoever makes it says it. */
export const stepSchema = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('identified'),
    ...said,
    typed: z.string().min(1).max(200),
    how: z.enum(['typed', 'scanned']).default('typed'),
  }),
  z.strictObject({ do: z.literal('watch-began'), ...said }),
  z.strictObject({ do: z.literal('watch-ended'), ...said }),
  z.strictObject({ do: z.literal('called'), ...said }),
  z.strictObject({ do: z.literal('repeated-back'), ...said }),
  z.strictObject({
    do: z.literal('countdown'),
    ...said,
    seconds: z.number().min(1).max(LONGEST).default(USUAL),
  }),
  z.strictObject({ do: z.literal('countdown-stopped'), ...said }),
  z.strictObject({ do: z.literal('left'), ...said, why: z.string().min(1).max(2_000) }),
  z.strictObject({ do: z.literal('taken-up'), ...said }),
  z.strictObject({
    do: z.literal('restored'),
    by,
    item: z.enum(RESTORATIONS),
    note: z.string().max(2_000).default(''),
  }),
]);

export type StepAsked = z.infer<typeof stepSchema>;
export type StepRequest = z.input<typeof stepSchema>;
