import type { Instant, Micros } from '../measure/index.ts';
import type { Line } from '../signal/index.ts';
import { tick } from './grid.ts';
import { type Asking, type Linking, linkModbus, type ModbusLink } from './modbus-link.ts';
import type { Part } from './parts.ts';
import { afterException, afterSilence } from './patience.ts';
import { refine, refineSilent, restore } from './refine.ts';
import { passes } from './steps.ts';
import { createSuspicion } from './suspicion.ts';
import { alive, lose, paramsOf, tellAbsent, tellNothing, tellRefused, tellWords } from './telling.ts';
import type { Clock, Pace } from './types.ts';
import type { Duty, Unit } from './unit.ts';
import type { Foul } from './wire.ts';

const PACES: readonly Pace[] = ['window', 'watch', 'slow'];
/** A released connection is made again so long before the next slot, at least. */
const LEAD: Micros = 20_000;

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
  readonly #waiting: Record<Pace, Duty[]> = { window: [], watch: [], slow: [] };
  readonly #suspicion;
  #link: ModbusLink | undefined;
  #linking: Linking | undefined;
  #asking = 0;
  #linked = 0;
  #released = false;
  #reopen: NodeJS.Timeout | undefined;
  #took: Micros = 0;
  #noTryBefore: Micros = 0;
  #pumping = false;
  #soon: NodeJS.Immediate | undefined;
  #stopped = false;
  #left: Promise<unknown> = Promise.resolve();

  constructor(line: Line, clock: Clock, ahead: Ahead) {
    this.#line = line;
    this.#clock = clock;
    this.#ahead = ahead;
    this.#suspicion = line.kind === 'tcp' ? undefined : createSuspicion();
  }

  add(unit: Unit): void {
    this.#units.add(unit);
  }

  /** Connections made again, beyond the first and those that were given back. */
  get reconnects(): number {
    return Math.max(0, this.#linked - 1);
  }

  /** A slot of this request has come. What cannot be asked is told at once. */
  due(duty: Duty): void {
    const { unit } = duty;
    if (duty.again > 0 && tick() >= duty.again && duty.state === 'idle') restore(duty);
    if (tick() < unit.notBefore || unit.trying !== undefined || this.#free(unit) === false) {
      tellAbsent(duty);
      return;
    }
    if (unit.silent) {
      if ((this.#shared && tick() < this.#noTryBefore) || !this.#turn(duty)) {
        tellAbsent(duty);
        return;
      }
      unit.trying = duty;
      unit.tried.add(duty);
    }
    duty.since = this.#clock.now();
    duty.next = 0;
    duty.repeated = false;
    this.#queue(duty);
  }

  /** Of a silent unit each request is tried in its turn. */
  #turn(duty: Duty): boolean {
    const { tried, duties } = duty.unit;
    if (!tried.has(duty)) return true;
    if (duties.some((one) => one.pace === duty.pace && !tried.has(one))) return false;
    tried.clear();
    return true;
  }

  #queue(duty: Duty): void {
    duty.state = 'waiting';
    this.#waiting[duty.pace].push(duty);
  }

  get #shared(): boolean {
    return this.#units.size > 1;
  }

  #free(unit: Unit): boolean {
    return this.#suspicion?.free(unit.source.unit, performance.now()) ?? true;
  }

  #next(): Duty | undefined {
    for (const pace of PACES) {
      const duty = this.#waiting[pace].shift();
      if (duty !== undefined) return duty;
    }
    return undefined;
  }

  get #idle(): boolean {
    return this.#asking === 0 && PACES.every((pace) => this.#waiting[pace].length === 0);
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
    const link = this.#link;
    if (link === undefined) {
      if (!this.#idle) this.#connect();
      return;
    }
    this.#pumping = true;
    link.together(() => {
      while (link.room()) {
        const duty = this.#next();
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
      if (!duty.unit.stopped) this.#told(duty, part, got);
      this.pump();
      if (this.#idle) this.#release();
    });
  }

  #told(duty: Duty, part: Part, got: Asking): void {
    if ('foul' in got) this.#failed(duty, part, got);
    else if ('refused' in got) this.#refused(duty, part, got);
    else {
      const { unit } = duty;
      alive(unit);
      unit.failures = 0;
      tellWords(duty, part, got);
      duty.next += 1;
      if (duty.next < duty.parts.length) {
        duty.state = 'waiting';
        this.#waiting[duty.pace].unshift(duty);
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
    duty.silences = 0;
    unit.failures += 1;
    refine(duty, part, got);
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
      duty.state = 'waiting';
      this.#waiting[duty.pace].unshift(duty);
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
        shared: this.#shared,
      };
      unit.notBefore = tick() + afterSilence(trouble);
      this.#noTryBefore = Math.max(this.#noTryBefore, tick() + 4 * (received - sent));
    }
    // The rest of this slot would fare no better.
    this.#dismiss(unit);
  }

  /** The unit is not asked for now: what waits for it is told. */
  #dismiss(unit: Unit): void {
    for (const pace of PACES) {
      const own = this.#waiting[pace].filter((duty) => duty.unit === unit);
      if (own.length === 0) continue;
      this.#waiting[pace] = this.#waiting[pace].filter((duty) => duty.unit !== unit);
      for (const duty of own) this.#giveUp(duty);
    }
  }

  #giveUp(duty: Duty): void {
    duty.state = 'idle';
    if (duty.unit.trying === duty) duty.unit.trying = undefined;
    tellNothing(duty, duty.since, this.#clock.now(), duty.unit.why);
  }

  #connect(): void {
    if (this.#linking !== undefined || this.#stopped) return;
    clearTimeout(this.#reopen);
    const begun = tick();
    const sources = [...this.#units].map(({ source }) => source);
    const options = {
      line: this.#line,
      deadline: Math.max(...sources.map(({ timeout }) => timeout)) / 1_000,
      inFlight: Math.min(...sources.map(({ inFlight }) => inFlight)),
      pause: Math.max(...sources.map(({ pause }) => pause)) / 1_000,
      ...(this.#suspicion && { suspicion: this.#suspicion }),
    };
    const linking = linkModbus(options, this.#clock, {
      room: () => this.pump(),
      doubted: (unit) => this.#doubted(unit),
      ended: (foul) => this.#ended(foul),
    });
    this.#linking = linking;
    this.#left = linking.link.then((link) => {
      this.#linking = undefined;
      if ('code' in link) return this.#missed(link);
      if (this.#stopped) return link.destroy();
      this.#link = link;
      this.#took = tick() - begun;
      if (this.#released) this.#released = false;
      else this.#linked += 1;
      this.pump();
      return undefined;
    });
  }

  /** No connection: all that waited for it is told, and the next slot tries again. */
  #missed(foul: Foul): void {
    if (this.#stopped) return;
    const units = new Set(PACES.flatMap((pace) => this.#waiting[pace].map(({ unit }) => unit)));
    for (const unit of units) {
      unit.why = { absence: 'interrupted', code: 0 };
      unit.failures += 1;
      lose(unit, foul);
      this.#dismiss(unit);
    }
    this.#afresh();
  }

  #doubted(id: number): void {
    for (const unit of this.#units) {
      if (unit.source.unit !== id) continue;
      unit.why = { absence: 'interrupted', code: 0 };
      lose(unit, { code: 'unasked-bytes', detail: '' });
      this.#dismiss(unit);
    }
  }

  /** The connection is not used any more; whoever stops us waits until nothing of it is left. */
  #bury(link: ModbusLink): void {
    this.#link = undefined;
    this.#left = Promise.all([this.#left, link.destroy()]);
  }

  #ended(foul: Foul): void {
    if (this.#link) this.#bury(this.#link);
    if (this.#stopped) return;
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
    if (this.#link === undefined || this.#stopped) return;
    let after: Micros = 0;
    for (const { source } of this.#units) {
      if (source.releaseAfter === undefined) return;
      after = Math.max(after, source.releaseAfter);
    }
    const wait = this.#ahead() - tick();
    if (wait <= after) return;
    this.#bury(this.#link);
    this.#released = true;
    const lead = Math.max(LEAD, 3 * this.#took);
    this.#reopen = setTimeout(() => this.#connect(), Math.max(0, wait - lead) / 1_000);
  }

  /** The unit leaves; with the last one the connection goes. Settles when nothing is left. */
  async remove(unit: Unit): Promise<void> {
    unit.stopped = true;
    this.#units.delete(unit);
    this.#dismiss(unit);
    if (this.#units.size > 0) return;
    this.#stopped = true;
    clearTimeout(this.#reopen);
    clearImmediate(this.#soon);
    this.#linking?.cancel();
    await this.#link?.destroy();
    await this.#left;
  }

  /** A slot passed while the request still waited. Once it has waited longer than one answer may take, it is missed. */
  missed(duty: Duty): void {
    const at: Instant = this.#clock.now();
    if (at - duty.since < 2 * duty.unit.source.timeout) return;
    tellNothing(duty, duty.since, at, { absence: 'not-polled', code: 0 });
    duty.since = at;
  }
}
