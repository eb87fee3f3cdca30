import { useRef, useState } from 'preact/hooks';
import type { Opened } from '../../../../api/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Failed } from '../../../kit/failed.tsx';
import { NoAnswer, tell } from '../../../state/api.ts';
import { interlockNamed } from '../../../state/book.ts';
import { takePart } from '../../../state/device.ts';
import { clearDraft, draft, missingIn, requestOf } from '../../../state/draft.ts';
import { newKey } from '../../../state/outbox.ts';
import { goTo, hrefOf } from '../../../state/route.ts';
import { may } from '../../../state/session.ts';
import { now } from '../../../state/stream.ts';
import { methodText, say } from '../../../text/say.ts';
import { whyText } from '../../../text/why.ts';
import { PRECAUTIONS } from '../precautions.ts';

const WHERE = { interlocks: 'which', people: 'who', permit: 'who', cautions: 'cautions' } as const;

const Summary = () => {
  const { interlocks, people, permit, permitKind } = draft.value;
  return (
    <Card title={say('begin', 'summary')}>
      <ul class="stack tight">
        {interlocks.map(({ name, method }) => (
          <li key={name}>
            <strong>{interlockNamed(name)?.title || name}</strong>{' '}
            <span class="soft">
              {name} · {methodText(method)}
            </span>
          </li>
        ))}
      </ul>
      <p>
        {people
          .filter(({ name }) => name.trim() !== '')
          .map(
            ({ name, roles }) =>
              `${name} (${roles.map((role) => say('begin', `role-${role}` as 'role-screen')).join(', ')})`,
          )
          .join('; ')}
      </p>
      <p>
        {say('begin', 'permit')}: {permitKind === 'none' ? `${say('begin', 'permit-none')}: ` : ''}
        {permit}
      </p>
    </Card>
  );
};

/** Everything once more, and the button that opens the window. */
export const Open = () => {
  const [why, setWhy] = useState('');
  const [busy, setBusy] = useState(false);
  const key = useRef(newKey());
  const missing = missingIn(draft.value, PRECAUTIONS);
  // The record of a demand ends where a test window is opened.
  const isTaken = now.value?.window?.demand === false;
  const open = async (): Promise<void> => {
    setBusy(true);
    setWhy('');
    const { people } = draft.value;
    const first = people.find(({ roles }) => roles.includes('screen')) ?? people[0];
    try {
      const { window } = await tell<Opened>('/api/windows', requestOf(draft.value), 'POST', key.current);
      takePart(window, 'screen', first?.name.trim() ?? '');
      clearDraft();
      goTo(['window', window]);
    } catch (error) {
      setWhy(error instanceof NoAnswer ? say('begin', 'no-answer') : whyText(error));
      if (!(error instanceof NoAnswer)) key.current = newKey();
      setBusy(false);
    }
  };
  return (
    <div class="stack">
      <Summary />
      {missing.map((one) => (
        <p key={one} class="told wait row">
          <span class="grow">{say('begin', `missing-${one}`)}</span>
          <a class="button" href={hrefOf(['window', 'new', WHERE[one]])}>
            {say('begin', `step-${WHERE[one]}`)}
          </a>
        </p>
      ))}
      <Failed why={why} />
      <button
        type="button"
        class="button first big wide"
        disabled={busy || missing.length > 0 || !may('tester') || isTaken}
        onClick={() => void open()}
      >
        {say('begin', 'open')}
      </button>
    </div>
  );
};
