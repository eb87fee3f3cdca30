import { ACQUISITION } from './acquisition.ts';
import { EFFECTS, LEVELS } from './aspects.ts';
import { ATTRIBUTION, STANDING } from './attribution.ts';
import { CONNECTING } from './connecting.ts';
import { CONTRADICTIONS } from './contradictions.ts';
import { AUDITED, BREAKS, DAMAGE, KEYS } from './damage.ts';
import { OPC_UA } from './opcua.ts';
import { PAPERWORK } from './paperwork.ts';
import { PLANNING } from './planning.ts';
import { PROBING } from './probing.ts';
import { DRIFT, GAPS, PROOFS, SCOPE } from './proofs.ts';
import { MUTATIONS, REHEARSAL } from './rehearsal.ts';
import { SPREADSHEET } from './spreadsheet.ts';
import { EVENTS, WAITS } from './waits.ts';

/** Languages in which the texts exist. */
export const LANGUAGES = ['en'] as const;
export type Language = (typeof LANGUAGES)[number];

/**
 * Texts by code. `{name}` is a parameter, `{name:kind}` one shown as the kind says (see `show`);
 * a part in square brackets is left out where one of its parameters is missing, empty or 0, and `[~name|part]` where
 * the parameter is there.
 */
export const CATALOGUE: Readonly<Record<Language, Readonly<Record<string, string>>>> = {
  en: {
    ...WAITS,
    ...EVENTS,
    ...LEVELS,
    ...EFFECTS,
    ...ATTRIBUTION,
    ...STANDING,
    ...CONTRADICTIONS,
    ...PLANNING,
    ...DAMAGE,
    ...KEYS,
    ...BREAKS,
    ...AUDITED,
    ...REHEARSAL,
    ...MUTATIONS,
    ...PROBING,
    ...PROOFS,
    ...GAPS,
    ...SCOPE,
    ...DRIFT,
    ...ACQUISITION,
    ...CONNECTING,
    ...OPC_UA,
    ...SPREADSHEET,
    ...PAPERWORK,
  },
};
