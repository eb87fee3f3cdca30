import { z } from 'zod';
import { anyQuantity, name, text } from './leaves.ts';

/** How a cause was made to move; the same words as the judge's. */
export const MARK_METHODS = [
  'real',
  'blocked',
  'injected',
  'heated',
  'displaced',
  'forced',
  'unstated',
] as const;
/** What a person can state in place of a signal; the same words as the judge's. */
export const MARK_ATTESTATIONS = ['horn-heard', 'motion-stopped', 'feed-stopped', 'no-stop-pressed'] as const;

const time = () =>
  z.union([z.string(), z.number()]).describe('RFC 3339 with an offset, or seconds as in the trace.');
const by = () => text('Who.');
const interlock = () => name('MACHINE.INTERLOCK');

const bound = (what: string) => anyQuantity().optional().describe(what);

const MarkFile = z.discriminatedUnion('mark', [
  z.strictObject({
    at: time(),
    mark: z.literal('window-opened'),
    window: name('Name of the window.').optional(),
    stimuli: z.record(z.string(), z.enum(MARK_METHODS)),
  }),
  z.strictObject({ at: time(), mark: z.literal('window-closed') }),
  z.strictObject({ at: time(), mark: z.literal('now'), by: by(), text: text('What was seen.') }),
  z.strictObject({
    at: time(),
    mark: z.literal('attested'),
    by: by(),
    machine: name('Machine.'),
    what: z.enum(MARK_ATTESTATIONS),
    where: text('From where it was seen or heard.').optional(),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('observed'),
    by: by(),
    interlock: interlock(),
    value: bound('What the instrument at the sensor showed when the interlock acted, with its unit.'),
    doubt: bound('How far it can be from the truth, to each side.'),
    low: bound('Instead of value and doubt: the least …'),
    high: bound('… and the most that it can have been.'),
    instrument: text('Which instrument.'),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('earlier-normal'),
    interlock: interlock(),
    low: bound('The least …'),
    high: bound('… and the most that normal was, when the interlock last passed.'),
    window: name('Name of that window.'),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('adjusted'),
    by: by(),
    interlock: interlock(),
    text: text('What.'),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('trial-aborted'),
    by: by(),
    interlock: interlock(),
    text: text('Why.'),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('bypassed'),
    by: by(),
    interlock: interlock(),
    text: text('How.'),
  }),
  z.strictObject({
    at: time(),
    mark: z.literal('revision'),
    machine: name('Machine.'),
    text: text('Identity of the program.'),
    quality: z.enum(['tag', 'typed']).optional(),
  }),
]);

export const MarksFile = z.strictObject({ marks: z.array(MarkFile) });
export type MarkText = z.infer<typeof MarkFile>;
