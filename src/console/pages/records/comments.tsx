import { useState } from 'preact/hooks';
import type { CommentNow, RecordNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Failed } from '../../kit/failed.tsx';
import { NameField } from '../../kit/name-field.tsx';
import { secondsText } from '../../plot/told.ts';
import { tell } from '../../state/api.ts';
import { hrefOf } from '../../state/route.ts';
import { may } from '../../state/session.ts';
import { asksName, nameNow } from '../../state/who.ts';
import { say } from '../../text/say.ts';
import { momentText } from '../../text/time.ts';
import { whyText } from '../../text/why.ts';

interface About {
  readonly interlock: string;
  readonly trial: number;
  /** Seconds after the opening at which the cursor stands. */
  readonly at: number | undefined;
}

interface CommentsProps {
  readonly record: RecordNow;
  readonly about?: About;
  readonly onEntered: () => void;
}

/** The instant that a comment is about: where it is of a trial, the way to it. */
const Instant = ({ window, comment }: { readonly window: string; readonly comment: CommentNow }) => {
  const { at, interlock, trial } = comment;
  if (at === undefined) return null;
  const text = secondsText(at);
  if (interlock === undefined || trial === undefined) return <> · {text}</>;
  const href = hrefOf(['records', window, interlock, String(trial)], { at: at.toFixed(3) });
  return (
    <>
      {' '}
      · <a href={href}>{text}</a>
    </>
  );
};

const One = ({ window, comment }: { readonly window: string; readonly comment: CommentNow }) => (
  <li class="told">
    <p>{comment.text}</p>
    <p class="soft">
      {comment.by} · {momentText(comment.utc)}
      {comment.interlock !== undefined && ` · ${comment.interlock}`}
      {comment.trial !== undefined && ` · ${say('records', 'trial', { n: comment.trial })}`}
      <Instant window={window} comment={comment} />
    </p>
  </li>
);

const Form = ({ record, about, onEntered }: CommentsProps) => {
  const [text, setText] = useState('');
  const [pointed, setPointed] = useState(false);
  const [trouble, setTrouble] = useState('');
  const by = nameNow();
  const enter = async (): Promise<void> => {
    try {
      await tell('/api/entries', {
        do: 'comment',
        ...(asksName() && { who: { by } }),
        window: record.window,
        ...(about && { interlock: about.interlock, trial: about.trial }),
        ...(pointed && about?.at !== undefined && { at: about.at }),
        text,
      });
      setText('');
      setTrouble('');
      onEntered();
    } catch (error) {
      setTrouble(whyText(error));
    }
  };
  return (
    <form
      class="stack tight unprinted"
      onSubmit={(event) => {
        event.preventDefault();
        void enter();
      }}
    >
      <NameField label={say('records', 'by')} />
      <label class="field">
        <span>{say('records', 'comment')}</span>
        <textarea
          rows={2}
          value={text}
          maxLength={2_000}
          required
          onInput={(event) => setText(event.currentTarget.value)}
        />
        <small>{say('records', 'comment-stays')}</small>
      </label>
      {about?.at !== undefined && (
        <label class="tick">
          <input
            type="checkbox"
            checked={pointed}
            onChange={(event) => setPointed(event.currentTarget.checked)}
          />
          {say('records', 'comment-at', { at: secondsText(about.at) })}
        </label>
      )}
      <p>
        <button type="submit" class="button first" disabled={text.trim() === '' || by.trim() === ''}>
          {say('records', 'comment-add')}
        </button>
      </p>
      <Failed why={trouble} />
    </form>
  );
};

/** What people remarked afterwards; of one trial, where `about` names it. */
export const Comments = (props: CommentsProps) => {
  const { record, about } = props;
  const own = record.comments.filter(
    ({ interlock, trial }) =>
      about === undefined ||
      (interlock === about.interlock && (trial === undefined || trial === about.trial)) ||
      interlock === undefined,
  );
  return (
    <Card title={say('records', 'comments')}>
      <div class="stack">
        {own.length === 0 && <p class="soft">{say('records', 'no-comments')}</p>}
        <ul class="stack tight">
          {own.map((comment) => (
            <One key={comment.entry} window={record.window} comment={comment} />
          ))}
        </ul>
        {may('tester') && <Form {...props} />}
      </div>
    </Card>
  );
};
