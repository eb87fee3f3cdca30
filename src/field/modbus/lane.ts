import type { Instant, Micros } from '../../measure/index.ts';
import type { Line } from '../../signal/index.ts';
import type { Clock } from '../types.ts';
import { tick } from './grid.ts';
import { Keeper } from './keeper.ts';
import type { Asking, LinkOptions, ModbusLink } from './link-types.ts';
import type { Part } from './parts.ts';
import { afterException, afterSilence } from './patience.ts';
import { Queue } from './queue.ts';
import { askAgain, endTry, refine, refineSilent, restore } from './refine.ts';
import { passes } from './steps.ts';
import { createSuspicion } from './suspicion.ts';
import { alive, lose, paramsOf, tellAbsent, tellNothing, tellRefused, tellWords } from './telling.ts';
import { type Duty, takesTurn, type Unit } from './unit.ts';
import type { Foul } from './wire.ts';

/** When the next slot of any unit is due, by `tick`. */
export type Ahead = () => Micros;

/**
 * One place on the network or one serial line, and the units behind it: one connection, one queue, the fast before the
 * slow. It is connected when something is due, and tried again at the next slot where that fails.
 */
export class Lane {
  readonly #line: Line;
  readonly #clock: Clock;
  readonly #ahead: Ahead;
  readonly #units = new Set<Unit>();
  readonly #queue = new Queue();
  readonly #suspicion;
  readonly #keeper: Keeper;
  #asking = 0;
  #noTryBefore: Micros = 0;
  #pumping = false;
  #soon: NodeJS.Immediate | undefined;
  #stopped = false;

