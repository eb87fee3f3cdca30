import type { Micros } from '../../measure/index.ts';
import type { HandCommand } from './command.ts';
import { applyHand } from './hands.ts';
import { advance, createModel } from './plant-model.ts';
import type { PlantOptions } from './state.ts';

/** The controller's image at a time, µs from the start: what an answer given at that time would show. */
export interface Sample {
  readonly at: Micros;
  readonly image: Readonly<Record<string, number>>;
}

/**
 * Runs the plant on simulated time: hands by the clock of the script (seconds), the image at a poll's grid.
 * Throws where the plant refuses a hand.
 */
export const simulate = (
  options: PlantOptions,
  script: readonly (readonly [number, HandCommand])[],
  until: number,
  poll: { readonly every: Micros; readonly phase: Micros },
): Sample[] => {
  const model = createModel(options);
  const samples: Sample[] = [];
  const hands = script
    .map(([seconds, command]) => ({ at: Math.round(seconds * 1_000_000), command }))
    .sort((a, b) => a.at - b.at);
  const end = until * 1_000_000;
  for (let at = poll.phase, hand = 0; at <= end; at += poll.every) {
    for (let due = hands[hand]; due !== undefined && due.at <= at; due = hands[++hand]) {
      advance(model, due.at - model.asked);
      const answer = applyHand(model, due.command);
      if (!answer.ok) throw new Error(`${due.command.do} at ${due.at / 1_000_000} s: ${answer.error}`);
    }
    advance(model, at - model.asked);
    samples.push({ at, image: model.image });
  }
  return samples;
};
