import { z } from 'zod';
import { quantity, text, word } from './leaves.ts';
import { MARK_METHODS } from './marks-schema.ts';

const METHODS = MARK_METHODS.filter((method) => method !== 'unstated');

const ProofFile = z.strictObject({
  every: quantity('time').describe('From one passed test to the next at most, such as 90 d.'),
  grace: quantity('ratio').optional().describe('Share of it by which a test may be late; none where unsaid.'),
  methods: z
    .array(z.enum(METHODS))
    .optional()
    .describe('Only tests made in one of these ways count; every way where nothing is said.'),
});

const DeviceFile = z.strictObject({
  tag: word('Tag of the device, as on drawings.').optional(),
  serial: word('Serial number.').optional(),
  location: text('Where it is.').optional(),
});

/** Routines, timers, cards: whatever a change may be named by. */
export const dependsOn = () =>
  z
    .union([text('A name.'), z.array(text('A name.'))])
    .optional()
    .describe('Tags, routines, timers, cards: what a change would be named by.');

/** What an interlock needs so that it stays proved. It decides no verdict. */
export const UPKEEP = {
  proof: ProofFile.optional().describe('How often it is to be proved.'),
  'depends-on': dependsOn(),
  device: DeviceFile.optional().describe('The device at the beginning of its chain.'),
};
