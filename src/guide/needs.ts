import { type Attestation, type Method, substitutes, type WindowVerdict } from '../judge/index.ts';
import { type Book, type Interlock, isHorn } from '../rulebook/index.ts';

/** A stop by hand could not be told from a trip. */
const BY_HAND = new Set(['hand-stop-not-excluded', 'press-not-excluded']);

const unseen = (interlock: Interlock, method: Method, which: 'motion' | 'feed'): boolean =>
  interlock.effects.some((effect) => effect.class === which && substitutes(interlock, method, effect.signal));

/**
 * What only people can say: that the horn was heard, always; that motion or feed stopped, where the signal that would
 * show it is the one that is cheated; that nobody pressed a stop, where neither a trip bit nor a stop signal tells.
 */
export const attestationsNeeded = (
  book: Book,
  interlock: Interlock,
  method: Method,
  verdict: WindowVerdict | undefined,
): readonly Attestation[] => {
  const machine = book.machines[interlock.machine];
  const blind = machine?.tripped.length === 0 && machine.stops.length === 0;
  const commands = interlock.effects.some((effect) => effect.class === 'command');
  const byHand = verdict?.reasons.some(({ code }) => BY_HAND.has(code)) === true;
  const needed: readonly (readonly [Attestation, boolean])[] = [
    [
      'horn-heard',
      interlock.effects.some(({ signal, becomes }) => becomes.kind !== 'stays' && isHorn(book, signal)),
    ],
    ['motion-stopped', unseen(interlock, method, 'motion')],
    ['feed-stopped', unseen(interlock, method, 'feed')],
    ['no-stop-pressed', (blind && commands) || byHand],
  ];
  return needed.flatMap(([what, needs]) => (needs ? [what] : []));
};

/**
 * So many trials at least: those that must agree; and with a delay behind a level two, since one movement cannot tell a
 * low level from a long delay.
 */
export const trialsNeeded = ({ cause, delay, repeat }: Interlock): number =>
  Math.max(repeat?.trials ?? 1, cause.kind === 'level' && delay !== undefined ? 2 : 1);
