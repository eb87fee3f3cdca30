import { prefs } from '../state/prefs.ts';
import { asksName, rememberName } from '../state/who.ts';
import { say } from '../text/say.ts';
import { TextField } from './field.tsx';

/** Asks for a name where nobody is signed in, and remembers it on this device. */
export const NameField = () =>
  asksName() ? (
    <TextField label={say('register', 'by')} value={prefs.value.name} onValue={rememberName} needed />
  ) : null;
