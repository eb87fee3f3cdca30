import { prefs } from '../state/prefs.ts';
import { asksName, rememberName } from '../state/who.ts';
import { say } from '../text/say.ts';

/** Asks for a name where nobody is signed in, and remembers it on this device. */
export const NameField = ({ label = say('register', 'by') }: { readonly label?: string }) =>
  asksName() ? (
    <label class="field">
      <span>{label}</span>
      <input
        autocomplete="name"
        maxLength={120}
        required
        value={prefs.value.name}
        onInput={(event) => rememberName(event.currentTarget.value)}
      />
    </label>
  ) : null;