  constructor(line: Line, clock: Clock, ahead: Ahead) {
    this.#line = line;
    this.#clock = clock;
    this.#ahead = ahead;
    this.#suspicion = line.kind === 'tcp' ? undefined : createSuspicion();
    this.#keeper = new Keeper(clock, {
      up: () => this.pump(),
      room: () => this.pump(),
      doubted: (unit) => this.#doubted(unit),
      missed: (foul) => this.#missed(foul),
      ended: (foul) => this.#ended(foul),
    });
  }

  add(unit: Unit): void {
    this.#units.add(unit);
  }

  /** Connections made again, beyond the first and those that were given back. */
  get reconnects(): number {
    return this.#keeper.again;
  }

  /** A slot of this request has come. What cannot be asked is told at once. */
  due(duty: Duty): void {
    const { unit } = duty;
    if (duty.state === 'idle') askAgain(duty);
    const early = unit.silent && this.#shared && tick() < this.#noTryBefore;
    if (early || !this.#free(unit) || !takesTurn(duty)) {
      tellAbsent(duty);
      return;
    }
    duty.since = this.#clock.now();
    duty.next = 0;
    duty.repeated = false;
    this.#queue.push(duty);
  }

  get #shared(): boolean {
    return this.#units.size > 1;
  }

  /** Where no other unit answers, nobody's time is taken: each slot may be the one in which the line is back. */
  #othersAnswer(unit: Unit): boolean {
    return [...this.#units].some((other) => other !== unit && other.heard);
  }

  #free(unit: Unit): boolean {
    return this.#suspicion?.free(unit.source.unit, performance.now()) ?? true;
  }

  get #idle(): boolean {
    return this.#asking === 0 && this.#queue.empty;
  }

  /**
   * Asks what waits, as far as the connection has room. Without transaction ids only once all bytes that have come by now
   * are read: one among them could pass for the answer to a question that has not left yet.
   */
  pump(): void {
    if (this.#suspicion === undefined) this.#go();
    else
      this.#soon ??= setImmediate(() => {
        this.#soon = undefined;
        this.#go();
      });
  }

  #go(): void {
    if (this.#pumping || this.#stopped) return;
    const { link } = this.#keeper;
    if (link === undefined) {
      // Too early for another try: those that wait will not be asked in this slot.
      if (!this.#queue.empty && !this.#keeper.connect(this.#options)) this.#turnAway();
      return;
    }
    this.#pumping = true;
    link.together(() => {
      while (link.room()) {
        const duty = this.#queue.next();
        if (duty === undefined) break;
        this.#ask(link, duty);
      }
    });
    this.#pumping = false;
  }

  #ask(link: ModbusLink, duty: Duty): void {
    const part = duty.parts[duty.next];
    if (part === undefined) return;
    duty.state = 'asked';
    this.#asking += 1;
    const { source } = duty.unit;
    const question = { unit: source.unit, table: duty.request.table, at: part.at, count: part.count };
    link.ask({ ...question, timeout: source.timeout / 1_000 }, (got) => {
      this.#asking -= 1;
      duty.state = 'idle';
      const lost = duty.unit.lostAt !== undefined;
      if (!duty.unit.stopped) this.#told(duty, part, got);
      if (lost && duty.unit.lostAt === undefined) this.#awaken();
      this.pump();
      if (this.#idle) this.#release();
    });
  }

  /** One that was lost is back: what kept it away may have kept the others away too, so they are tried at once. */
  #awaken(): void {
    this.#noTryBefore = 0;
    for (const unit of this.#units) if (unit.silent) unit.notBefore = 0;
  }

  #told(duty: Duty, part: Part, got: Asking): void {
    if ('foul' in got) this.#failed(duty, part, got);
    else if ('refused' in got) this.#refused(duty, part, got);
    else {
      const { unit } = duty;
      alive(unit);
      unit.failures = 0;
      tellWords(duty, part, got);
      if (endTry(duty)) return;
      duty.next += 1;
      if (duty.next < duty.parts.length) {
        this.#queue.again(duty);
        return;
      }
      duty.silences = 0;
      unit.counts.answers += 1;
      duty.meter.answered(tick());
      if (duty.refused.length > 0) tellRefused(duty, duty.since, got.received);
    }
  }

  #refused(duty: Duty, part: Part, got: Asking & { readonly refused: number }): void {
    const { unit } = duty;
    const { refused: code, sent, received } = got;
    alive(unit);
    unit.failures += 1;
    if (!endTry(duty)) {
      duty.silences = 0;
      refine(duty, part, got);
    }
    const why = { absence: 'refused', code } as const;
    tellNothing(duty, sent, received, why);
    if (!passes(code)) {
      unit.failures = 0;
      return;
    }
    const { poll } = unit.source;
    const trouble = { failures: unit.failures, poll, took: received - sent, shared: this.#shared };
    unit.notBefore = tick() + afterException(trouble);
    unit.why = why;
    this.#dismiss(unit);
  }

  #failed(duty: Duty, part: Part, got: Asking & { readonly foul: Foul; readonly guilty: boolean }): void {
    const { unit } = duty;
    const { foul, sent, received, guilty } = got;
    // Another unit was silent: asked again on the next connection.
    if (!guilty && !duty.repeated && !unit.silent) {
      duty.repeated = true;
      this.#queue.again(duty);
      return;
    }
    const silent = foul.code === 'silent';
    const why = { absence: silent ? 'timed-out' : 'interrupted', code: 0 } as const;
    unit.why = why;
    if (guilty) unit.failures += 1;
    const { heard } = unit;
    lose(unit, foul, paramsOf(unit, { duty, part, sent, received }));
    tellNothing(duty, sent, received, why);
    unit.trying = undefined;
    if (silent && guilty) {
      refineSilent(duty, part, got, heard);
      unit.silent = true;
      const trouble = {
        failures: unit.failures,
        poll: unit.source.poll,
        took: received - sent,
        shared: this.#othersAnswer(unit),
      };
      const wait = afterSilence(trouble);
      unit.notBefore = tick() + wait;
      if (wait > 0) this.#noTryBefore = Math.max(this.#noTryBefore, tick() + 4 * (received - sent));
    }
    // The rest of this slot would fare no better.
    this.#dismiss(unit);
  }

  /** The unit is not asked for now: what waits for it is told. */
  #dismiss(unit: Unit): void {
    for (const duty of this.#queue.drop(unit)) {
      if (unit.trying === duty) unit.trying = undefined;
      tellNothing(duty, duty.since, this.#clock.now(), unit.why);
    }
  }

  get #options(): LinkOptions {
    const sources = [...this.#units].map(({ source }) => source);
    return {
      line: this.#line,
      deadline: Math.max(...sources.map(({ timeout }) => timeout)) / 1_000,
      inFlight: Math.min(...sources.map(({ inFlight }) => inFlight)),
      pause: Math.max(...sources.map(({ pause }) => pause)) / 1_000,
      ...(this.#suspicion && { suspicion: this.#suspicion }),
    };
  }

  /** No connection: all that waited for it is told, and the next slot tries again. */
  #missed(foul: Foul): void {
    for (const unit of this.#queue.units()) {
      unit.failures += 1;
      lose(unit, foul);
    }
    this.#turnAway();
    this.#afresh();
  }

  #turnAway(): void {
    for (const unit of this.#queue.units()) {
      unit.why = { absence: 'interrupted', code: 0 };
      this.#dismiss(unit);
    }
  }

  #doubted(id: number): void {
    for (const unit of this.#units) {
      if (unit.source.unit !== id) continue;
      unit.why = { absence: 'interrupted', code: 0 };
      lose(unit, { code: 'unasked-bytes', detail: '' });
      this.#dismiss(unit);
    }
  }

  #ended(foul: Foul): void {
    if (foul.code.startsWith('connection-')) {
      for (const unit of this.#units) lose(unit, foul);
      this.#afresh();
    }
    this.pump();
  }

  /** The device may have another program now: what it refused is asked again. */
  #afresh(): void {
    for (const unit of this.#units) for (const duty of unit.duties) if (duty.state === 'idle') restore(duty);
  }

  /** Gives the connection back where nothing is due for long enough, and takes it again in time. */
  #release(): void {
    if (this.#stopped) return;
    let after: Micros = 0;
    for (const { source } of this.#units) {
      if (source.releaseAfter === undefined) return;
      after = Math.max(after, source.releaseAfter);
    }
    const wait = this.#ahead() - tick();
    if (wait > after) this.#keeper.release(wait, this.#options);
  }

  /** The unit leaves; with the last one the connection goes. Settles when nothing is left. */
  async remove(unit: Unit): Promise<void> {
    unit.stopped = true;
    this.#units.delete(unit);
    this.#dismiss(unit);
    if (this.#units.size > 0) return;
    this.#stopped = true;
    clearImmediate(this.#soon);
    await this.#keeper.stop();
  }

  /** A slot passed while the request still waited. Once it has waited longer than one answer may take, it is missed. */
  missed(duty: Duty): void {
    const at: Instant = this.#clock.now();
    if (at - duty.since < 2 * duty.unit.source.timeout) return;
    tellNothing(duty, duty.since, at, { absence: 'not-polled', code: 0 });
    duty.since = at;
  }
}
