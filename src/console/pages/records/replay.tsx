import { useEffect, useState } from 'preact/hooks';
import { Choice } from '../../kit/choice.tsx';
import { type PlotState, putCursor } from '../../plot/state.ts';
import { say } from '../../text/say.ts';

interface ReplayProps {
  readonly state: PlotState;
  readonly plays: boolean;
  readonly onPlay: (plays: boolean) => void;
}

const PACES = ['1', '4'] as const;
const STEP_MS = 50;
const CALM_STEP_MS = 500;

/** Moves the cursor as time went, or four times as fast. */
export const Replay = ({ state, plays, onPlay }: ReplayProps) => {
  const [pace, setPace] = useState<(typeof PACES)[number]>('1');
  useEffect(() => {
    if (!plays) return;
    const { from, to } = state.reach.peek();
    const at = state.cursor.peek();
    const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    putCursor(state, at === undefined || at >= to - 0.01 ? from : at);
    let before = performance.now();
    const timer = setInterval(
      () => {
        const now = performance.now();
        // From where it stands: whoever puts the cursor elsewhere goes on from there; without one it is over.
        const next = (state.cursor.peek() ?? to) + ((now - before) / 1_000) * Number(pace);
        before = now;
        putCursor(state, next);
        if (next >= to) onPlay(false);
      },
      calm ? CALM_STEP_MS : STEP_MS,
    );
    return () => clearInterval(timer);
  }, [plays, pace, state, onPlay]);
  return (
    <div class="row unprinted">
      <button type="button" class="button first" aria-pressed={plays} onClick={() => onPlay(!plays)}>
        {plays ? `■ ${say('records', 'play-stop')}` : `▶ ${say('records', 'play')}`}
      </button>
      <Choice
        label={say('records', 'pace')}
        value={pace}
        options={PACES.map((value) => ({ value, text: `${value} ×` }))}
        onChoose={setPace}
      />
    </div>
  );
};
