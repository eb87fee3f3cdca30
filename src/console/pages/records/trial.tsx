import { useSignal } from '@preact/signals';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { RecordNow, TraceNow, TrialRecord } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Verdict } from '../../kit/mark.tsx';
import { Reading } from '../../kit/reading.tsx';
import { createPlotState, type PlotState, putCursor } from '../../plot/state.ts';
import { TracePlot } from '../../plot/trace-plot.tsx';
import { windowPath } from '../../state/api.ts';
import { useResource } from '../../state/resource.ts';
import { goTo, hrefOf, route } from '../../state/route.ts';
import { methodText, say } from '../../text/say.ts';
import type { Align } from './aligned.ts';
import { Arithmetic } from './arithmetic.tsx';
import { Comments } from './comments.tsx';
import { followDetail } from './detail.ts';
import { type Other, Overlay, otherIn } from './overlay.tsx';
import { tracePath } from './paths.ts';
import { Figures, Reasons } from './record.tsx';
import { Replay } from './replay.tsx';
import { firstLook, type Laid, laidOut, spanAround, type Tried, WIDTH } from './trial-plot.ts';

interface TrialPageProps {
  readonly window: string;
  readonly interlock: string;
  readonly trial: number;
}

/** A trial with its record and its trace; undefined while it is being read. */
const useTried = (window: string, interlock: string, trial: number) => {
  const record = useResource<RecordNow>(window === '' ? '' : `${windowPath(window)}/record`);
  const one = record.value?.interlocks.find(({ name }) => name === interlock);
  const own = one?.trials.find((each) => each.trial === trial);
  const signals = one === undefined ? [] : [...new Set([one.signal, ...one.effects])];
  const path = own === undefined ? '' : tracePath({ window, signals, ...spanAround(own), width: WIDTH });
  const trace = useResource<TraceNow>(path);
  const tried: Tried | undefined =
    one && own && trace.value && record.value
      ? { window, record: record.value, interlock: one, trial: own, trace: trace.value, signals }
      : undefined;
  return { record, trace, tried, missing: record.value !== undefined && own === undefined };
};

const alignIn = (said: string | null): Align => (said === 'begin' ? 'begin' : 'trip');

/** Shows what an address asks for; whatever it does not name stays. */
const look = (state: PlotState, query: URLSearchParams): void => {
  const [from, to, at] = ['from', 'to', 'at'].map((name) => Number(query.get(name) ?? Number.NaN));
  if (from !== undefined && to !== undefined && to > from) state.view.value = { from, to, follows: false };
  if (at !== undefined && Number.isFinite(at)) putCursor(state, at);
};

/** All of the trial, with the cursor where it acted. */
const stateFor = (trial: TrialRecord): PlotState => {
  const state = createPlotState(spanAround(trial), false);
  state.cursor.value = firstLook(trial);
  return state;
};

interface ShownProps {
  readonly props: TrialPageProps;
  readonly laid: Laid;
  readonly state: PlotState;
  readonly highlight: number | undefined;
}

/** The plot with what steers it. */
const Shown = ({ props, laid, state, highlight }: ShownProps) => {
  const grown = useSignal(0);
  const [plays, setPlays] = useState(false);
  const onPlay = useCallback((next: boolean) => setPlays(next), []);
  useEffect(() => {
    const shown = (): void => {
      grown.value += 1;
    };
    return followDetail(state, laid.loaded, shown);
  }, [state, laid, grown]);
  const line = highlight === undefined ? undefined : laid.arithmetic[highlight];
  const model = useMemo(
    () => (line === undefined ? laid.model : { ...laid.model, highlight: { ...line, signal: laid.cause } }),
    [laid, line],
  );
  const title = `${props.interlock}, ${say('records', 'trial', { n: props.trial })}`;
  return (
    <section class="card stack" aria-label={title}>
      <Replay state={state} plays={plays} onPlay={onPlay} />
      <TracePlot title={title} model={model} state={state} grown={grown} live={false} veiled={plays} />
      <p class="soft">{say('records', 'readings', { n: laid.readings })}</p>
    </section>
  );
};

