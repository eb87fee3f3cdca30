import type { SigningNow } from '../api/index.ts';
import { hung } from './hung.ts';

const stateOf = ({ state, since }: SigningNow['signatures'][number]): string => {
  if (state === 'differs') return 'DOES NOT MATCH what stands there';
  if (state === 'unreadable') return 'is no signature as this program writes it';
  if (state === 'whole') return 'covers all of the window';
  const more = Object.entries(since).map(([kind, count]) => `${count} × ${kind}`);
  return `does not cover what was entered since: ${more.join(', ')}`;
};

/** Signatures of a window for people: who, when, what it says, whether it still covers all. */
export const signingLines = ({ signatures, demanded, missing, notIndependent }: SigningNow): string[] => [
  ...signatures.flatMap((one) => {
    const alone = notIndependent.includes(one.entry) ? '; NOT INDEPENDENT: took part in the test' : '';
    return hung(
      `${one.utc.slice(0, 19)}Z ${one.meaning} by ${one.person.name} (${one.person.id}): ${stateOf(one)}${alone}`,
      '',
      '  ',
    );
  }),
  ...(signatures.length === 0 ? ['not signed'] : []),
  ...(demanded.length === 0 ? [] : [`the site asks for: ${demanded.join(', ')}`]),
  ...(missing.length === 0 ? [] : [`MISSING: ${missing.join(', ')}`]),
];
