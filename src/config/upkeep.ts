import type { Upkeep } from '../rulebook/index.ts';
import { at, type Look, listOf } from './look.ts';
import type { Draft } from './machines.ts';
import { fraction, micros } from './quantities.ts';

/** More than this is no grace but another interval. Common practice, no source. */
const MOST_GRACE = 0.25;

/** A name that comes twice says nothing more; what is checked of an interlock's upkeep before a machine is known. */
export const checkUpkeep = (look: Look): void => {
  const { proof } = look.text;
  const names = listOf(look.text['depends-on']);
  if (micros(proof?.every, undefined) === 0)
    look.tell(at(look, 'proof', 'every'), 'not-positive', { key: 'every' });
  if (fraction(proof?.grace, 0) > MOST_GRACE)
    look.warn(at(look, 'proof', 'grace'), 'grace-long', { most: MOST_GRACE * 100 });
  if (proof?.methods?.length === 0) look.tell(at(look, 'proof', 'methods'), 'empty-list', { key: 'methods' });
  names.forEach((name, index) => {
    const path = typeof look.text['depends-on'] === 'string' ? ['depends-on'] : ['depends-on', index];
    if (names.indexOf(name) < index) look.tell(at(look, ...path), 'name-repeats', { name });
  });
};

const said = (texts: Readonly<Record<string, string | undefined>>): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.entries(texts).flatMap(([key, text]) => (text === undefined ? [] : [[key, text]])),
  );

/** What the pack says for the interlock, with what the machine says for all of its own. */
export const upkeepOf = (look: Look, draft: Draft): Upkeep | undefined => {
  const { proof, device } = look.text;
  const dependsOn = [...new Set([...listOf(draft.text['depends-on']), ...listOf(look.text['depends-on'])])];
  const every = micros(proof?.every, undefined);
  if (every === undefined && dependsOn.length === 0 && device === undefined) return undefined;
  const methods = listOf(proof?.methods);
  return {
    ...(every !== undefined && {
      proof: { every, grace: fraction(proof?.grace, 0), ...(methods.length > 0 && { methods }) },
    }),
    dependsOn,
    ...(device !== undefined && { device: said(device) }),
  };
};
