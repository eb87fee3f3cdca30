import { type SignalDef, wordsOf } from '../signal/index.ts';
import type { Place, Tell } from './fault.ts';

const shapeOf = (signal: SignalDef): string => {
  const { decoding } = signal;
  if (decoding.as === 'bit') return decoding.bit === undefined ? 'one bit' : 'a word of bits';
  if (decoding.as === 'number' && decoding.field !== undefined)
    return wordsOf(decoding) === 1 ? 'a word of bits' : 'several words of bits';
  if (decoding.as === 'text') return `a text of ${decoding.registers}`;
  return decoding.as === 'value' ? 'value' : decoding.type;
};

const LAST = 65_536;

/** Two tags must not read the same registers as different things; and none may reach past the last address. */
export const checkOverlap = (
  signals: readonly SignalDef[],
  placeOf: (name: string) => Place,
  tell: Tell,
): void => {
  const taken = new Map<string, SignalDef>();
  for (const signal of signals) {
    const { address } = signal;
    if (address.kind !== 'modbus') continue;
    const width = wordsOf(signal.decoding);
    if (address.at + width > LAST)
      tell(placeOf(signal.name), 'address-out-of-range', { text: String(address.at) });
    for (let at = address.at; at < address.at + width; at += 1) {
      const key = `${signal.source} ${address.table} ${at}`;
      const other = taken.get(key);
      taken.set(key, other ?? signal);
      if (other === undefined || other.address.kind !== 'modbus') continue;
      if (shapeOf(other) === shapeOf(signal) && other.address.at === address.at) continue;
      tell(placeOf(signal.name), 'tags-overlap', {
        tag: signal.name,
        as: shapeOf(signal),
        other: other.name,
        otherAs: shapeOf(other),
      });
      break;
    }
  }
};
