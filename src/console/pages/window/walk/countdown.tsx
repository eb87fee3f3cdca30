import { useEffect, useRef, useState } from 'preact/hooks';
import type { GuideState } from '../../../../guide/index.ts';
import { shake } from '../../../kit/shake.ts';
import { partIn } from '../../../state/device.ts';
import { ahead, connected } from '../../../state/stream.ts';
import { say } from '../../../text/say.ts';
import { enterStep } from './enter.ts';
import { speakAloud } from './speech.ts';

/** So long NOW is shown, milliseconds. */
const SHOWN = 2_500;
const LOOK = 50;

const leftUntil = (at: string): number => Date.parse(at) - (Date.now() + ahead.value);

/** Whole page while it is counted; every screen counts to the same instant of the daemon's clock. */
export const Countdown = ({ state }: { readonly state: GuideState }) => {
  const [, look] = useState(0);
  const one = state.interlocks.find(
    ({ countdown }) => countdown !== undefined && leftUntil(countdown.at) > -SHOWN,
  );
  const at = one?.countdown?.at ?? '';
  const left = at === '' ? Number.NaN : leftUntil(at);
  const figure = left > 0 ? Math.ceil(left / 1_000) : 0;
  // Somebody may have stopped it meanwhile: whoever hears nothing of that is not told to move.
  const alone = !connected.value;
  const stop = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (at === '') return;
    stop.current?.focus();
    const timer = setInterval(() => {
      look((turn) => turn + 1);
      if (leftUntil(at) < -SHOWN) clearInterval(timer);
    }, LOOK);
    return () => clearInterval(timer);
  }, [at]);
  useEffect(() => {
    if (at === '') return;
    if (alone) return;
    shake(figure === 0 ? [700] : [60]);
    if (figure <= 3) speakAloud(state.window, figure === 0 ? say('walk', 'now') : String(figure));
  }, [at, figure, alone]);
  if (one === undefined) return null;
  return (
    <div
      class={`count ${figure === 0 && !alone ? 'now' : ''}`}
      role="alertdialog"
      aria-label={say('walk', 'counting')}
    >
      <p class="what">{one.title || one.name}</p>
      {alone ? (
        <p class="ask" role="alert">
          ⚠ {say('walk', 'count-away')}
        </p>
      ) : (
        <p class="figure" role="timer" aria-live="assertive">
          {figure === 0 ? say('walk', 'now') : figure}
        </p>
      )}
      <div class="bar" aria-hidden="true">
        <i style={{ width: `${Math.min(100, Math.max(0, left / 100))}%` }} />
      </div>
      {figure > 0 && partIn(state.window) !== 'follow' && (
        <button
          ref={stop}
          type="button"
          class="button big wide danger"
          onClick={() =>
            void enterStep(state.window, say('walk', 'stop-count'), {
              do: 'countdown-stopped',
              interlock: one.name,
            })
          }
        >
          {say('walk', 'stop-count')}
        </button>
      )}
    </div>
  );
};
