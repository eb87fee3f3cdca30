import { z } from 'zod';
import { accountRoles, phraseParams } from './common.ts';

export const sessionSchema = z.strictObject({
  access: z.enum(['open', 'accounts']),
  account: z
    .strictObject({ id: z.string(), name: z.string(), roles: accountRoles, may: accountRoles })
    .exactOptional(),
  csrf: z.string(),
  withoutTls: z.boolean(),
  site: z.string(),
  title: z.string(),
  tool: z.string(),
});

export const signInSchema = z.strictObject({
  id: z.string().min(1).max(120),
  password: z.string().max(1_024),
});

export const troubleSchema = z.strictObject({
  code: z.string(),
  message: z.string(),
  params: phraseParams.exactOptional(),
});
