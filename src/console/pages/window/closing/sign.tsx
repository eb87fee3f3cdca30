import { useState } from 'preact/hooks';
import type { SigningNow } from '../../../../api/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Mark } from '../../../kit/mark.tsx';
import { Reading } from '../../../kit/reading.tsx';
import { tell } from '../../../state/api.ts';
import { useResource } from '../../../state/resource.ts';
import { session } from '../../../state/session.ts';
import { say } from '../../../text/say.ts';
import { momentText } from '../../../text/time.ts';

const MEANINGS = ['performed', 'witnessed', 'reviewed'] as const;
type Meaning = (typeof MEANINGS)[number];

interface SignProps {
  readonly window: string;
  readonly meaning: Meaning;
  readonly onSigned: () => void;
}

/** Whoever signs shows by password that it is that one: this device may be anybody's. */
const Sign = ({ window, meaning, onSigned }: SignProps) => {
  const [as, setAs] = useState(session.value?.account?.id ?? '');
  const [password, setPassword] = useState('');
  const [why, setWhy] = useState('');
  const sign = async (event: Event): Promise<void> => {
    event.preventDefault();
    setWhy('');
    try {
      await tell('/api/entries', { do: 'sign', who: { as: as.trim(), password }, window, meaning });
      onSigned();
    } catch (error) {
      setWhy((error as Error).message);
    }
    setPassword('');
  };
  return (
    <details>
      <summary>{say('closing', `sign-${meaning}`)}</summary>
      <form class="stack" onSubmit={(event) => void sign(event)}>
        <p>{say('closing', `means-${meaning}`)}</p>
        <label class="field">
          <span>{say('shell', 'account')}</span>
          <input
            name={`as-${meaning}`}
            autocomplete="off"
            autocapitalize="none"
            required
            value={as}
            onInput={(event) => setAs(event.currentTarget.value)}
          />
        </label>
        <label class="field">
          <span>{say('shell', 'password')}</span>
          <input
            name={`password-${meaning}`}
            type="password"
            autocomplete="off"
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
        <button type="submit" class="button first big wide">
          {say('closing', 'sign')}
        </button>
      </form>
    </details>
  );
};

/** Who has signed, and for what; whoever else is to. */
export const Signatures = ({ window }: { readonly window: string }) => {
  const asked = useResource<SigningNow>(`/api/windows/${encodeURIComponent(window)}/signing`);
  return (
    <Card title={say('closing', 'signatures')}>
      <Reading of={asked}>
        {({ signatures, missing }) => (
          <div class="stack">
            {signatures.map((one) => (
              <p key={one.entry} class="row">
                <Mark
                  kind={one.state === 'whole' ? 'good' : 'warn'}
                  text={say('closing', `was-${one.meaning as Meaning}`)}
                />
                <span>
                  {one.person.name} · {momentText(one.utc)}
                </span>
              </p>
            ))}
            {missing.map((meaning) => (
              <p key={meaning} class="told wait">
                {say('closing', 'missing', { what: say('closing', `was-${meaning}`) })}
              </p>
            ))}
            {MEANINGS.map((meaning) => (
              <Sign key={meaning} window={window} meaning={meaning} onSigned={asked.again} />
            ))}
          </div>
        )}
      </Reading>
    </Card>
  );
};
