import { goOn, move, moveCursor, type PlotState, pause, putCursor, showAll, zoom } from './state.ts';

const STEP = 0.005;
const LEAP = 0.05;

/** What a key does while the cursor of a plot has the focus. Tells whether it did anything. */
export const pressed = (state: PlotState, event: KeyboardEvent): boolean => {
  if (event.ctrlKey || event.altKey || event.metaKey) return false;
  const by = event.shiftKey ? LEAP : STEP;
  const acts: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => moveCursor(state, -by),
    ArrowRight: () => moveCursor(state, by),
    ArrowDown: () => moveCursor(state, -LEAP),
    ArrowUp: () => moveCursor(state, LEAP),
    PageUp: () => move(state, 0.8),
    PageDown: () => move(state, -0.8),
    Home: () => putCursor(state, state.reach.value.from),
    End: () => putCursor(state, state.reach.value.to),
    '+': () => zoom(state, 0.5),
    '=': () => zoom(state, 0.5),
    '-': () => zoom(state, 2),
    '0': () => showAll(state),
    ' ': () => (state.view.value.follows ? pause(state) : goOn(state)),
  };
  const act = acts[event.key];
  if (act === undefined) return false;
  event.preventDefault();
  act();
  return true;
};
