import type { Trouble } from '../../api/index.ts';
import { NoAnswer, NotDone, tell } from './api.ts';
import { keptSignal } from './kept.ts';

/** Something that a person did, on its way to the daemon. */
export interface Action {
  /** Goes with every attempt: the daemon does the same action once only. */
  readonly key: string;
  readonly window: string;
  /** As it was called on its button. */
  readonly label: string;
  readonly path: string;
  readonly body: unknown;
  /** Milliseconds since 1970. */
  readonly at: number;
  /** `unsent`: no answer came, and it is not known whether it arrived; `refused`: the daemon said no. */
  readonly state: 'sending' | 'unsent' | 'refused';
  readonly why?: Trouble;
}

const box = keptSignal<{ actions: readonly Action[] }>('tripwitness-outbox', { actions: [] });
// What was on its way when the page was left has had no answer.
box.value = {
  actions: box.value.actions.map((one) => (one.state === 'sending' ? { ...one, state: 'unsent' } : one)),
};

/** What this device has not got through to the daemon in a window, oldest first. */
export const actionsOf = (window: string): readonly Action[] =>
  box.value.actions.filter((one) => one.window === window);

const put = (action: Action): void => {
  const others = box.value.actions.filter(({ key }) => key !== action.key);
  box.value = { actions: [...others, action].sort((a, b) => a.at - b.at) };
};

/** Takes an action off the list; a person's decision, or because it arrived. */
export const drop = (key: string): void => {
  box.value = { actions: box.value.actions.filter((one) => one.key !== key) };
};

/** Names an action for all its attempts. Random UUIDs are had on encrypted pages only, random numbers everywhere. */
export const newKey = (): string =>
  [...crypto.getRandomValues(new Uint32Array(4))].map((part) => part.toString(36)).join('-');

/** Sends an action, again where it was sent before. */
export const send = async (action: Action): Promise<boolean> => {
  const { why: _, ...fresh } = action;
  put({ ...fresh, state: 'sending' });
  try {
    await tell(action.path, action.body, 'POST', action.key);
    drop(action.key);
    return true;
  } catch (error) {
    const state = error instanceof NoAnswer ? 'unsent' : 'refused';
    const why = error instanceof NotDone ? error.trouble : undefined;
    put({ ...fresh, state, ...(why && { why }) });
    return false;
  }
};

/** The same thing done twice at once (two taps of one glove) is done once. */
const isUnderWay = (path: string, body: unknown): boolean =>
  box.value.actions.some(
    (one) =>
      one.state === 'sending' && one.path === path && JSON.stringify(one.body) === JSON.stringify(body),
  );

/** Does something in a window; true once the daemon has taken it. What it did not take stays in `actionsOf`. */
export const act = async (window: string, label: string, path: string, body: unknown): Promise<boolean> => {
  if (isUnderWay(path, body)) return false;
  const action: Action = {
    key: newKey(),
    window,
    label,
    path,
    body,
    at: Date.now(),
    state: 'sending',
  };
  return await send(action);
};
