import { effect } from '@preact/signals';
import { lookNow } from '../state/prefs.ts';
import type { PlotModel } from './model.ts';
import { createPainted } from './painted.ts';
import { type Palette, readPalette } from './palette.ts';
import { AXIS_HEIGHT, createPanel, GUTTER, type PanelPlan, panelPlans } from './panel.ts';
import { timeOf } from './series.ts';
import type { PlotState } from './state.ts';
import { createStrips } from './strips.ts';

/** Where each part of a plot is put. */
export interface ChartPlaces {
  /** One for each panel, in the order of `panelPlans`. */
  readonly panels: readonly HTMLElement[];
  readonly strips: HTMLElement;
  /** Line of the cursor over all of it, and whatever lies beyond it while a trial is replayed. */
  readonly cursor: HTMLElement;
  readonly beyond: HTMLElement;
}

export interface Chart {
  /** Marks, levels or the place to be shown have changed; signals and units have not. */
  take(model: PlotModel): void;
  /** There are new rows. */
  grown(): void;
  end(): void;
}

const BEAT_MS = 250;
const CALM_MS = 500;
/** Where no rows come, time goes on all the same. */
const IDLE_MS = 500;

const print = matchMedia('print');

/** On paper a picture is to stand on one page with what it shows. */
const heightOnPaper = (panels: number): number => (panels <= 1 ? 215 : 170);

const heightOf = (plans: readonly PanelPlan[], wide: number): number => {
  const panels = plans.length;
  const small = wide < 560;
  if (plans.every(({ lines }) => lines.length === 0)) return AXIS_HEIGHT + 14;
  if (print.matches) return heightOnPaper(panels);
  if (panels <= 1) return small ? 260 : 340;
  if (panels === 2) return small ? 200 : 240;
  return small ? 170 : 180;
};

const calm = matchMedia('(prefers-reduced-motion: reduce)');

/** The newest reading of all signals, in seconds after the zero of the plot. */
const newestOf = ({ signals }: PlotModel): number => {
  let newest = Number.NEGATIVE_INFINITY;
  for (const { series } of signals)
    if (series.count > 0) newest = Math.max(newest, timeOf(series, series.count - 1));
  return newest;
};

/** Seconds after the zero that it is now, steadily: it was never earlier than the newest reading. */
const steadyNow = (): ((newest: number) => number) => {
  let ahead = Number.NEGATIVE_INFINITY;
  return (newest) => {
    const own = performance.now() / 1_000;
    ahead = Math.max(ahead, newest - own);
    return own + ahead;
  };
};

/** Draws panels and strips: once for each picture of the screen, and only where something changed. */
export const createChart = (places: ChartPlaces, first: PlotModel, state: PlotState): Chart => {
  let model = first;
  let palette: Palette = readPalette(places.strips);
  let width = places.strips.clientWidth;
  let asked = 0;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  let drawnAt = 0;
  let beatAt = 0;
  let fresh = false;
  const nowOf = steadyNow();
  const painted = createPainted();
  const told = { model: () => model, palette: () => palette };
  const plans = panelPlans(model);
  const height = heightOf(plans, width);
  const panels = plans.flatMap((plan, index) => {
    const host = places.panels[index];
    // A browser counts its pages before a picture can follow.
    host?.style.setProperty('--high-on-paper', `${heightOnPaper(plans.length)}px`);
    return host === undefined ? [] : [createPanel({ host, plan, ...told, size: { width, height } })];
  });
  const strips = createStrips({ host: places.strips, ...told, width });

  const follow = (): void => {
    const newest = newestOf(model);
    if (!state.view.value.follows || newest === Number.NEGATIVE_INFINITY) return;
    const to = nowOf(newest);
    const wide = state.view.value.to - state.view.value.from;
    state.shown = { from: to - wide, to };
    state.reach.value = { from: Math.min(state.reach.value.from, to - wide), to };
  };

  const placeCursor = (): void => {
    const { from, to } = state.shown;
    const at = state.cursor.value;
    const share = at === undefined ? -1 : (at - from) / (to - from);
    places.cursor.hidden = share < 0 || share > 1;
    const x = GUTTER.left + Math.min(1, Math.max(0, share)) * (width - GUTTER.left - GUTTER.right);
    places.cursor.style.transform = `translateX(${x}px)`;
    places.beyond.style.left = `${x}px`;
  };

  const draw = (): void => {
    const began = performance.now();
    drawnAt = began;
    if (state.view.value.follows) follow();
    else state.shown = { from: state.view.value.from, to: state.view.value.to };
    const { from, to } = state.shown;
    for (const panel of panels) panel.draw(from, to);
    strips.draw(from, to);
    placeCursor();
    if (fresh) {
      fresh = false;
      const newest = model.zero + Math.round(newestOf(model) * 1e6);
      painted.tell({ newest, took: performance.now() - began });
    }
    if (began - beatAt > BEAT_MS) {
      beatAt = began;
      state.beat.value += 1;
    }
  };

  const request = (): void => {
    if (asked !== 0) return;
    asked = requestAnimationFrame(() => {
      asked = 0;
      draw();
    });
  };
  /** Whoever wants little motion sees steps, two a second. */
  const schedule = (): void => {
    if (waiting !== undefined) return;
    if (!calm.matches) {
      request();
      return;
    }
    const wait = Math.max(0, drawnAt + CALM_MS - performance.now());
    waiting = setTimeout(() => {
      waiting = undefined;
      request();
    }, wait);
  };

  const refit = (wide: number): void => {
    width = wide;
    for (const panel of panels) panel.resize(width, heightOf(plans, width));
    strips.resize(width);
  };
  const resized = new ResizeObserver(() => {
    const next = places.strips.clientWidth;
    if (next === width || next === 0) return;
    refit(next);
    request();
  });
  resized.observe(places.strips);

  const unfollow = [
    effect(() => {
      const { view, cursor } = state;
      void [view.value, cursor.value];
      request();
    }),
    effect(() => {
      void lookNow();
      // The style sheet has followed by the next picture.
      requestAnimationFrame(() => {
        palette = readPalette(places.strips);
        request();
      });
    }),
  ];
  const paper = (): void => {
    palette = readPalette(places.strips);
    refit(places.strips.clientWidth || width);
    draw();
  };
  print.addEventListener('change', paper);
  const idle = setInterval(() => {
    if (state.view.value.follows && performance.now() - drawnAt > IDLE_MS) request();
  }, IDLE_MS);

  return {
    take(next) {
      model = next;
      request();
    },
    grown() {
      fresh = true;
      schedule();
    },
    end() {
      cancelAnimationFrame(asked);
      clearTimeout(waiting);
      clearInterval(idle);
      resized.disconnect();
      print.removeEventListener('change', paper);
      for (const stop of unfollow) stop();
      for (const panel of panels) panel.destroy();
      strips.destroy();
      painted.end();
    },
  };
};
