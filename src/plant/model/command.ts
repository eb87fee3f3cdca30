import { z } from 'zod';

const machine = z.enum(['E1', 'C2']);
const held = z.number().positive().max(600).optional();
const rate = z.number().positive().max(1_000);
const percent = z.number().min(0).max(300);

/**
 * What hands do at the machine, one JSON object each. Percent are of the pulses that the injector took as normal,
 * rates are per second, temperatures degC, belt offsets mm, `seconds` how long a button is held, a bypass lasts (8 h) or
 * the controller is without power (1 s).
 */
export const HAND_COMMAND = z.discriminatedUnion('do', [
  z.strictObject({ do: z.enum(['start', 'stop']), machine: z.enum(['E1', 'C2', 'F1']), seconds: held }),
  z.strictObject({ do: z.enum(['reset', 'learn', 'silence', 'warned-start']), machine, seconds: held }),
  z.strictObject({ do: z.literal('block'), machine, target: z.enum(['none', 'one', 'all']) }),
  z.strictObject({ do: z.literal('injector'), machine, mode: z.enum(['off', 'taking', 'injecting']) }),
  z.strictObject({ do: z.literal('step'), machine, percent }),
  z.strictObject({ do: z.literal('ramp'), machine, percent, rate }),
  z.strictObject({ do: z.literal('hold'), machine }),
  z.strictObject({ do: z.enum(['probe-out', 'probe-in']), machine }),
  z.strictObject({ do: z.literal('heat'), machine, to: z.number().min(-40).max(400), rate }),
  z.strictObject({ do: z.literal('screw'), machine, turned: z.boolean() }),
  z.strictObject({ do: z.literal('wander'), machine, to: z.number().min(-60).max(60), rate }),
  z.strictObject({ do: z.literal('wire'), machine, broken: z.boolean() }),
  z.strictObject({ do: z.literal('slip'), machine, share: z.number().min(0).max(1) }),
  z.strictObject({
    do: z.literal('bypass'),
    machine,
    on: z.boolean(),
    seconds: z.number().min(1).max(43_200).optional(),
  }),
  z.strictObject({ do: z.literal('force'), machine, on: z.boolean() }),
  z.strictObject({ do: z.literal('probe-wire'), machine, broken: z.boolean() }),
  z.strictObject({ do: z.literal('link'), machine, cut: z.boolean() }),
  z.strictObject({ do: z.literal('power-cycle'), seconds: held }),
  /** `none` puts the right program back. */
  z.strictObject({ do: z.literal('program-change'), fault: z.string() }),
  z.strictObject({ do: z.literal('state') }),
]);

export type HandCommand = z.infer<typeof HAND_COMMAND>;

export type HandAnswer =
  | {
      readonly ok: true;
      /** Only for `state`: what the controller shows, by signal, and what is really so. */
      readonly state?: Readonly<Record<string, number>>;
      readonly truth?: Readonly<Record<string, number>>;
    }
  | { readonly ok: false; readonly error: string };

/** Anything to a command, or what is wrong with it. */
export const readHand = (given: unknown): { command: HandCommand } | { error: string } => {
  const read = HAND_COMMAND.safeParse(given);
  if (read.success) return { command: read.data };
  const faults = read.error.issues.map(({ path, message }) => `${path.join('.') || 'command'}: ${message}`);
  return { error: faults.join('; ') };
};
