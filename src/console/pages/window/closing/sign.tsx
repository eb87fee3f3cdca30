import { useState } from 'preact/hooks';
import type { SigningNow } from '../../../../api/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Credentials } from '../../../kit/credentials.tsx';
import { Failed } from '../../../kit/failed.tsx';
import { Mark } from '../../../kit/mark.tsx';
import { Reading } from '../../../kit/reading.tsx';
import { tell, windowPath } from '../../../state/api.ts';
import { useResource } from '../../../state/resource.ts';
import { session } from '../../../state/session.ts';
import { say } from '../../../text/say.ts';
import { momentText } from '../../../text/time.ts';
import { whyText } from '../../../text/why.ts';

type Meaning = SigningNow['missing'][number];
const MEANINGS: readonly Meaning[] = ['performed', 'witnessed', 'reviewed'];

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
      setWhy(whyText(error));
    }
    setPassword('');
  };
  return (
    <details>
      <summary>{say('closing', `sign-${meaning}`)}</summary>
      <form class="stack" onSubmit={(event) => void sign(event)}>
        <p>{say('closing', `means-${meaning}`)}</p>
        <Credentials id={as} password={password} onId={setAs} onPassword={setPassword} of={meaning} />
        <Failed why={why} />
        <button type="submit" class="button first big wide">
          {say('closing', 'sign')}
        </button>
      </form>
    </details>
  );
};

/** Who has signed, and for what; whoever else is to. */
export const Signatures = ({ window }: { readonly window: string }) => {
  const asked = useResource<SigningNow>(`${windowPath(window)}/signing`);
  return (
    <Card title={say('closing', 'signatures')}>
      <Reading of={asked}>
        {({ signatures, missing }) => (
          <div class="stack">
            {signatures.map((one) => (
              <p key={one.entry} class="row">
                <Mark
                  kind={one.state === 'whole' ? 'good' : 'warn'}
                  text={say('closing', `was-${one.meaning}`)}
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
