import { say } from '../text/say.ts';
import { goOn, move, type PlotState, pause, showAll, zoom } from './state.ts';

interface ToolsProps {
  readonly state: PlotState;
  readonly live: boolean;
}

const follows = (state: PlotState): boolean => state.view.value.follows;

/** Everything that fingers and keys do to a plot, as buttons. */
export const Tools = ({ state, live }: ToolsProps) => (
  <div class="plot-tools unprinted" role="toolbar" aria-label={say('plot', 'tools')}>
    {live && (
      <button
        type="button"
        class={`button ${follows(state) ? '' : 'first'}`}
        onClick={() => (follows(state) ? pause(state) : goOn(state))}
      >
        {say('plot', follows(state) ? 'pause' : 'go-on')}
      </button>
    )}
    <button type="button" class="button" onClick={() => zoom(state, 0.5)}>
      {say('plot', 'nearer')}
    </button>
    <button type="button" class="button" onClick={() => zoom(state, 2)}>
      {say('plot', 'farther')}
    </button>
    <button type="button" class="button" onClick={() => move(state, -0.4)}>
      {say('plot', 'earlier')}
    </button>
    <button type="button" class="button" onClick={() => move(state, 0.4)}>
      {say('plot', 'later')}
    </button>
    <button type="button" class="button" onClick={() => showAll(state)}>
      {say('plot', 'all')}
    </button>
  </div>
);