/** Address of what is seen now, with its span, its cursor and the other trial. */
const ViewLink = ({ props, state }: { readonly props: TrialPageProps; readonly state: PlotState }) => {
  const { from, to } = state.view.value;
  const at = state.cursor.value;
  const { query } = route.value;
  const kept = Object.fromEntries([...query].filter(([name]) => name === 'with' || name === 'align'));
  const href = hrefOf(['records', props.window, props.interlock, String(props.trial)], {
    ...kept,
    from: from.toFixed(3),
    to: to.toFixed(3),
    ...(at !== undefined && { at: at.toFixed(3) }),
  });
  return (
    <a class="button" href={href}>
      {say('records', 'link')}
    </a>
  );
};

interface TrialProps {
  readonly props: TrialPageProps;
  readonly tried: Tried;
  readonly other: Tried | undefined;
  readonly otherRecord: RecordNow | undefined;
  readonly otherMissing: boolean;
  readonly again: () => void;
}

const Trial = ({ props, tried, other, otherRecord, otherMissing, again }: TrialProps) => {
  const { query } = route.value;
  const align = alignIn(query.get('align'));
  const { trial, interlock } = tried;
  const state = useMemo(() => stateFor(trial), [trial.from, trial.to]);
  // Another address of the same trial, pasted or behind a comment, is gone to as well.
  const asked = ['from', 'to', 'at'].map((name) => query.get(name)).join(' ');
  useEffect(() => look(state, query), [state, asked]);
  const laid = useMemo(() => laidOut(tried, other, align), [tried.trace, tried.record, other?.trace, align]);
  const [chosen, setChosen] = useState<number | undefined>(undefined);
  const choose = (next: Other | undefined, aligned: Align): void =>
    goTo(['records', props.window, props.interlock, String(props.trial)], {
      ...(next && { with: `${next.window}:${next.trial}` }),
      ...(aligned !== 'trip' && { align: aligned }),
    });
  return (
    <>
      <Card title={interlock.title || interlock.name} aside={<Verdict outcome={trial.outcome} />}>
        <div class="stack tight">
          <p class="soft">
            {say('records', 'method')}: {methodText(trial.method)}
          </p>
          <Figures signal={interlock.signal} tripPoint={trial.tripPoint} response={trial.response} />
          <Reasons reasons={trial.reasons} unit={interlock.unit} />
          <div class="row unprinted">
            <ViewLink props={props} state={state} />
            <button type="button" class="button" onClick={() => print()}>
              {say('shell', 'print')}
            </button>
          </div>
        </div>
      </Card>
      <div class="trial-columns">
        <Shown props={props} laid={laid} state={state} highlight={chosen} />
        <Arithmetic lines={trial.arithmetic} chosen={chosen} onChoose={setChosen} />
      </div>
      <Overlay
        {...props}
        other={otherIn(query.get('with'))}
        otherRecord={otherRecord}
        missing={otherMissing}
        align={align}
        onChoose={choose}
        shift={laid.shift}
      />
      <CommentsAtCursor tried={tried} state={state} again={again} />
    </>
  );
};

/** Follows the cursor by itself, so that the rest of the page need not. */
const CommentsAtCursor = ({ tried, state, again }: { tried: Tried; state: PlotState; again: () => void }) => (
  <Comments
    record={tried.record}
    about={{ interlock: tried.interlock.name, trial: tried.trial.trial, at: state.cursor.value }}
    onEntered={again}
  />
);

/** One trial replayed, with the sums behind its verdict, and another one laid over it. */
export const TrialPage = (props: TrialPageProps) => {
  const { window, interlock, trial } = props;
  const own = useTried(window, interlock, trial);
  const wanted = otherIn(route.value.query.get('with'));
  const other = useTried(wanted?.window ?? '', interlock, wanted?.trial ?? 0);
  return (
    <div class="stack">
      <p class="unprinted">
        <a class="button" href={hrefOf(['records', window])}>
          ← {say('records', 'back-window', { window })}
        </a>
      </p>
      <h1>
        {interlock} · {say('records', 'trial', { n: trial })}
      </h1>
      {own.missing ? (
        <p class="told bad">{say('records', 'no-trial-here')}</p>
      ) : (
        <Reading<RecordNow | TraceNow> of={own.record.trouble === undefined ? own.trace : own.record}>
          {() =>
            own.tried !== undefined && (
              <Trial
                props={props}
                tried={own.tried}
                other={other.tried}
                otherRecord={other.record.value}
                otherMissing={other.missing || other.record.trouble !== undefined}
                again={own.record.again}
              />
            )
          }
        </Reading>
      )}
    </div>
  );
};
