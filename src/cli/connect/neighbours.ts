import { addressName } from '../../config/index.ts';
import type { SignalId } from '../../measure/index.ts';
import type { Book } from '../../rulebook/index.ts';
import { isBitTable, wordsOf } from '../../signal/index.ts';
import { clockFrom } from '../clock.ts';
import { type Oddity, plausibleIn, type Seen, wantsNeighbours } from './odd.ts';

/** More than these are not asked about: the list of addresses is wrong then, not one of them. */
const MOST = 20;

/** For tags whose value cannot be meant: what the same type gives one address lower and one higher. */
export const neighbourOddities = async (
  book: Book,
  all: readonly Seen[],
): Promise<ReadonlyMap<SignalId, readonly Oddity[]>> => {
  const found = new Map<SignalId, readonly Oddity[]>();
  const suspects = all.filter((seen) => wantsNeighbours(seen) && !isBitTable(seen.def)).slice(0, MOST);
  if (suspects.length === 0) return found;
  const { openAsker } = await import('../../field/index.ts');
  const clock = clockFrom();
  for (const { def } of suspects) {
    const source = book.sources[def.source];
    if (source?.protocol !== 'modbus' || def.address.kind !== 'modbus') continue;
    const { table, at } = def.address;
    const asker = openAsker({ line: source.line, unit: source.unit, timeout: source.timeout / 1_000 }, clock);
    const odd: Oddity[] = [];
    for (const address of [at - 1, at + 1]) {
      if (address < 0 || address + wordsOf(def.decoding) > 65_536) continue;
      const told = await asker.ask(table, address, wordsOf(def.decoding));
      const value = 'words' in told ? plausibleIn(def, told.words) : undefined;
      if (value === undefined) continue;
      const params = {
        address: addressName(table, address),
        away: address < at ? 'one lower' : 'one higher',
        value: (value.low + value.high) / 2,
        unit: def.unit,
      };
      odd.push({ weight: 'odd', reason: { code: 'odd-neighbour', params } });
    }
    await asker.close();
    if (odd.length > 0) found.set(def.id, odd);
  }
  return found;
};
