import { useState } from 'preact/hooks';
import type { GuideState } from '../../../../guide/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Hold } from '../../../kit/hold.tsx';
import { mayDo } from '../../../state/device.ts';
import { goTo, hrefOf } from '../../../state/route.ts';
import { may } from '../../../state/session.ts';
import { say, sentence } from '../../../text/say.ts';
import { clockText } from '../../../text/time.ts';
import { Countdown } from '../walk/countdown.tsx';
import { closeWindow, enterStep } from '../walk/enter.ts';
import { Head, Strip } from '../walk/strip.tsx';
import { Unsent } from '../walk/unsent.tsx';

type Item = GuideState['restoration'][number];

const One = ({ state, item }: { readonly state: GuideState; readonly item: Item }) => {
  const [note, setNote] = useState('');
  const text = say('closing', `restored-${item.item}`);
  if (item.done !== undefined)
    return (
      <li class="restored done">
        <i aria-hidden="true">✔</i>
        <div class="grow">
          <strong>{text}</strong>
          <p class="soft">
            {item.done.by} · {clockText(item.done.utc)}
            {item.done.note !== '' && ` · ${item.done.note}`}
          </p>
        </div>
      </li>
    );
  return (
    <li class="restored">
      <i aria-hidden="true">○</i>
      <div class="grow stack tight">
        <strong>{text}</strong>
        {mayDo(state.window, 'restore') && (
          <div class="row">
            <label class="field grow">
              <span>{say('closing', 'note')}</span>
              <input maxLength={2_000} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
            </label>
            <button
              type="button"
              class="button first big"
              onClick={() =>
                void enterStep(state.window, text, { do: 'restored', item: item.item, note: note.trim() })
              }
            >
              {say('closing', 'is-so')}
            </button>
          </div>
        )}
      </div>
    </li>
  );
};

/** Everything is put back, one by one; then the window is closed, with what is open told. */
export const Restore = ({ state }: { readonly state: GuideState }) => {
  const { window } = state;
  const title = say('closing', 'close');
  const close = async (): Promise<void> => {
    if (await closeWindow(window, title)) goTo(['window', window]);
  };
  return (
    <div class="walk">
      <Countdown state={state} />
      <Head state={state} />
      <Unsent window={window} />
      <Strip state={state} here="" />
      <h1>{say('closing', 'title')}</h1>
      <ul class="restorations">
        {state.restoration.map((item) => (
          <One key={item.item} state={state} item={item} />
        ))}
      </ul>
      <Card title={say('closing', 'open')}>
        {state.open.length === 0 ? (
          <p class="told good">{say('closing', 'nothing-open')}</p>
        ) : (
          <ul class="stack tight">
            {state.open.map((one) => (
              <li key={JSON.stringify(one)} class="told wait">
                {sentence(one)}
              </li>
            ))}
          </ul>
        )}
      </Card>
      {mayDo(window, 'restore') && may('tester') ? (
        <>
          <p>{say('closing', state.open.length === 0 ? 'close-what' : 'close-open')}</p>
          <Hold text={title} danger={state.open.length > 0} onDone={() => void close()} />
        </>
      ) : (
        <p class="told">{say('closing', 'close-other')}</p>
      )}
      <a class="button wide" href={hrefOf(['window', window])}>
        {say('begin', 'back')}
      </a>
    </div>
  );
};
