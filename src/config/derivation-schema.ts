import { z } from 'zod';
import { name, quantity } from './leaves.ts';

const time = () => quantity('time');
const inputs = (what: string) => z.array(name('Role, or tag of the site.')).optional().describe(what);

/** How a signal is worked out from others; the same keys in a role of a pack and in a tag of a site. */
export const DERIVATION = {
  difference: inputs('The first less the second.'),
  ratio: inputs('The first in percent of the second; each of its nameplate, where both have one.'),
  slip: inputs('Percent by which the second shaft (driven) lags behind the first (driving).'),
  gear: z
    .number()
    .optional()
    .describe('Turns of the driving shaft for one of the driven; from the nameplates where nothing is said.'),
  rate: name('Role or tag whose change is taken.').optional(),
  over: time().optional().describe('The change over this long …'),
  per: time().optional().describe('… told for this long; 1 min where nothing is said.'),
  mean: inputs('Of all of them.'),
  rank: z.int().min(1).optional().describe('1: the highest of them, 2: the second highest …'),
  of: inputs('What the rank is taken from.'),
  spread: inputs('The highest less the lowest.'),
} as const;

const DerivationFile = z.strictObject(DERIVATION);
export type DerivationFields = z.infer<typeof DerivationFile>;
