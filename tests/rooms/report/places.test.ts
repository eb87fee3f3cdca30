/** The sums behind a verdict with the place on the plot that each speaks of. */
import { expect, test } from 'vitest';
import { arithmetic } from '../../../src/report/arithmetic/arithmetic.ts';
import { placedArithmetic, trialArithmetic } from '../../../src/report/arithmetic/places.ts';
import { subjectsOf } from '../../../src/report/facts.ts';
import { text } from '../../../src/words/index.ts';
import { SAMPLE } from './sample.ts';

const [subject] = subjectsOf(SAMPLE);
if (subject === undefined) throw new Error('the sample has an interlock');
const { verdict } = subject.report;

test('they are the sums of the report, in their order', () => {
  expect(placedArithmetic(SAMPLE.opened, subject).map(({ says }) => text(says))).toEqual(
    arithmetic(SAMPLE, subject),
  );
});

test('the trip point lies where the first effect changed, at the level that it was found at', () => {
  const [share, setPoint] = placedArithmetic(SAMPLE.opened, subject);
  const changed = verdict.effects.flatMap((one) => one.changed ?? []);
  const first = changed.reduce((least, one) => (one.latest < least.latest ? one : least));
  const span = {
    from: (first.earliest - SAMPLE.opened) / 1e6,
    to: (first.latest - SAMPLE.opened) / 1e6,
  };
  expect(share).toMatchObject({ ...span, level: verdict.tripPoint });
  expect(setPoint).toMatchObject({ ...span, level: verdict.tripPoint });
});

test('the limit and the normal are levels of their own', () => {
  const lines = placedArithmetic(SAMPLE.opened, subject);
  expect(lines.find(({ says }) => says.code === 'sum-limit')?.level).toEqual({ low: 76.8, high: 76.8 });
  const normal = lines.find(({ says }) => says.code === 'sum-normal');
  expect(normal?.from).toBeUndefined();
});

test('every place lies in the trials, and a trial alone tells of itself', () => {
  const seconds = (at: number): number => (at - SAMPLE.opened) / 1e6;
  const from = Math.min(...verdict.trials.map(({ span }) => seconds(span.earliest)));
  const to = Math.max(...verdict.trials.map(({ span }) => seconds(span.latest)));
  for (const line of placedArithmetic(SAMPLE.opened, subject)) {
    if (line.from === undefined || line.to === undefined) continue;
    expect(line.from).toBeLessThanOrEqual(line.to);
    expect(line.from).toBeGreaterThanOrEqual(from - 1);
    expect(line.to).toBeLessThanOrEqual(to + 1);
  }
  const [trial] = verdict.trials;
  if (trial === undefined) throw new Error('the sample has a trial');
  expect(trialArithmetic(SAMPLE.opened, subject, trial).length).toBeGreaterThan(0);
});
