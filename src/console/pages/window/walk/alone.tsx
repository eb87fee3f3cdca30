import { useState } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { mayDo } from '../../../state/device.ts';
import { say } from '../../../text/say.ts';
import { enterStep } from './enter.ts';
import { Identify } from './identify.tsx';
import { passOver } from './screen.ts';

interface AloneProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

type Seen = NonNullable<GuidedInterlock['alone']>;

interface Told {
  readonly tone: 'good' | 'bad' | 'plain';
  readonly shape: string;
  readonly text: string;
}

/** Only the daemon says that it moved alone: a sensor that does not answer may have moved unseen. */
const toldOf = ({ running, moved, alone }: Seen, signal: string): Told => {
  if (moved.some((name) => name !== signal))
    return { tone: 'bad', shape: '✖', text: say('walk', 'not-alone') };
  if (moved.length === 0)
    return { tone: 'plain', shape: '○', text: say('walk', running ? 'nothing-yet' : 'nothing-moved') };
  if (running) return { tone: 'plain', shape: '✔', text: say('walk', 'alone-so-far') };
  return alone
    ? { tone: 'good', shape: '✔', text: say('walk', 'alone') }
    : { tone: 'plain', shape: '?', text: say('walk', 'not-shown') };
};

/** What has moved, as large as it can be. */
const Moved = ({ seen, signal }: { readonly seen: Seen; readonly signal: string }) => {
  const { tone, shape, text } = toldOf(seen, signal);
  return (
    <div class={`outcome ${tone}`} role="status">
      <i aria-hidden="true">{shape}</i>
      <div>
        <strong>{text}</strong>
        <ul>
          {seen.moved.map((name) => (
            <li key={name}>
              {name === signal ? '✔' : '✖'} {name}
            </li>
          ))}
        </ul>
      </div>
    </div>
  );
};

/** The sensor is touched: does only its own signal move? */
export const Alone = ({ state, one }: AloneProps) => {
  const { window } = state;
  const { alone } = one;
  const [again, setAgain] = useState(false);
  const able = mayDo(window, 'watch');
  const running = alone?.running === true;
  const begin = (): void =>
    void enterStep(window, say('walk', 'watch'), { do: 'watch-began', interlock: one.name });
  if (again && alone?.running === false) return <Identify state={state} one={one} />;
  return (
    <div class="stack">
      <p class="ask">{say('walk', running ? 'touch-now' : 'touch')}</p>
      {alone === undefined ? <p>{say('walk', 'touch-what')}</p> : <Moved seen={alone} signal={one.signal} />}
      {alone !== undefined && !running && !alone.alone && <p>{say('walk', 'not-alone-what')}</p>}
      {able && running && (
        <button
          type="button"
          class="button first big wide"
          onClick={() =>
            void enterStep(window, say('walk', 'watch-end'), { do: 'watch-ended', interlock: one.name })
          }
        >
          {say('walk', 'watch-end')}
        </button>
      )}
      {able && !running && (
        <button type="button" class="button first big wide" onClick={begin}>
          {say('walk', alone === undefined ? 'watch' : 'watch-again')}
        </button>
      )}
      {able && alone?.running === false && (
        <button type="button" class="button wide" onClick={() => setAgain(true)}>
          {say('walk', 'name-again')}
        </button>
      )}
      {able && alone === undefined && (
        <>
          <button type="button" class="button wide" onClick={() => passOver(window, one.name)}>
            {say('walk', 'pass-over')}
          </button>
          <small class="soft">{say('walk', 'pass-over-what')}</small>
        </>
      )}
    </div>
  );
};
