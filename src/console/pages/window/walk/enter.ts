import type { MarkRequest } from '../../../../api/index.ts';
import type { Step } from '../../../../guide/index.ts';
import { nameHere } from '../../../state/device.ts';
import { act } from '../../../state/outbox.ts';

type Asked<T> = T extends { readonly do: 'countdown' }
  ? Omit<T, 'by' | 'at'> & { readonly seconds: number }
  : T extends { readonly do: 'watch-ended' }
    ? Omit<T, 'by' | 'moved' | 'alone'>
    : T extends { readonly do: 'identified' }
      ? Omit<T, 'by' | 'matches'>
      : Omit<T, 'by'>;
/** A step as a person asks for it; what only the daemon knows is left out. */
export type StepAsked = Asked<Step>;

const at = (window: string): string => `/api/windows/${encodeURIComponent(window)}`;

/** Enters a step in the name of whoever holds this device. `label`: as it is called on its button. */
export const enterStep = (window: string, label: string, step: StepAsked): Promise<boolean> =>
  act(window, label, `${at(window)}/steps`, { ...step, by: nameHere() });

type Marked<T> = T extends MarkRequest ? Omit<T, 'by'> : never;

/** What somebody saw, heard or did. */
export const enterMark = (window: string, label: string, mark: Marked<MarkRequest>): Promise<boolean> =>
  act(window, label, `${at(window)}/marks`, { ...mark, by: nameHere() });

export const closeWindow = (window: string, label: string): Promise<boolean> =>
  act(window, label, `${at(window)}/close`, { by: nameHere() });
