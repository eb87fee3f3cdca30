import { useState } from 'preact/hooks';
import type { RegisterItemNow } from '../../../api/index.ts';
import { Failed } from '../../kit/failed.tsx';
import { TextField } from '../../kit/field.tsx';
import { Mark } from '../../kit/mark.tsx';
import { NameField } from '../../kit/name-field.tsx';
import { tell } from '../../state/api.ts';
import { may } from '../../state/session.ts';
import { nameNow } from '../../state/who.ts';
import { say } from '../../text/say.ts';
import { momentText } from '../../text/time.ts';
import { whyText } from '../../text/why.ts';
import { Proving } from './proving.tsx';

interface ItemProps {
  readonly item: RegisterItemNow;
  readonly onEntered: () => void;
}

const STATED = ['reason', 'risk', 'approver', 'precautions', 'category', 'owner'] as const;

/** Note or end of an item; what was written stays until it was entered. */
const StepForm = ({ item, onEntered }: ItemProps) => {
  const [text, setText] = useState('');
  const [window, setWindow] = useState('');
  const [why, setWhy] = useState('');
  const enter = async (action: 'noted' | 'closed'): Promise<void> => {
    try {
      const step = { do: 'register-step', who: { by: nameNow() }, id: item.id, action, text };
      await tell('/api/entries', { ...step, ...(window !== '' && { window }) });
      setText('');
      setWindow('');
      setWhy('');
      onEntered();
    } catch (error) {
      setWhy(whyText(error));
    }
  };
  return (
    <form class="stack tight unprinted" onSubmit={(event) => event.preventDefault()}>
      <NameField />
      <TextField label={say('register', 'note')} value={text} onValue={setText} kind="lines" />
      {item.category === 'A' && <Proving item={item} value={window} onValue={setWindow} />}
      <Failed why={why} />
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={text.trim() === ''}
          onClick={() => void enter('noted')}
        >
          {say('register', 'add-note')}
        </button>
        <button
          type="button"
          class="button first"
          disabled={text.trim() === ''}
          onClick={() => void enter('closed')}
        >
          {say('register', 'close-item')}
        </button>
      </div>
    </form>
  );
};

/** One item of the register with its whole life. */
export const Item = ({ item, onEntered }: ItemProps) => (
  <li class="due">
    <div class="row">
      <div class="grow">
        <h3>
          {say('register', `item-${item.item}`)} {item.id} · {item.on}
        </h3>
        <span class="soft">
          {say('register', 'since', { when: momentText(item.opened) })}
          {item.limit !== undefined && ` · ${say('register', 'limit', { when: momentText(item.limit) })}`}
        </span>
      </div>
      {item.over > 0 && <Mark kind="bad" text={say('register', 'over')} />}
    </div>
    <p>{item.text}</p>
    <dl class="facts">
      {STATED.flatMap((field) =>
        item[field] === undefined
          ? []
          : [
              <div key={field}>
                <dt>{say('register', field)}</dt>
                <dd>{item[field]}</dd>
              </div>,
            ],
      )}
    </dl>
    <details>
      <summary>
        {say('register', 'steps')} ({item.steps.length})
      </summary>
      <ul class="stack tight">
        {item.steps.map((step) => (
          <li key={step.entry}>
            {momentText(step.utc)} · {step.by} · {say('register', `step-${step.action}`)}: {step.text}
          </li>
        ))}
      </ul>
      {item.standing === 'open' && may('tester') && <StepForm item={item} onEntered={onEntered} />}
    </details>
  </li>
);
