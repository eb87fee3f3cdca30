import { z } from 'zod';

const said = { by: z.string(), interlock: z.string() };

/**
 * What people did on their way through a guided window; `watch-ended` is entered by the daemon, with what moved. Loose: a
 * newer version only adds.
 */
const stepSchema = z.discriminatedUnion('do', [
  z.looseObject({
    do: z.literal('identified'),
    ...said,
    typed: z.string(),
    how: z.enum(['typed', 'scanned']),
    matches: z.boolean(),
  }),
  z.looseObject({ do: z.literal('watch-began'), ...said }),
  z.looseObject({
    do: z.literal('watch-ended'),
    ...said,
    moved: z.array(z.string()),
    alone: z.boolean(),
    why: z.string().optional(),
  }),
  z.looseObject({ do: z.literal('called'), ...said }),
  z.looseObject({ do: z.literal('repeated-back'), ...said }),
  z.looseObject({ do: z.literal('countdown'), ...said, at: z.string() }),
  z.looseObject({ do: z.literal('countdown-stopped'), ...said, why: z.string().optional() }),
  z.looseObject({ do: z.literal('left'), ...said, why: z.string() }),
  z.looseObject({ do: z.literal('taken-up'), ...said }),
  z.looseObject({ do: z.literal('restored'), by: z.string(), item: z.string(), note: z.string() }),
]);

export const stepBodySchema = z.looseObject({ step: stepSchema });
