import { useState } from 'preact/hooks';
import type { SessionNow } from '../../api/index.ts';
import { Credentials } from '../kit/credentials.tsx';
import { Failed } from '../kit/failed.tsx';
import { tell } from '../state/api.ts';
import { session } from '../state/session.ts';
import { say } from '../text/say.ts';
import { whyText } from '../text/why.ts';

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
      setWhy(whyText(error));
      setPassword('');
    }
  };
  return (
    <div class="stack">
      <h1>{say('shell', 'sign-in')}</h1>
      <form class="card stack" onSubmit={(event) => void enter(event)}>
        <p>{say('shell', 'sign-in-why')}</p>
        <Credentials id={id} password={password} onId={setId} onPassword={setPassword} />
        <Failed why={why} />
        <button type="submit" class="button first big">
          {say('shell', 'sign-in')}
        </button>
      </form>
    </div>
  );
};
