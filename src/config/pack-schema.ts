import { z } from 'zod';
import { QUANTITY_KINDS, type QuantityKind } from '../measure/index.ts';
import { condition, level, name, quantity, reduction, text, word } from './leaves.ts';

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
  'heartbeat',
  'revision',
] as const;

const Kind = z.enum(QUANTITY_KINDS as readonly [QuantityKind, ...QuantityKind[]]);

const RoleFile = z.strictObject({
  quantity: z.union([Kind, z.array(Kind)]).optional(),
  states: z.array(word('Name of a state, the resting one first.')).optional(),
  purpose: z.enum(PURPOSES),
  optional: z.boolean().optional(),
});

const time = () => quantity('time');

const CauseFile = z.strictObject({
  signal: name('Role.'),
  below: level('normal', 'Acts below this level.').optional(),
  above: level('normal', 'Acts above this level.').optional(),
  'reduced-by': reduction().optional(),
  tolerance: level('normal', 'Band around the set point, to each side.').optional(),
  clears: level('normal', 'Beyond this level the cause is certainly gone.').optional(),
  is: word('State of a contact that is the cause.').optional(),
  'no-pulses-for': time().optional(),
});

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
  within: time(),
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
  cause: CauseFile,
  delay: DelayFile.optional(),
  limit: LimitFile.optional(),
  armed: ArmedFile.optional(),
  effects: z.array(EffectFile),
  baseline: time().optional(),
  dwell: time().optional(),
});

export const PackFile = z.strictObject({
  kind: name('Kind of machine.'),
  title: text('For people.').optional(),
  roles: z.record(z.string(), RoleFile),
  interlocks: z.record(z.string(), InterlockFile).optional(),
});

export type CauseText = z.infer<typeof CauseFile>;
export type EffectText = z.infer<typeof EffectFile>;
export type InterlockText = z.infer<typeof InterlockFile>;
export type PackText = z.infer<typeof PackFile>;
