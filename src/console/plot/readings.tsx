import { say } from '../text/say.ts';
import { linePlaces, type PlotModel } from './model.ts';
import type { PlotState } from './state.ts';
import { LineSample } from './swatch.tsx';
import { instantOf, instantText, secondsText, valueNow } from './told.ts';

interface ReadingsProps {
  readonly model: PlotModel;
  readonly state: PlotState;
}

/** When it is that the figures below speak of. */
export const CursorTime = ({ model, state }: ReadingsProps) => {
  void state.beat.value;
  const at = instantOf(state);
  const clock = instantText({ ...model, times: 'clock' }, at);
  return (
    <p class="plot-time row figures">
      <strong>{say('plot', state.cursor.value === undefined ? 'newest' : 'at-cursor')}</strong>
      <span>{clock}</span>
      {model.times === 'elapsed' && <span>{secondsText(at)}</span>}
      {state.cursor.value !== undefined && (
        <button
          type="button"
          class="button unprinted"
          onClick={() => {
            state.cursor.value = undefined;
          }}
        >
          {say('plot', 'cursor-away')}
        </button>
      )}
    </p>
  );
};

/** Each signal with what it was at the cursor: least … greatest that it can have been. */
export const Readings = ({ model, state }: ReadingsProps) => {
  void state.beat.value;
  void state.cursor.value;
  const places = linePlaces(model);
  return (
    <dl class="plot-readings">
      {model.signals.map((signal) => (
        <div key={signal.key}>
          <dt>
            {places.has(signal) && <LineSample place={places.get(signal) ?? 0} second={signal.second} />}{' '}
            <b>{signal.key}</b> {signal.name}
          </dt>
          <dd class="figures">{valueNow(signal, state)}</dd>
        </div>
      ))}
    </dl>
  );
};
