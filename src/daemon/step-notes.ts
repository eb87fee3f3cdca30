import type { Step } from '../guide/index.ts';
import type { Mark } from '../judge/index.ts';
import { type Phrase, parseUtc, SECOND } from '../measure/index.ts';
import { type Amendment, amendedBody, amendmentsOf, type Entry } from '../record/index.ts';
import type { StoredWindow } from './replay.ts';
import { asWritten, type NoteSaid } from './said.ts';

const watched = ({ moved, alone, why, interlock }: Step & { do: 'watch-ended' }): Phrase => {
  if (alone) return { code: 'step-watch-alone', params: { interlock } };
  if (why === 'interrupted') return { code: 'step-watch-open', params: { interlock } };
  return moved.length === 0
    ? { code: 'step-watch-nothing', params: { interlock } }
    : { code: 'step-watch-others', params: { interlock, moved } };
};

/** What is worth a line; calls and countdowns are told by their NOW. */
const reasonOf = (step: Step): Phrase | undefined => {
  switch (step.do) {
    case 'identified': {
      const { interlock, typed, how, matches } = step;
      return { code: matches ? 'step-identified' : 'step-not-identified', params: { interlock, typed, how } };
    }
    case 'watch-ended':
      return watched(step);
    case 'left':
      return { code: 'step-left', params: { interlock: step.interlock, why: step.why } };
    case 'taken-up':
      return { code: 'step-taken-up', params: { interlock: step.interlock } };
    case 'restored':
      return { code: 'step-restored', params: { item: step.item, note: step.note } };
    default:
      return undefined;
  }
};

interface Body {
  readonly step?: Step;
  readonly mark?: Mark;
  readonly open?: readonly Phrase[];
}

const told = (entry: Entry, amendments: readonly Amendment[]): Phrase | undefined => {
  const { step, mark, open = [] } = amendedBody(entry, amendments) as Body;
  if (entry.kind === 'step' && step !== undefined) return reasonOf(step);
  if (entry.kind === 'mark' && mark?.code === 'interrupted' && mark.restarted === true)
    return { code: 'step-away', params: { seconds: (mark.at - mark.from) / SECOND } };
  if (entry.kind === 'window-closed' && open.length > 0) return { code: 'step-open', params: { open } };
  return undefined;
};

/** What people did on the way through a guided window, when the daemon was away, and what was open when it was closed. */
export const stepNotes = (stored: StoredWindow, zero: number): readonly NoteSaid[] => {
  const amendments = amendmentsOf(stored.entries);
  return stored.entries.flatMap((entry) => {
    const says = told(entry, amendments);
    if (says === undefined) return [];
    return [{ t: ((parseUtc(entry.utc) ?? zero) - zero) / SECOND, by: asWritten(entry.actor), says }];
  });
};
