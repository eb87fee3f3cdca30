import { CONNECTING } from './connecting.ts';
import { AUDITED, BREAKS, DAMAGE, KEYS } from './damage.ts';
import { OPC_UA } from './opcua.ts';
import { PROBING } from './probing.ts';
import { MUTATIONS, REHEARSAL } from './rehearsal.ts';
import { SPREADSHEET } from './spreadsheet.ts';

/** Sentences that only the command line shows: in English alone. Written as those of `en/texts`. */
export const TERMINAL: Readonly<Record<string, string>> = {
  ...DAMAGE,
  ...KEYS,
  ...BREAKS,
  ...AUDITED,
  ...REHEARSAL,
  ...MUTATIONS,
  ...PROBING,
  ...CONNECTING,
  ...OPC_UA,
  ...SPREADSHEET,
};
