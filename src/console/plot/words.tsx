import { useState } from 'preact/hooks';
import { boundsText } from '../text/quantity.ts';
import { say } from '../text/say.ts';
import { isState, type PlotBand, type PlotModel, type PlotSignal } from './model.ts';
import type { PlotState } from './state.ts';
import { changesOf, summaryOf } from './summary.ts';
import { instantText, stateName } from './told.ts';

interface InWordsProps {
  readonly model: PlotModel;
  readonly state: PlotState;
}

/** Of a signal that chatters, so many changes are told. */
const MOST_TOLD = 8;

const isLevel = ({ kind }: PlotBand): boolean => kind === 'set-point' || kind === 'limit';

const measured = (model: PlotModel, signal: PlotSignal, from: number, to: number): readonly string[] => {
  const { shown, series, name } = signal;
  const { least, greatest, last, gaps } = summaryOf(series, from, to);
  if (least === undefined || greatest === undefined || last === undefined)
    return [say('plot', 'words-nothing')];
  const at = (t: number): string => instantText(model, t);
  const crossed = model.bands
    .filter((band) => band.signal === name && isLevel(band))
    .flatMap((band) => {
      const { crossings } = summaryOf(series, from, to, band);
      const level = `${say('plot', `band-${band.kind}`)} (${boundsText(band.level.low, band.level.high, shown)})`;
      if (crossings.length === 0) return [say('plot', 'words-not-crossed', { level })];
      return crossings.slice(0, MOST_TOLD).map((one) =>
        say('plot', one.to === 'below' ? 'words-fell' : 'words-rose', {
          level,
          from: at(one.after),
          to: at(one.until),
        }),
      );
    });
  return [
    say('plot', 'words-least', { value: boundsText(least.low, least.high, shown), at: at(least.at) }),
    say('plot', 'words-greatest', {
      value: boundsText(greatest.low, greatest.high, shown),
      at: at(greatest.at),
    }),
    say('plot', 'words-last', { value: boundsText(last.low, last.high, shown) }),
    ...crossed,
    ...(gaps > 0 ? [say('plot', 'words-gaps', { n: gaps })] : []),
  ];
};

const stated = (model: PlotModel, signal: PlotSignal, from: number, to: number): readonly string[] => {
  const changes = changesOf(signal.series, from, to);
  const [first, ...others] = changes;
  if (first === undefined) return [say('plot', 'words-nothing')];
  const left = others.length - MOST_TOLD;
  return [
    say('plot', 'words-began', { state: stateName(signal, first.state) }),
    ...others.slice(0, MOST_TOLD).map(({ state, after, until }) =>
      say('plot', 'words-changed', {
        state: stateName(signal, state),
        from: instantText(model, after),
        to: instantText(model, until),
      }),
    ),
    ...(left > 0 ? [say('plot', 'words-more', { n: left })] : []),
  ];
};

/** What is on the screen, in words; worked out only while somebody wants it, and anew when asked. */
export const InWords = ({ model, state }: InWordsProps) => {
  const [open, setOpen] = useState(false);
  // Told for what was on the screen when it was opened or paused: words that change by themselves cannot be read.
  const [span, setSpan] = useState(state.shown);
  const renew = (): void => setSpan({ ...state.shown });
  const marks = model.marks.filter(({ t }) => t >= span.from && t <= span.to);
  return (
    <details
      class="plot-words"
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
        renew();
      }}
    >
      <summary>{say('plot', 'words')}</summary>
      {open && (
        <div class="stack tight">
          <p class="row">
            <span class="grow">
              {say('plot', 'words-span', {
                from: instantText(model, span.from),
                to: instantText(model, span.to),
              })}
            </span>
            <button type="button" class="button unprinted" onClick={renew}>
              {say('plot', 'words-renew')}
            </button>
          </p>
          <dl class="stack tight">
            {model.signals.map((signal) => (
              <div key={signal.key}>
                <dt>
                  <strong>{signal.name}</strong>
                  {signal.second && ` (${say('plot', 'second')})`}
                </dt>
                {(isState(signal) ? stated : measured)(model, signal, span.from, span.to).map((line) => (
                  <dd key={line}>{line}</dd>
                ))}
              </div>
            ))}
            {marks.length > 0 && (
              <div>
                <dt>
                  <strong>{say('plot', 'words-marks')}</strong>
                </dt>
                {marks.map(({ t, text }) => (
                  <dd key={`${t} ${text}`}>
                    {instantText(model, t)} {text}
                  </dd>
                ))}
              </div>
            )}
          </dl>
        </div>
      )}
    </details>
  );
};
