import type { PlotModel, PlotSignal } from './model.ts';
import { isState } from './model.ts';
import { paintFlags, paintStrip, STRIP } from './paint-strips.ts';
import type { Palette } from './palette.ts';
import { GUTTER } from './panel.ts';

export interface Strips {
  draw(from: number, to: number): void;
  resize(width: number): void;
  destroy(): void;
}

const barsOf = ({ signals }: PlotModel): readonly PlotSignal[] => signals.filter(isState);

interface StripNeeds {
  readonly host: HTMLElement;
  readonly model: () => PlotModel;
  readonly palette: () => Palette;
  readonly width: number;
}

/** Flags of people and strips of states under the panels, on the same axis of time. */
export const createStrips = ({ host, model, palette, width }: StripNeeds): Strips => {
  const canvas = document.createElement('canvas');
  canvas.setAttribute('aria-hidden', 'true');
  host.append(canvas);
  const ctx = canvas.getContext('2d');
  let wide = width;
  const heightOf = (): number => {
    const bars = barsOf(model()).length;
    return STRIP.flags + STRIP.gap + bars * (STRIP.name + STRIP.bar + STRIP.gap);
  };
  const sized = (): void => {
    const ratio = devicePixelRatio;
    const height = heightOf();
    canvas.width = Math.round(wide * ratio);
    canvas.height = Math.round(height * ratio);
    canvas.style.width = `${wide}px`;
    canvas.style.height = `${height}px`;
  };
  sized();
  return {
    draw(from, to) {
      if (ctx === null) return;
      const ratio = devicePixelRatio;
      if (canvas.height !== Math.round(heightOf() * ratio)) sized();
      ctx.clearRect(0, 0, canvas.width, canvas.height);
      const frame = {
        ctx,
        left: GUTTER.left * ratio,
        width: (wide - GUTTER.left - GUTTER.right) * ratio,
        ratio,
        palette: palette(),
        from,
        to,
      };
      let top = paintFlags(frame, model(), 0) + STRIP.gap * ratio;
      for (const signal of barsOf(model())) top = paintStrip(frame, signal, top);
    },
    resize(next) {
      wide = next;
      sized();
    },
    destroy: () => canvas.remove(),
  };
};
