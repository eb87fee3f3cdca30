import { useEffect, useRef, useState } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { Mark } from '../../../kit/mark.tsx';
import { interlockNamed } from '../../../state/book.ts';
import { mayDo } from '../../../state/device.ts';
import { say } from '../../../text/say.ts';
import { Camera, hasScanner } from './camera.tsx';
import { enterStep } from './enter.ts';

const folded = (text: string): string => text.trim().toUpperCase();

/** The other interlocks that hang on the same sensor are named with it: one look at one tag. */
const namedToo = (state: GuideState, one: GuidedInterlock, typed: string): readonly GuidedInterlock[] =>
  state.interlocks.filter(
    (other) =>
      other.name !== one.name &&
      other.signal === one.signal &&
      other.identified?.matches !== true &&
      other.left === undefined &&
      other.expects.some((text) => folded(text) === folded(typed)),
  );

interface IdentifyProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

/** Which sensor the hand is on: its tag as it is read there, typed or scanned. */
export const Identify = ({ state, one }: IdentifyProps) => {
  const [typed, setTyped] = useState('');
  const [camera, setCamera] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  const { window } = state;
  const able = mayDo(window, 'identify');
  const device = interlockNamed(one.name)?.device;
  useEffect(() => {
    field.current?.focus();
  }, [one.name]);
  const enter = async (text: string, how: 'typed' | 'scanned'): Promise<void> => {
    const tag = text.trim();
    if (tag === '') return;
    setTyped('');
    setCamera(false);
    const label = say('walk', 'check-tag', { tag });
    for (const other of namedToo(state, one, tag))
      await enterStep(window, label, { do: 'identified', interlock: other.name, typed: tag, how });
    await enterStep(window, label, { do: 'identified', interlock: one.name, typed: tag, how });
  };
  return (
    <div class="stack">
      <p class="ask">{say('walk', 'identify')}</p>
      <dl class="facts">
        <dt>{say('walk', 'expected')}</dt>
        <dd class="tag">{one.expects.join(` ${say('walk', 'or')} `)}</dd>
        {device?.location !== undefined && (
          <>
            <dt>{say('walk', 'where')}</dt>
            <dd>{device.location}</dd>
          </>
        )}
        {device?.serial !== undefined && (
          <>
            <dt>{say('walk', 'serial')}</dt>
            <dd>{device.serial}</dd>
          </>
        )}
      </dl>
      {one.identified !== undefined && !one.identified.matches && (
        <div class="told bad" role="alert">
          <Mark kind="bad" text={say('walk', 'no-match')} />
          <p class="big-text">{say('walk', 'no-match-what', { tag: one.identified.typed })}</p>
        </div>
      )}
      {able ? (
        <form
          class="stack"
          onSubmit={(event) => {
            event.preventDefault();
            void enter(typed, 'typed');
          }}
        >
          <label class="field">
            <span>{say('walk', 'tag')}</span>
            <input
              ref={field}
              class="tag"
              name="tag"
              autocomplete="off"
              autocapitalize="characters"
              spellcheck={false}
              maxLength={200}
              value={typed}
              onInput={(event) => setTyped(event.currentTarget.value)}
            />
            <small>{say('walk', 'tag-how')}</small>
          </label>
          <button type="submit" class="button first big wide" disabled={typed.trim() === ''}>
            {say('walk', 'check')}
          </button>
          {hasScanner() && (
            <button
              type="button"
              class="button big wide"
              aria-expanded={camera}
              onClick={() => setCamera(!camera)}
            >
              {say('walk', camera ? 'camera-off' : 'camera')}
            </button>
          )}
          {camera && <Camera onRead={(text) => void enter(text, 'scanned')} />}
        </form>
      ) : (
        <p class="told">{say('walk', 'identify-other')}</p>
      )}
    </div>
  );
};
