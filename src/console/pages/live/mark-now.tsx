import { useState } from 'preact/hooks';
import { Card } from '../../kit/card.tsx';
import { NameField } from '../../kit/name-field.tsx';
import { tell, windowPath } from '../../state/api.ts';
import { may } from '../../state/session.ts';
import { nameNow } from '../../state/who.ts';
import { say } from '../../text/say.ts';
import { whyText } from '../../text/why.ts';

interface MarkNowProps {
  readonly window: string;
}

/** Somebody says "now": it becomes an entry of the open window at the instant at which the daemon hears it. */
export const MarkNow = ({ window }: MarkNowProps) => {
  const [note, setNote] = useState('');
  const [told, setTold] = useState<{ good: boolean; text: string }>();
  const by = nameNow();
  if (!may('tester')) return null;
  const mark = async (): Promise<void> => {
    try {
      await tell(`${windowPath(window)}/marks`, { code: 'now', by, text: note });
      setTold({ good: true, text: say('live', 'marked', { window }) });
      setNote('');
    } catch (error) {
      setTold({ good: false, text: say('shell', 'failed', { why: whyText(error) }) });
    }
  };
  return (
    <Card title={say('live', 'mark-title')}>
      <div class="mark-now">
        <NameField />
        <label class="field">
          <span>{say('live', 'mark-note')}</span>
          <input value={note} maxLength={2_000} onInput={(event) => setNote(event.currentTarget.value)} />
        </label>
        <button
          type="button"
          class="button first big"
          disabled={by.trim() === ''}
          onClick={() => void mark()}
        >
          {say('live', 'mark-now')}
        </button>
      </div>
      <p role="status" class={told === undefined ? 'unseen' : `told ${told.good ? 'good' : 'bad'}`}>
        {told?.text}
      </p>
    </Card>
  );
};
