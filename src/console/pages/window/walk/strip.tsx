import { useEffect, useState } from 'preact/hooks';
import type { GuideState, Stage } from '../../../../guide/index.ts';
import { Verdict } from '../../../kit/mark.tsx';
import { device, partIn } from '../../../state/device.ts';
import { hrefOf } from '../../../state/route.ts';
import { ahead } from '../../../state/stream.ts';
import { say } from '../../../text/say.ts';
import type { Screen } from './screen.ts';
import { canSpeak, readAloud } from './speech.ts';

const minutesSince = (utc: string): number =>
  Math.max(0, Math.floor((Date.now() + ahead.value - Date.parse(utc)) / 60_000));

/** The stations of the way, of which one is on. */
const STATIONS: readonly Stage[] = ['identify', 'baseline', 'call', 'move', 'attest', 'done'];

const STATION_OF: Readonly<Record<Screen, Stage>> = {
  identify: 'identify',
  alone: 'identify',
  baseline: 'baseline',
  call: 'call',
  move: 'move',
  attest: 'attest',
  verdict: 'done',
};

export const Stations = ({ screen }: { readonly screen: Screen }) => {
  const here = STATIONS.indexOf(STATION_OF[screen]);
  return (
    <ol class="stations">
      {STATIONS.map((stage, at) => (
        <li key={stage} class={at < here ? 'past' : ''} aria-current={at === here ? 'step' : undefined}>
          {say('walk', `stage-${stage}`)}
        </li>
      ))}
    </ol>
  );
};

interface StripProps {
  readonly state: GuideState;
  readonly here: string;
}

/** All interlocks of the window in a row: what is over, what is on, what comes; and how long it has taken so far. */
export const Strip = ({ state, here }: StripProps) => (
  <nav class="strip" aria-label={say('walk', 'interlocks')}>
    <ol>
      {state.interlocks.map((one) => (
        <li key={one.name}>
          <a
            href={hrefOf(['window', state.window, 'at', one.name])}
            aria-current={one.name === here ? 'true' : undefined}
          >
            <span>{one.title || one.name}</span>
            {one.left !== undefined && <small>{say('walk', 'left')}</small>}
            {one.trial > 0 && <small>{say('now', 'trial', { n: one.trial })}</small>}
            {one.trial === 0 && one.left === undefined && one.trials.length > 0 && (
              <Verdict outcome={one.outcome ?? 'not-tested'} />
            )}
            {one.trial === 0 && one.left === undefined && one.trials.length === 0 && (
              <small>{say('walk', one.name === state.current ? 'on-now' : 'to-come')}</small>
            )}
          </a>
        </li>
      ))}
      <li>
        <a href={hrefOf(['window', state.window, 'restore'])} aria-current={here === '' ? 'true' : undefined}>
          <span>{say('walk', 'restore-and-close')}</span>
          <small>
            {state.restoration.filter(({ done }) => done !== undefined).length}/{state.restoration.length}
          </small>
        </a>
      </li>
    </ol>
  </nav>
);

/** Goes on without network too. */
const Minutes = ({ since }: { readonly since: string }) => {
  const [, look] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => look((turn) => turn + 1), 1_000);
    return () => clearInterval(timer);
  }, []);
  return <>{say('walk', 'minutes', { n: minutesSince(since) })}</>;
};

/** Which window, how long, and what this device is in it. */
export const Head = ({ state }: { readonly state: GuideState }) => {
  const part = partIn(state.window);
  return (
    <div class="row walk-head">
      <span class="grow">
        {say('walk', 'window', { window: state.window })} · <Minutes since={state.opened} />
      </span>
      {canSpeak() && part !== 'follow' && (
        <button
          type="button"
          class="button"
          aria-pressed={device.value.speech}
          onClick={() => readAloud(!device.value.speech)}
        >
          {say('walk', 'speech')}
        </button>
      )}
      <a class="button" href={hrefOf(['window', state.window, 'part'])}>
        {say('walk', 'this-device')}: {say('walk', `part-${part}`)}
      </a>
    </div>
  );
};
