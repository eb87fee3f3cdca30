import type { Pace } from '../../signal/index.ts';
import type { Duty, Unit } from './unit.ts';

const PACES: readonly Pace[] = ['window', 'watch', 'slow'];

/** Requests that wait for their turn: what a window needs before the rest, the slow last, and else in order of coming. */
export class Queue {
  readonly #waiting: Record<Pace, Duty[]> = { window: [], watch: [], slow: [] };

  get empty(): boolean {
    return PACES.every((pace) => this.#waiting[pace].length === 0);
  }

  push(duty: Duty): void {
    duty.state = 'waiting';
    this.#waiting[duty.pace].push(duty);
  }

  /** It has been begun already, and goes on before the others. */
  again(duty: Duty): void {
    duty.state = 'waiting';
    this.#waiting[duty.pace].unshift(duty);
  }

  next(): Duty | undefined {
    for (const pace of PACES) {
      const duty = this.#waiting[pace].shift();
      if (duty !== undefined) return duty;
    }
    return undefined;
  }

  /** Takes out what waits for this unit. */
  drop(unit: Unit): Duty[] {
    return PACES.flatMap((pace) => {
      const own = this.#waiting[pace].filter((duty) => duty.unit === unit);
      if (own.length > 0) this.#waiting[pace] = this.#waiting[pace].filter((duty) => duty.unit !== unit);
      for (const duty of own) duty.state = 'idle';
      return own;
    });
  }

  units(): ReadonlySet<Unit> {
    return new Set(PACES.flatMap((pace) => this.#waiting[pace].map(({ unit }) => unit)));
  }
}
