import type { Micros } from '../../measure/index.ts';
import { applyHand, type HandCommand } from './hands.ts';
import { advance, createModel, type PlantOptions } from './plant-model.ts';

/** The controller's image at a time, µs from the start. */
export interface Sample {
  readonly at: Micros;
  readonly image: Readonly<Record<string, number>>;
}

/** Runs the plant on simulated time: hands by the clock of the script (seconds), the image at a poll's grid. */
export const simulate = (
  options: PlantOptions,
  script: readonly (readonly [number, HandCommand])[],
  until: number,
  poll: { readonly every: Micros; readonly phase: Micros },
): Sample[] => {
  const model = createModel(options);
  const samples: Sample[] = [];
  const pending = [...script].sort((a, b) => a[0] - b[0]);
  let next = poll.phase;
  while (model.now < until * 1_000_000) {
    while ((pending[0]?.[0] ?? Number.POSITIVE_INFINITY) * 1_000_000 <= model.now) {
      const command = pending.shift()?.[1];
      const answer = command && applyHand(model, command);
      if (answer?.ok === false) throw new Error(answer.error);
    }
    advance(model, 5_000);
    while (next <= model.now) {
      samples.push({ at: next, image: model.image });
      next += poll.every;
    }
  }
  return samples;
};
