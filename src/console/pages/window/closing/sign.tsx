import { useRef, useState } from 'preact/hooks';
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
  const form = useRef<HTMLDetailsElement>(null);
  const sign = async (event: Event): Promise<void> => {
    event.preventDefault();
    setWhy('');
    try {
      await tell('/api/entries', { do: 'sign', who: { as: as.trim(), password }, window, meaning });
      if (form.current !== null) form.current.open = false;
      onSigned();
    } catch (error) {
      setWhy(whyText(error));
    }
    setPassword('');
  };
  return (
    <details ref={form} class="unprinted">
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

type Signature = SigningNow['signatures'][number];

const KINDS = { whole: 'good', since: 'warn', differs: 'bad', unreadable: 'bad' } as const;

/** Who signed for what, and whatever keeps it from counting. */
const Signed = ({ one, independent }: { readonly one: Signature; readonly independent: boolean }) => {
  const whole = one.state === 'whole';
  return (
    <div class="stack tight">
      <p class="row">
        <Mark
          kind={whole && !independent ? 'warn' : KINDS[one.state]}
          text={say('closing', `was-${one.meaning}`)}
        />
        <span>
          {one.person.name} · {momentText(one.utc)}
        </span>
      </p>
      {one.state !== 'whole' && (
        <p class={`told ${one.state === 'since' ? 'wait' : 'bad'}`}>
          {say('closing', `signed-${one.state}`)}
        </p>
      )}
      {!independent && <p class="told wait">{say('closing', 'not-independent')}</p>}
    </div>
  );
};

/** Who has signed, and for what; whoever else is to. */
export const Signatures = ({ window }: { readonly window: string }) => {
  const asked = useResource<SigningNow>(`${windowPath(window)}/signing`);
  return (
    <Card title={say('closing', 'signatures')}>
      <Reading of={asked}>
        {({ signatures, missing, notIndependent }) => (
          <div class="stack">
            <div class="stack" role="status">
              {signatures.map((one) => (
                <Signed key={one.entry} one={one} independent={!notIndependent.includes(one.entry)} />
              ))}
              {missing.map((meaning) => (
                <p key={meaning} class="told wait">
                  {say('closing', 'missing', { what: say('closing', `was-${meaning}`) })}
                </p>
              ))}
            </div>
            {MEANINGS.map((meaning) => (
              <Sign key={meaning} window={window} meaning={meaning} onSigned={asked.again} />
            ))}
          </div>
        )}
      </Reading>
    </Card>
  );
};
