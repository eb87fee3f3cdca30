import { type Signal, signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { LiveBegin, Rows } from '../../../api/index.ts';
import { clear, createSeries, type Series, takeRows } from '../../plot/series.ts';
import { createPlotState, type PlotState } from '../../plot/state.ts';

/** Signals as they are being read. */
export interface Followed {
  readonly names: readonly string[];
  readonly series: readonly Series[];
  /** Microseconds since 1970. */
  readonly zero: number;
  readonly state: PlotState;
  readonly grown: Signal<number>;
}

interface Told {
  readonly followed?: Followed;
  /** This device has missed readings, and has been told so. */
  readonly skipped: boolean;
  readonly away: boolean;
}

const begun = (begin: LiveBegin, span: number): Followed => {
  const reach = { from: -span, to: 0 };
  return {
    names: begin.signals,
    series: begin.signals.map(createSeries),
    zero: begin.zero,
    state: createPlotState(reach, true),
    grown: signal(0),
  };
};

/** The oldest row that came: the trace reaches back so far. */
const reachBack = ({ state }: Followed, { t }: Rows, shift: number): void => {
  const oldest = t.reduce((least, at) => Math.min(least, at), 0) / 1e6 + shift;
  const { from, to } = state.reach.value;
  if (oldest < from) state.reach.value = { from: oldest, to };
};

/** Follows these signals, beginning `span` seconds back, for as long as they are shown. */
export const useLive = (names: readonly string[], span: number): Told => {
  const [told, setTold] = useState<Told>({ skipped: false, away: false });
  const asked = names.join(',');
  useEffect(() => {
    setTold({ skipped: false, away: false });
    if (asked === '') return;
    const source = new EventSource(`/api/live?signals=${encodeURIComponent(asked)}&span=${span}`);
    let followed: Followed | undefined;
    let shift = 0;
    const take = (rows: Rows): void => {
      if (followed === undefined) return;
      takeRows(followed.series, rows, shift);
      followed.grown.value += 1;
    };
    source.addEventListener('begin', (event) => {
      const begin = JSON.parse(event.data as string) as LiveBegin;
      followed ??= begun(begin, span);
      shift = (begin.zero - followed.zero) / 1e6;
      for (const one of followed.series) clear(one);
      reachBack(followed, begin.before, shift);
      take(begin.before);
      const own = followed;
      setTold(({ skipped }) => ({ followed: own, skipped, away: false }));
    });
    source.addEventListener('rows', (event) => take(JSON.parse(event.data as string) as Rows));
    source.addEventListener('skipped', () => setTold((before) => ({ ...before, skipped: true })));
    source.addEventListener('error', () => setTold((before) => ({ ...before, away: true })));
    return () => source.close();
  }, [asked, span]);
  return told;
};
