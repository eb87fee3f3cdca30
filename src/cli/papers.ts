import type { SignedShort } from '../daemon/index.ts';
import type { SignatureState } from '../record/index.ts';
import type { PapersReport } from '../report/index.ts';
import { type EnteringOptions, enterIn, toldEntered } from './entering.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { knownAs, type WhoOptions, whoOf } from './password.ts';
import { requestOf } from './request.ts';

const STATES: Readonly<Record<SignatureState, string>> = {
  whole: '',
  since: 'more was entered since',
  differs: 'DOES NOT MATCH',
  unreadable: 'is none',
};

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

const shortLine = ({ window, opened, signatures, missing, amendments, transcribed }: SignedShort): string => {
  const signed = signatures.map(
    ({ meaning, name, state }) => `${meaning} by ${name}${state === 'whole' ? '' : ` (${STATES[state]})`}`,
  );
  const more = [
    ...(amendments > 0 ? [amendments === 1 ? '1 correction' : `${amendments} corrections`] : []),
    ...(transcribed > 0 ? [`${transcribed} sheets`] : []),
    ...(missing.length > 0 ? [`MISSING: ${missing.join(', ')}`] : []),
  ];
  const all = [...(signed.length === 0 ? ['not signed'] : signed), ...more].join('; ');
  return `${window}  ${opened.slice(0, 16).replace('T', ' ')}  ${all}`;
};

const isSound = (signatures: readonly { readonly state: SignatureState }[]): boolean =>
  signatures.every(({ state }) => state !== 'differs' && state !== 'unreadable');

const listPapers = async (log: string, asJson: boolean): Promise<number> => {
  const { lookAt } = await import('../daemon/index.ts');
  const all = lookAt(log, { ask: 'signed' });
  if (asJson) json(all);
  else if (all.length === 0) out('There is no window and no sheet yet.');
  else for (const one of all) out(hung(shortLine(one), '', '  ').join('\n'));
  return all.every(({ signatures }) => isSound(signatures)) ? EXIT.ok : EXIT.fail;
};

const sheetLines = (sheet: PapersReport['transcribed'][number]): string[] => [
  ...hung(
    `transcribed (entry ${sheet.entry}): sheet ${sheet.sheet}, filled in by ${sheet.by}, ${sheet.on}; entered by ${sheet.enteredBy}, ${sheet.utc.slice(0, 19)}Z`,
    '',
    '  ',
  ),
  ...Object.entries(sheet.values).flatMap(([name, value]) => hung(`${name}: ${value}`, '    ', '      ')),
];

/**
 * What people signed, corrected, attested and copied in on one window or sheet, or a line for each. Exit 1 where a
 * signature does not match, 2 where one is missing that the site demands.
 */
export const papersCommand = async (
  log: string,
  window: string | undefined,
  options: { readonly json: boolean },
): Promise<number> => {
  if (window === undefined) return listPapers(log, options.json);
  const { lookAt } = await import('../daemon/index.ts');
  const papers = lookAt(log, { ask: 'papers', window });
  if (papers === undefined)
    throw new Stop(`there is no window or sheet ${window} in ${log}; "papers ${log}" lists them`, {
      exit: EXIT.usage,
    });
  const { peopleSentences } = await import('../report/index.ts');
  if (options.json) json(papers);
  else {
    if (papers.signing.signatures.length === 0) out('not signed');
    for (const one of peopleSentences({ papers: { ...papers, transcribed: [] } }))
      out(hung(one, '', '  ').join('\n'));
    for (const sheet of papers.transcribed) out(sheetLines(sheet).join('\n'));
  }
  if (!isSound(papers.signing.signatures)) return EXIT.fail;
  return papers.signing.missing.length === 0 ? EXIT.ok : EXIT.undecided;
};
