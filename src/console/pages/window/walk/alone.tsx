import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { mayDo } from '../../../state/device.ts';
import { say } from '../../../text/say.ts';
import { enterStep } from './enter.ts';
import { passOver } from './screen.ts';

interface AloneProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

type Seen = NonNullable<GuidedInterlock['alone']>;

/** What has moved, as large as it can be. */
const Moved = ({ seen, one }: { readonly seen: Seen; readonly one: GuidedInterlock }) => {
  const others = seen.moved.filter((name) => name !== one.signal);
  const own = seen.moved.includes(one.signal);
  const good = own && others.length === 0;
  if (seen.moved.length === 0)
    return (
      <div class="outcome plain" role="status">
        <i aria-hidden="true">○</i>
        <strong>{say('walk', seen.running ? 'nothing-yet' : 'nothing-moved')}</strong>
      </div>
    );
  return (
    <div class={`outcome ${good ? 'good' : 'bad'}`} role="status">
      <i aria-hidden="true">{good ? '✔' : '✖'}</i>
      <div>
        <strong>{say('walk', good ? 'alone' : 'not-alone')}</strong>
        <ul>
          {own && <li>✔ {one.signal}</li>}
          {others.map((name) => (
            <li key={name}>✖ {name}</li>
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
  const able = mayDo(window, 'watch');
  const running = alone?.running === true;
  const begin = (): void =>
    void enterStep(window, say('walk', 'watch'), { do: 'watch-began', interlock: one.name });
  return (
    <div class="stack">
      <p class="ask">{say('walk', running ? 'touch-now' : 'touch')}</p>
      {alone === undefined ? <p>{say('walk', 'touch-what')}</p> : <Moved seen={alone} one={one} />}
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
