import { useEffect, useRef, useState } from 'preact/hooks';
import { say } from '../text/say.ts';

/** So long a finger stays on it, milliseconds. */
const HELD = 1_200;
/** So long a button that was pressed by keyboard waits for the second time. */
const ARMED = 5_000;

interface HoldProps {
  readonly text: string;
  readonly danger?: boolean;
  readonly onDone: () => void;
}

/**
 * For what a slip must not do: held until it fills. Whoever cannot hold (keyboard, switch, screen reader, a short tap)
 * presses a second time instead.
 */
export const Hold = ({ text, danger = false, onDone }: HoldProps) => {
  const [state, setState] = useState<'idle' | 'holding' | 'armed'>('idle');
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const done = useRef(false);
  useEffect(() => () => clearTimeout(timer.current), []);
  const later = (milliseconds: number, what: () => void): void => {
    clearTimeout(timer.current);
    timer.current = setTimeout(what, milliseconds);
  };
  const begin = (): void => {
    done.current = false;
    if (state === 'armed') return;
    setState('holding');
    later(HELD, () => {
      done.current = true;
      setState('idle');
      onDone();
    });
  };
  const press = (): void => {
    // A finger that has held long enough has done it already.
    if (done.current) {
      done.current = false;
      return;
    }
    if (state === 'armed') {
      clearTimeout(timer.current);
      setState('idle');
      onDone();
      return;
    }
    setState('armed');
    later(ARMED, () => setState('idle'));
  };
  const away = (): void => {
    if (state !== 'holding') return;
    clearTimeout(timer.current);
    setState('idle');
  };
  return (
    <button
      type="button"
      class={`button big wide hold ${danger ? 'danger' : ''} ${state}`}
      onPointerDown={begin}
      onPointerLeave={away}
      onPointerCancel={away}
      onContextMenu={(event) => event.preventDefault()}
      onClick={press}
    >
      <span>{state === 'armed' ? say('walk', 'press-again', { what: text }) : text}</span>
      <small aria-hidden="true">{state === 'armed' ? '' : say('walk', 'hold')}</small>
    </button>
  );
};
