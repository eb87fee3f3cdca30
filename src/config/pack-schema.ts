import { z } from 'zod';
import { QUANTITY_KINDS, type QuantityKind } from '../measure/index.ts';
import { DERIVATION } from './derivation-schema.ts';
import { anyQuantity, condition, level, name, quantity, reduction, text, word } from './leaves.ts';
import { UPKEEP } from './upkeep-schema.ts';

/** What a signal is for at its machine. */
export const PURPOSES = [
  'measurement',
  'contact',
  'command',
  'feedback',
  'alarm',
  'trip',
  'motion',
  'reset',
  'start',
  'stop',
  'bypass',
  'force',
  'silence',
  'raw',
  'constant',
  'heartbeat',
  'revision',
] as const;

const Kind = z.enum(QUANTITY_KINDS as readonly [QuantityKind, ...QuantityKind[]]);

const RoleFile = z.strictObject({
  quantity: z.union([Kind, z.array(Kind)]).optional(),
  states: z.array(word('Name of a state, the resting one first.')).optional(),
  ...DERIVATION,
  purpose: z
    .enum(PURPOSES)
    .optional()
    .describe('What it is for. Must be there, except for what is worked out from others.'),
  mirrors: name('Role that shows what the program makes of this raw input: they must agree.').optional(),
  optional: z.boolean().optional(),
});

const time = () => quantity('time');

const SingleFile = z.strictObject({
  signal: name('Role.').optional(),
  below: level('normal', 'Acts below this level.').optional(),
  above: level('normal', 'Acts above this level.').optional(),
  'reduced-by': reduction().optional(),
  tolerance: level('normal', 'Band around the set point, to each side.').optional(),
  clears: level('normal', 'Beyond this level the cause is certainly gone.').optional(),
  is: word('State of a contact that is the cause.').optional(),
  'no-pulses-for': time().optional(),
  between: z
    .array(level('normal', 'Edge of the band.'))
    .optional()
    .describe('Held between two levels, the one nearer to normal first.'),
  hold: time().optional().describe('How long it must be held between them.'),
  'sensor-fault': z.literal(true).optional().describe('Wire-break, short circuit, a fault code.'),
  'silent-for': time().optional().describe('No news of the signal, whatever the reason.'),
  'stuck-for': time().optional().describe('A value that should move changes by no more than "within".'),
  within: anyQuantity().optional(),
  restarts: z.literal(true).optional().describe('A count of life begins anew.'),
});

export type SingleText = z.infer<typeof SingleFile>;
type GroupKey = 'any-of' | 'all-of' | '2-of' | '3-of' | '4-of';
export type CauseText = SingleText & { [K in GroupKey]?: CauseText[] | undefined };
type CausesFile = z.ZodOptional<z.ZodArray<z.ZodType<CauseText>>>;

const CauseFile = z.strictObject({
  ...SingleFile.shape,
  get 'any-of'(): CausesFile {
    return causes('At least one of these causes.');
  },
  get 'all-of'(): CausesFile {
    return causes('All of these causes at once.');
  },
  get '2-of'(): CausesFile {
    return causes('At least two of these causes at once.');
  },
  get '3-of'(): CausesFile {
    return causes('At least three of these causes at once.');
  },
  get '4-of'(): CausesFile {
    return causes('At least four of these causes at once.');
  },
});

const causes = (what: string): CausesFile => z.array(CauseFile).optional().describe(what);

const DelayFile = z.strictObject({
  time: time(),
  tolerance: time(),
  'on-return': z.enum(['resets', 'accumulates']).optional(),
});

const LimitFile = z.strictObject({
  'no-lower-than': level(undefined, 'The trip must come no lower.').optional(),
  'no-higher-than': level(undefined, 'The trip must come no higher.').optional(),
  basis: text('The law, standard or analysis that sets it.'),
  inclusive: z.boolean().optional().describe('Equality is inside; true where nothing is said.'),
  'judged-at': z.enum(['level', 'effect']).optional(),
});

const ReleaseFile = z.strictObject({
  at: level('normal', 'Level at which the effects go away again.'),
  tolerance: level('normal', 'Band around it, to each side.'),
});

const RepeatFile = z.strictObject({
  trials: z.int().min(2).max(100).describe('So many trials …'),
  within: level('normal', '… with trip points no farther apart than this.'),
});

const DecisionFile = z.union([
  z.enum(['bounds', 'simple']),
  z.strictObject({
    'guard-band': z.number().min(0).max(10).describe('Limits are drawn in by this times the uncertainty.'),
  }),
]);

const ArmedFile = z.strictObject({
  when: z.union([condition(), z.array(condition())]).optional(),
  after: time().optional(),
});

const EffectFile = z.strictObject({
  signal: name(
    'Role, or feeder.ROLE of every machine that feeds this one, or receiver.ROLE of those it feeds.',
  ),
  becomes: word('State, or below / above a level.').optional(),
  stays: word('State that must not change.').optional(),
  within: time().optional().describe('By when, counted from the cause reaching its set point.'),
  for: time().optional().describe('How long it must stay.'),
  'not-before': time().optional(),
  after: z
    .union([name('Effect that must come first.'), z.array(name('Effect that must come first.'))])
    .optional(),
  until: z.enum(['reset', 'cause-clears']).optional(),
  via: z.enum(['cascade']).optional(),
  class: z.enum(['alarm', 'trip', 'command', 'feedback', 'motion', 'feed']).optional(),
});

const InterlockFile = z.strictObject({
  hazard: text('What it protects from.'),
  title: text('For people.').optional(),
  needs: z
    .union([name('Role.'), z.array(name('Role.'))])
    .optional()
    .describe('Left out where nothing is bound to these roles.'),
  'on-request': z
    .boolean()
    .optional()
    .describe('Only for machines that name it under "also": not every machine is built to do it.'),
  cause: CauseFile,
  delay: DelayFile.optional(),
  limit: LimitFile.optional(),
  release: ReleaseFile.optional(),
  repeat: RepeatFile.optional(),
  decision: DecisionFile.optional().describe('How a measured interval is held against an allowed one.'),
  armed: ArmedFile.optional(),
  effects: z.array(EffectFile),
  baseline: time().optional(),
  dwell: time().optional(),
  'process-safety-time': time()
    .optional()
    .describe('From the deviation to the harm if nothing acted: what protects must come sooner.'),
  ...UPKEEP,
});

export const PackFile = z.strictObject({
  kind: name('Kind of machine.'),
  title: text('For people.').optional(),
  roles: z.record(z.string(), RoleFile),
  interlocks: z.record(z.string(), InterlockFile).optional(),
});

export type EffectText = z.infer<typeof EffectFile>;
export type InterlockText = z.infer<typeof InterlockFile>;
export type PackText = z.infer<typeof PackFile>;
