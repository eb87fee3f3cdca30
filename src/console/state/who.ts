import { prefs } from './prefs.ts';
import { session } from './session.ts';

/** Name under which something is entered: of the account, or as typed on this device. */
export const nameNow = (): string => session.value?.account?.name ?? prefs.value.name;

/** Whether a form has to ask for a name. */
export const asksName = (): boolean => session.value?.account === undefined;

export const rememberName = (name: string): void => {
  prefs.value = { ...prefs.value, name };
};
