import { useSignalEffect } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { say } from '../text/say.ts';
import { type Chart, createChart } from './chart.ts';
import { pressed } from './keys.ts';
import type { PlotModel } from './model.ts';
import { panelPlans } from './panel.ts';
import { followPointers } from './pointers.ts';
import { CursorTime, Readings } from './readings.tsx';
import type { PlotState } from './state.ts';
import { LineSample } from './swatch.tsx';
import { cursorWords } from './told.ts';
import { Tools } from './tools.tsx';
import { InWords } from './words.tsx';

interface TracePlotProps {
  readonly title: string;
  readonly model: PlotModel;
  readonly state: PlotState;
  /** Counts up whenever rows were added. */
  readonly grown: { readonly value: number };
  readonly live: boolean;
  /** A trial is being replayed: what lies beyond the cursor is veiled. */
  readonly veiled?: boolean;
}

/** Counts up where a plot has to be built anew: other signals, other rows of them, or other units. */
const useBuild = ({ signals, zero }: PlotModel, units: readonly string[]): number => {
  const parts = [zero, ...units, ...signals.flatMap(({ key, series }) => [key, series])];
  const before = useRef({ parts, build: 0 });
  const { current } = before;
  const same = parts.length === current.parts.length && parts.every((one, at) => one === current.parts[at]);
  if (!same) before.current = { parts, build: current.build + 1 };
  return before.current.build;
};

/** Signals over time with their doubt, strips of states, flags, a cursor, and all of it in words. */
export const TracePlot = ({ title, model, state, grown, live, veiled = false }: TracePlotProps) => {
  const body = useRef<HTMLDivElement>(null);
  const strips = useRef<HTMLDivElement>(null);
  const cursor = useRef<HTMLDivElement>(null);
  const beyond = useRef<HTMLDivElement>(null);
  const chart = useRef<Chart>(undefined);
  const plans = panelPlans(model);
  const build = useBuild(
    model,
    plans.map(({ unit }) => unit),
  );
  useEffect(() => {
    const { current: host } = body;
    if (host === null || strips.current === null || cursor.current === null || beyond.current === null)
      return;
    const places = {
      panels: [...host.querySelectorAll<HTMLElement>('.plot-panel')],
      strips: strips.current,
      cursor: cursor.current,
      beyond: beyond.current,
    };
    chart.current = createChart(places, model, state);
    return () => {
      chart.current?.end();
      chart.current = undefined;
    };
  }, [build, state]);
  useEffect(() => chart.current?.take(model), [model]);
  useSignalEffect(() => {
    if (grown.value > 0) chart.current?.grown();
  });
  useEffect(() => (body.current === null ? undefined : followPointers(body.current, state)), [state]);
  const captions = useMemo(() => plans, [build]);
  return (
    <figure class="plot" aria-label={title}>
      <Tools state={state} live={live} />
      <CursorBox state={state} model={model}>
        <div class={`plot-body ${veiled ? 'veiled' : ''}`} ref={body}>
          {captions.map((plan) => (
            <div key={plan.unit}>
              <p class="plot-caption">
                <strong>{plan.unit}</strong>
                {plan.lines.map(({ signal, place }) => (
                  <span key={signal.key} class="nowrap">
                    <LineSample place={place} second={signal.second} /> <b>{signal.key}</b> {signal.name}
                  </span>
                ))}
              </p>
              <div class="plot-panel" />
            </div>
          ))}
          <div class="plot-strips" ref={strips} />
          <div class="plot-beyond" ref={beyond} />
          <div class="plot-cursor" ref={cursor} hidden />
        </div>
      </CursorBox>
      <CursorTime model={model} state={state} />
      <Readings model={model} state={state} />
      <p class="soft unprinted">{say('plot', 'keys')}</p>
      <InWords model={model} state={state} />
    </figure>
  );
};

interface CursorBoxProps {
  readonly state: PlotState;
  readonly model: PlotModel;
  readonly children: preact.ComponentChildren;
}

/** The picture as one control: the keys move its cursor, and a screen reader is told what it stands on. */
const CursorBox = ({ state, model, children }: CursorBoxProps) => {
  // Told anew by the beat only: while it follows, the newest edge moves with each picture.
  void state.beat.value;
  const { from, to } = state.reach.peek();
  return (
    <div
      class="plot-box"
      role="slider"
      tabIndex={0}
      aria-label={say('plot', 'cursor')}
      aria-valuemin={Math.floor(from)}
      aria-valuemax={Math.ceil(to)}
      aria-valuenow={Math.round(state.cursor.value ?? to)}
      aria-valuetext={cursorWords(model, state)}
      onKeyDown={(event) => pressed(state, event)}
    >
      {children}
    </div>
  );
};
