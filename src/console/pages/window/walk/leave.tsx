import { useState } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { goTo, hrefOf } from '../../../state/route.ts';
import { say } from '../../../text/say.ts';
import { enterStep } from './enter.ts';

const WHYS = ['no-time', 'not-reachable', 'machine-needed', 'needs-repair', 'failed'] as const;

/** This interlock is over for today, and why. */
export const Leave = ({ state, one }: { readonly state: GuideState; readonly one: GuidedInterlock }) => {
  const [why, setWhy] = useState('');
  const leave = async (): Promise<void> => {
    const taken = await enterStep(state.window, say('walk', 'leave'), {
      do: 'left',
      interlock: one.name,
      why: why.trim(),
    });
    if (taken) goTo(['window', state.window]);
  };
  return (
    <div class="stack">
      <p class="ask">{say('walk', 'leave-ask', { what: one.title || one.name })}</p>
      <div class="row">
        {WHYS.map((key) => {
          const text = say('walk', `why-${key}`);
          return (
            <button
              key={key}
              type="button"
              class="button"
              aria-pressed={why === text}
              onClick={() => setWhy(text)}
            >
              {text}
            </button>
          );
        })}
      </div>
      <label class="field">
        <span>{say('walk', 'why')}</span>
        <input maxLength={2_000} value={why} onInput={(event) => setWhy(event.currentTarget.value)} />
      </label>
      <button
        type="button"
        class="button first big wide"
        disabled={why.trim() === ''}
        onClick={() => void leave()}
      >
        {say('walk', 'leave')}
      </button>
      <a class="button wide" href={hrefOf(['window', state.window])}>
        {say('begin', 'back')}
      </a>
    </div>
  );
};
