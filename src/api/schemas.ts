import { z } from 'zod';
import { PRECAUTIONS } from '../guide/index.ts';
import { ATTESTATIONS, METHODS } from '../judge/index.ts';
import { WINDOW_ROLES } from '../record/index.ts';

/** One interlock to exercise, and how its cause will be made to move. */
export const stimulusSchema = z.strictObject({ interlock: z.string().min(1), method: z.enum(METHODS) });

export const personSchema = z.strictObject({
  name: z.string().min(1).max(120),
  role: z.enum(WINDOW_ROLES),
});

export const openWindowSchema = z.strictObject({
  stimuli: z.array(stimulusSchema).min(1),
  people: z.array(personSchema).default([]),
  note: z.string().max(2_000).default(''),
  /** Program revision as typed in, by machine, where the controller shows none. */
  revisions: z.record(z.string(), z.string().max(200)).default({}),
  /** People are led through it step by step; it then needs all that follows, and goes on when the daemon was away. */
  guided: z.boolean().default(false),
  /** Under which permit; or `none needed: why`. */
  permit: z.string().max(2_000).default(''),
  precautions: z.array(z.enum(PRECAUTIONS)).default([]),
});

/** As typed. Left out, it is the account that is signed in; another name than that one's is refused. */
const by = z.string().min(1).max(120).optional();
const text = z.string().max(2_000).default('');

/** What people say and do during a window. */
export const markSchema = z.discriminatedUnion('code', [
  z.strictObject({ code: z.literal('now'), by, text }),
  z.strictObject({
    code: z.literal('attested'),
    by,
    machine: z.string(),
    what: z.enum(ATTESTATIONS),
    /** From where it was seen or heard. */
    where: z.string().max(200).optional(),
  }),
  z.strictObject({
    code: z.literal('observed'),
    by,
    interlock: z.string(),
    /** What the instrument showed when the interlock acted, and how far that may be from the truth, with units. */
    value: z.string().max(60),
    doubt: z.string().max(60),
    instrument: z.string().min(1).max(200),
  }),
  z.strictObject({ code: z.literal('adjusted'), by, interlock: z.string(), text }),
  z.strictObject({ code: z.literal('trial-aborted'), by, interlock: z.string(), text }),
  z.strictObject({ code: z.literal('bypassed'), by, interlock: z.string(), text }),
]);

export const closeSchema = z.strictObject({ by: z.string().max(120).optional() });

export type OpenWindow = z.input<typeof openWindowSchema>;
export type MarkRequest = z.input<typeof markSchema>;
