import type { Book, Effect } from '../rulebook/index.ts';

/** What takes danger away: a stop, an alarm that goes on. To run, or to be silent, is no protection. */
export const protects = (book: Book, effect: Effect): boolean => {
  const { becomes, signal } = effect;
  if (becomes.kind !== 'state') return false;
  if (effect.class === 'alarm' || effect.class === 'trip') return becomes.state !== 0;
  return !book.machines.some((machine) =>
    [...machine.running, ...(machine.feedbacks ?? [])].some(
      (one) => one.signal === signal && one.state === becomes.state,
    ),
  );
};
