/** A ramp, a step or a hold through the judge, beside what the planner says of the same polling. */
import { type Book, type Feasibility, feasibility, type Interlock } from '../../../src/rulebook/index.ts';
import { runController } from '../judge/controller.ts';
import { bookOf, judged, S, sample, underspeed } from '../judge/rig.ts';
import { polled } from '../signal/rig.ts';

export interface Pace {
  readonly poll: number;
  readonly scan: number;
  readonly consistent: boolean;
}

/** An under-speed stop at 82 ± 1.5 % of 96 rpm that may take its time, so that only level and delay decide. */
export const stopAt = (delay: number | undefined, more: Partial<Interlock> = {}): Interlock => {
  const [first, ...others] = underspeed().effects.map((one) => ({ ...one, within: 20 * S }));
  const { delay: _delay, ...bare } = underspeed({ effects: [first!, ...others], ...more });
  return delay === undefined
    ? bare
    : { ...bare, delay: { time: delay * S, tolerance: 0.4 * S, onReturn: 'resets' } };
};

/** The book as the judge takes it, and as the planner does: polled over Modbus. */
export const booksOf = (interlock: Interlock, pace: Pace): { readonly judge: Book; readonly plan: Book } => {
  const judge = bookOf([interlock], { age: pace.scan * S, consistent: pace.consistent });
  const every = pace.poll * S;
  const more = { poll: every, windowPoll: every, scan: pace.scan * S, scanConsistent: pace.consistent };
  const source = polled({ name: 'plc', ...more });
  return { judge, plan: { ...judge, sources: [source] } };
};

export const planOf = (interlock: Interlock, pace: Pace): Feasibility => {
  const [found] = feasibility(booksOf(interlock, pace).plan);
  if (found === undefined) throw new Error('no plan');
  return found;
};

/** Judges a speed over time at one phase of the polling; the machine is reset and started where it is told. */
export const testOf = (
  interlock: Interlock,
  pace: Pace,
  phase: number,
  course: {
    readonly speed: (t: number) => number;
    readonly to: number;
    readonly level?: number;
    readonly delay?: number;
    readonly reset?: readonly [number, number];
    readonly start?: readonly [number, number];
  },
) => {
  const truth = {
    level: course.level ?? 0.82,
    delay: course.delay ?? 0,
    scan: pace.scan || 0.001,
    latched: true,
  };
  const plant = runController(truth, { ...course, from: -20 });
  const rows = sample(plant, {
    from: -15,
    to: course.to,
    every: pace.poll,
    phase,
    age: pace.scan,
    consistent: pace.consistent,
  });
  return judged(booksOf(interlock, pace).judge, rows).windows[0];
};
