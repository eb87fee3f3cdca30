import { type EnteringOptions, enterIn, toldEntered } from './entering.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { knownAs, type WhoOptions, whoOf } from './password.ts';
import { requestOf } from './request.ts';

export interface SignOptions extends EnteringOptions, WhoOptions {
  readonly as: string;
  readonly meaning: string;
}

/** Signs for a window by password. */
export const signCommand = async (log: string, window: string, options: SignOptions): Promise<number> => {
  const { as, meaning } = options;
  const asked = { do: 'sign', window, meaning };
  // What is misspelt is told before a password is asked for.
  requestOf({ ...asked, who: { as, password: '' } });
  const who = await knownAs(as, options);
  const entered = await enterIn(log, requestOf({ ...asked, who }), options);
  return toldEntered(entered, options, `${window} is signed as ${meaning} by ${entered.actor}`);
};

export interface AmendOptions extends EnteringOptions, WhoOptions {
  readonly entry: string;
  readonly field: string;
  readonly becomes: string;
  readonly reason: string;
}

/** Corrects what people wrote; the old text stays to be seen. */
export const amendCommand = async (log: string, window: string, options: AmendOptions): Promise<number> => {
  const { entry, field, becomes, reason } = options;
  const asked = { do: 'amend', window, entry: Number(entry), field, becomes, reason };
  const entered = await enterIn(log, requestOf({ ...asked, who: await whoOf(options) }), options);
  if (options.json) return toldEntered(entered, options, '');
  const { was } = entered.body as { was?: unknown };
  out(`entry ${entered.entry} corrects ${field} of entry ${entry}`);
  for (const line of [
    ...hung(String(was), '  was  '),
    ...hung(becomes, '  now  '),
    ...hung(reason, '  why  '),
  ])
    out(line);
  return EXIT.ok;
};

/** What a window's signatures say, and what is missing. */
export const signingCommand = async (
  log: string,
  window: string,
  options: { readonly json: boolean },
): Promise<number> => {
  const { lookAt } = await import('../daemon/index.ts');
  const signing = lookAt(log, { ask: 'signing', window });
  if (signing === undefined) throw new Stop(`there is no window ${window} in ${log}`, { exit: EXIT.usage });
  const { signingLines } = await import('./signing-lines.ts');
  if (options.json) json(signing);
  else for (const line of signingLines(signing)) out(line);
  const isWhole = signing.signatures.every(({ state }) => state !== 'differs' && state !== 'unreadable');
  if (!isWhole) return EXIT.fail;
  return signing.missing.length === 0 ? EXIT.ok : EXIT.undecided;
};
