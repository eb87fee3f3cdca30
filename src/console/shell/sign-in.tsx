import { useState } from 'preact/hooks';
import type { SessionNow } from '../../api/index.ts';
import { tell } from '../state/api.ts';
import { session } from '../state/session.ts';
import { say } from '../text/say.ts';

/** Asks who is there. The password goes to the daemon, and nowhere else. */
export const SignIn = () => {
  const [id, setId] = useState('');
  const [password, setPassword] = useState('');
  const [why, setWhy] = useState('');
  const enter = async (event: Event): Promise<void> => {
    event.preventDefault();
    try {
      session.value = await tell<SessionNow>('/api/session', { id, password });
    } catch (error) {
      setWhy((error as Error).message);
      setPassword('');
    }
  };
  return (
    <div class="stack">
      <h1>{say('shell', 'sign-in')}</h1>
      <form class="card stack" onSubmit={(event) => void enter(event)}>
        <p>{say('shell', 'sign-in-why')}</p>
        <label class="field">
          <span>{say('shell', 'account')}</span>
          <input
            name="id"
            autocomplete="username"
            autocapitalize="none"
            required
            value={id}
            onInput={(event) => setId(event.currentTarget.value)}
          />
        </label>
        <label class="field">
          <span>{say('shell', 'password')}</span>
          <input
            name="password"
            type="password"
            autocomplete="current-password"
            required
            value={password}
            onInput={(event) => setPassword(event.currentTarget.value)}
          />
        </label>
        {why !== '' && (
          <p class="told bad" role="alert">
            {say('shell', 'failed', { why })}
          </p>
        )}
        <button type="submit" class="button first big">
          {say('shell', 'sign-in')}
        </button>
      </form>
    </div>
  );
};
