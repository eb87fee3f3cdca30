import { say } from '../text/say.ts';

interface CredentialsProps {
  readonly id: string;
  readonly password: string;
  readonly onId: (id: string) => void;
  readonly onPassword: (password: string) => void;
  /** Ends the names of both fields where a page has several pairs; a browser then fills in none of them. */
  readonly of?: string;
}

/** Account and password of whoever stands here. */
export const Credentials = ({ id, password, onId, onPassword, of }: CredentialsProps) => (
  <>
    <label class="field">
      <span>{say('shell', 'account')}</span>
      <input
        name={of === undefined ? 'id' : `as-${of}`}
        autocomplete={of === undefined ? 'username' : 'off'}
        autocapitalize="none"
        required
        value={id}
        onInput={(event) => onId(event.currentTarget.value)}
      />
    </label>
    <label class="field">
      <span>{say('shell', 'password')}</span>
      <input
        name={of === undefined ? 'password' : `password-${of}`}
        type="password"
        autocomplete={of === undefined ? 'current-password' : 'off'}
        required
        value={password}
        onInput={(event) => onPassword(event.currentTarget.value)}
      />
    </label>
  </>
);
