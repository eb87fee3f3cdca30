import { z } from 'zod';
import { METHODS } from '../../judge/index.ts';
import { ABSENCES, type Absence, OUTCOMES, type Phrase, SEGMENTS } from '../../measure/index.ts';
import { ACCOUNT_ROLES } from '../../record/index.ts';

/** Parts that several answers are made of. Strict: what is not described is not answered. */
export const interval = z.strictObject({ low: z.number(), high: z.number() });
export const outcome = z.enum(OUTCOMES);
export const segment = z.enum(SEGMENTS);
export const method = z.enum(METHODS);
export const absence = z.enum(ABSENCES.filter((one): one is Absence => one !== ''));
export const standing = z.enum(['open', 'closed', 'interrupted']);
export const accountRoles = z.array(z.enum(ACCOUNT_ROLES));
export const params = z.record(z.string(), z.union([z.number(), z.string(), interval, z.array(z.string())]));

/** A code with what belongs to it; its sentence is made by whoever shows it. */
export const reason = z.strictObject({ code: z.string(), params });

/** The same, where a parameter may be a phrase of its own, or a list of them. */
export const phrase: z.ZodType<Phrase> = z
  .strictObject({
    code: z.string(),
    get params(): z.ZodType<Phrase['params']> {
      return phraseParams;
    },
  })
  .meta({ id: 'Phrase' });

export const phraseParams: z.ZodType<Phrase['params']> = z.record(
  z.string(),
  z.union([z.number(), z.string(), interval, z.array(z.string()), phrase, z.array(phrase)]),
);
export const told = z.strictObject({ code: z.string(), params: phraseParams, text: z.string() });
