import type { Instant } from '../measure/index.ts';
import type { Line, Table } from '../signal/index.ts';
import { createMbap, createRtu } from './framing.ts';
import { createLibrary, type Understood } from './library.ts';
import { createSuspicion, type Suspicion } from './suspicion.ts';
import type { Clock } from './types.ts';
import { dial, type Foul, type Wire } from './wire.ts';

/** What came of one question. */
export type Asking = { readonly sent: Instant; readonly received: Instant } & (
  | { readonly words: readonly number[] }
  /** Exception code of the device. */
  | { readonly refused: number }
  /** No answer. `guilty`: of this question itself, not of one beside it. */
  | { readonly foul: Foul; readonly guilty: boolean }
);

export interface Question {
  readonly unit: number;
  readonly table: Table;
  /** 0–65535; 1–125 registers or 1–2000 bits. */
  readonly at: number;
  readonly count: number;
  /** Milliseconds that the device may take, once what was asked before is answered. */
  readonly timeout: number;
}

export interface LinkOptions {
  readonly line: Line;
  /** Milliseconds for the connection to be made. */
  readonly deadline: number;
  /** Questions on their way at once; 1 without transaction ids, whatever is said here. */
  readonly inFlight: number;
  /** Milliseconds between an answer and the next question. */
  readonly pause: number;
  /** What was in doubt on an earlier connection of this line stays in doubt. */
  readonly suspicion?: Suspicion;
}

export interface LinkEars {
  /** A question can be asked again, where `room` has said no. */
  room(): void;
  /** Without ids: the unit has said more than it was asked. */
  doubted(unit: number): void;
  /** The connection is over, not by `destroy`; its questions have been settled. */
  ended(foul: Foul): void;
}

/**
 * One connection. After a foul on TCP it is destroyed, and never used again. Without transaction ids it stays, and the
 * unit is in doubt (see `Suspicion`): while `free` says no, it must not be asked.
 */
export interface ModbusLink {
  /** Whether a question can leave now. */
  room(): boolean;
  /** The connection has ended. */
  over(): boolean;
  /** The unit may be asked: no late answer of it is feared. */
  free(unit: number): boolean;
  /** Never throws; `done` is called once, later. Only where `room` says so. */
  ask(question: Question, done: (got: Asking) => void): void;
  /** Questions that are asked in `work` leave in one go. */
  together(work: () => void): void;
  destroy(): Promise<void>;
}

export interface Linking {
  readonly link: Promise<ModbusLink | Foul>;
  cancel(): void;
}

interface Waiting {
  readonly question: Question;
  readonly sent: Instant;
  readonly done: (got: Asking) => void;
  /** When the device could begin with it, ms. */
  since: number;
}

/** What is left of a foul frame comes within this, ms: slower than any buffer of an adapter between. */
const DRAIN = 50;
/** Longer than the slowest answer: the share of the time-out that is added to it. */
const LONGER = 1.1;

const now = (): number => performance.now();

/** Silence between frames in ms: 3.5 characters of 11 bits, above 19,200 baud 1.75 ms (Serial Line V1.02, 2.5.1.1). */
export const frameGap = (baud: number): number => (baud > 19_200 ? 1.75 : (3.5 * 11 * 1_000) / baud);

/** Behind a converter the baud rate is not known: that of 9,600 is waited for, in which a surplus answer shows itself. */
const gapOf = (line: Line): number => {
  if (line.kind === 'tcp') return 0;
  return frameGap(line.kind === 'serial' ? line.baud : 9_600);
};

/** A question whose answer is shorter, where the values allow one. */
const shorter = ({ table, count }: Question): number => {
  const bits = table === 'coil' || table === 'discrete-input';
  const step = bits ? 8 : 1;
  return count > step ? count - step : count;
};

const wordsOf = (understood: Understood, { table, count }: Question): number[] | undefined => {
  if (!('data' in understood)) return undefined;
  const { data } = understood;
  const bits = table === 'coil' || table === 'discrete-input';
  if (!bits) return data.length === count ? (data as number[]) : undefined;
  return data.length < count ? undefined : data.slice(0, count).map(Number);
};

class Link implements ModbusLink {
  readonly #clock: Clock;
  readonly #ears: LinkEars;
  readonly #slots: (Waiting | undefined)[];
  /** Slots in the order in which they were asked. */
  readonly #order: number[] = [];
  readonly #suspicion: Suspicion | undefined;
  readonly #gap: number;
  /** Of each unit that was asked here: longer than its slowest answer takes, ms. */
  readonly #quiet = new Map<number, number>();
  readonly #framing;
  readonly #library;
  #wire: Wire | undefined;
  #gone: Foul | undefined;
  #sent = false;
  #notBefore = 0;
  #draining = 0;
  #alarm: NodeJS.Timeout | undefined;
  #alarmAt = 0;
  #resume: NodeJS.Timeout | undefined;
  #read: NodeJS.Immediate | undefined;
  /** Without ids: an answer that is good once the line has been silent behind it, as the end of a frame must be. */
  #ripening: (() => void) | undefined;

  constructor(options: LinkOptions, clock: Clock, ears: LinkEars) {
    this.#clock = clock;
    this.#ears = ears;
    const { line, pause } = options;
    const ids = line.kind === 'tcp';
    const places = ids ? Math.max(1, options.inFlight) : 1;
    this.#slots = new Array<Waiting | undefined>(places).fill(undefined);
    this.#suspicion = ids ? undefined : (options.suspicion ?? createSuspicion());
    this.#gap = Math.max(pause, gapOf(line));
    const frames = {
      answer: (slot: number, frame: Buffer) => this.#answer(slot, frame),
      foul: (code: string, stranger?: number) => this.#misfit(code, stranger),
    };
    this.#framing = ids ? createMbap(places, frames) : createRtu(frames);
    this.#library = createLibrary((slot, frame) => this.#send(slot, frame));
  }

  begin(wire: Wire): void {
    this.#wire = wire;
  }

  bytes(got: Uint8Array, length: number): void {
    if (this.#gone) return;
    if (this.#suspicion && this.#discarded(got)) return;
    this.together(() => this.#framing.take(got, length));
  }

  /** Without ids: what is left of a foul frame, and what nobody asked for, is thrown away. */
  #discarded(got: Uint8Array): boolean {
    const at = now();
    if (at >= this.#draining && this.#order.length > 0) return false;
    this.#overheard(got[0] ?? 0);
    this.#hush(at + DRAIN);
    return true;
  }

  /** A unit has said more than it was asked: one of its answers was late, or came twice. */
  #overheard(unit: number): void {
    const quiet = this.#quiet.get(unit);
    if (quiet === undefined) return;
    this.#suspicion?.suspect(unit, now(), quiet);
    this.#ears.doubted(unit);
  }

  #hush(until: number): void {
    this.#draining = until;
    this.#notBefore = Math.max(this.#notBefore, until);
    this.#wake();
  }

  room(): boolean {
    return !this.#gone && this.#order.length < this.#slots.length && now() >= this.#notBefore;
  }

  over(): boolean {
    return this.#gone !== undefined;
  }

  free(unit: number): boolean {
    return this.#suspicion?.free(unit, now()) ?? true;
  }

  ask(question: Question, done: (got: Asking) => void): void {
    const { unit, table, at } = question;
    const count = this.#suspicion?.checks(unit) ? shorter(question) : question.count;
    if (this.#suspicion) this.#quiet.set(unit, question.timeout * LONGER);
    const slot = this.#slots.indexOf(undefined);
    this.#sent = false;
    const sent = this.#clock.now();
    const waiting: Waiting = {
      question: count === question.count ? question : { ...question, count },
      sent,
      done,
      since: now(),
    };
    if (!this.#gone && slot >= 0) {
      this.#slots[slot] = waiting;
      this.#order.push(slot);
      try {
        this.#library.ask(slot, unit, table, at, count);
      } catch {
        // The library throws for numbers that no frame can hold; nothing was sent then.
      }
      if (this.#sent) {
        this.#watch();
        return;
      }
      this.#take(slot);
    }
    const foul = this.#gone ?? { code: 'not-a-read', detail: `${table} ${at} ${count}` };
    queueMicrotask(() => done({ sent, received: sent, foul, guilty: true }));
  }

  #send(slot: number, frame: Uint8Array): void {
    const bytes = this.#framing.question(slot, frame);
    if (bytes === undefined) return;
    this.#sent = true;
    this.#wire?.write(bytes);
  }

  together(work: () => void): void {
    const wire = this.#slots.length > 1 ? this.#wire : undefined;
    wire?.cork();
    work();
    wire?.uncork();
  }

  #take(slot: number): Waiting | undefined {
    const waiting = this.#slots[slot];
    this.#slots[slot] = undefined;
    const place = this.#order.indexOf(slot);
    this.#order.splice(place, 1);
    const head = place === 0 ? this.#slots[this.#order[0] ?? -1] : undefined;
    if (head) {
      head.since = now();
      this.#watch();
    }
    return waiting;
  }

  #answer(slot: number, frame: Buffer): void {
    const received = this.#clock.now();
    const understood = this.#library.understand(slot, frame);
    if (this.#gap > 0) {
      this.#notBefore = now() + this.#gap;
      this.#wake();
    }
    if (this.#suspicion === undefined) this.#settle(slot, received, understood);
    else this.#ripening = () => this.#settle(slot, received, understood);
  }

  #settle(slot: number, received: Instant, understood: Understood): void {
    const waiting = this.#take(slot);
    if (waiting === undefined) return;
    const { question, sent, done } = waiting;
    const words = wordsOf(understood, question);
    if (words === undefined && !('refused' in understood)) {
      const detail = 'trouble' in understood ? understood.trouble : `${understood.data.length}`;
      const foul = { code: 'library', detail };
      done({ sent, received, foul, guilty: true });
      this.#end(foul);
      return;
    }
    if (this.#suspicion?.answered(question.unit, now()) === false) {
      done({ sent, received, foul: { code: 'quarantined', detail: '' }, guilty: true });
    } else if (words !== undefined) done({ sent, received, words });
    else if ('refused' in understood) done({ sent, received, refused: understood.refused });
  }

  /** Bytes that fit no question: with ids the stream is worth nothing any more, without them the unit is in doubt. */
  #misfit(code: string, stranger: number | undefined): void {
    const foul = { code, detail: '' };
    if (this.#suspicion === undefined) {
      this.#end(foul);
      return;
    }
    const at = now();
    if (stranger !== undefined) this.#overheard(stranger);
    this.#hush(at + DRAIN);
    this.#doubt(foul);
  }

  #doubt(foul: Foul): void {
    this.#ripening = undefined;
    const slot = this.#order[0];
    const waiting = slot === undefined ? undefined : this.#take(slot);
    if (waiting === undefined) return;
    const { question, sent, done } = waiting;
    this.#framing.clear();
    this.#suspicion?.suspect(question.unit, now(), question.timeout * LONGER);
    done({ sent, received: this.#clock.now(), foul, guilty: true });
    this.#wake();
  }

  /** One timer for the oldest question: the time of those behind it begins when it has been answered. */
  #watch(): void {
    const head = this.#slots[this.#order[0] ?? -1];
    if (head === undefined) return;
    const at = head.since + head.question.timeout;
    if (this.#alarm !== undefined && this.#alarmAt <= at + 1) return;
    clearTimeout(this.#alarm);
    this.#alarmAt = at;
    this.#alarm = setTimeout(() => this.#ring(), Math.max(1, at - now() + 1));
  }

  #ring(): void {
    this.#alarm = undefined;
    const head = this.#slots[this.#order[0] ?? -1];
    if (head === undefined) return;
    if (this.#ripening !== undefined) return;
    const foul = { code: 'silent', detail: `${head.question.timeout} ms` };
    if (now() < head.since + head.question.timeout) this.#watch();
    else if (this.#suspicion === undefined) this.#end(foul, head);
    else this.#doubt(foul);
  }

  /** After the silence, once all bytes that have come by then are read: those would have been too many. */
  #wake(): void {
    clearTimeout(this.#resume);
    clearImmediate(this.#read);
    const rest = this.#notBefore - now();
    if (rest > 0) this.#resume = setTimeout(() => this.#wake(), Math.ceil(rest));
    else this.#read = setImmediate(() => this.#rested());
  }

  #rested(): void {
    const ripe = this.#ripening;
    this.#ripening = undefined;
    ripe?.();
    this.#ears.room();
  }

  /** `guilty`: the question by which it ended, where it was one. */
  #end(foul: Foul, guilty?: Waiting): void {
    if (this.#gone) return;
    void this.destroy(foul, guilty);
    this.#ears.ended(foul);
  }

  ended(foul: Foul): void {
    this.#end(foul);
  }

  async destroy(foul: Foul = { code: 'stopped', detail: '' }, guilty?: Waiting): Promise<void> {
    const first = this.#gone === undefined;
    this.#gone ??= foul;
    clearTimeout(this.#alarm);
    clearTimeout(this.#resume);
    clearImmediate(this.#read);
    this.#ripening = undefined;
    const left = this.#wire?.destroy();
    if (first) {
      this.#library.destroy();
      this.#framing.clear();
      const received = this.#clock.now();
      for (const slot of this.#order.splice(0)) {
        const waiting = this.#slots[slot];
        this.#slots[slot] = undefined;
        if (waiting === undefined) continue;
        const { question, sent, done } = waiting;
        this.#suspicion?.suspect(question.unit, now(), question.timeout * LONGER);
        done({ sent, received, foul, guilty: guilty === undefined || waiting === guilty });
      }
    }
    await left;
  }
}

/** Connects, or says why not. */
export const linkModbus = (options: LinkOptions, clock: Clock, ears: LinkEars): Linking => {
  const link = new Link(options, clock, ears);
  const dialing = dial(options.line, options.deadline, {
    bytes: (got, length) => link.bytes(got, length),
    gone: (foul) => link.ended(foul),
  });
  const linked = dialing.wire.then((wire) => {
    if ('code' in wire) {
      void link.destroy(wire);
      return wire;
    }
    link.begin(wire);
    return link;
  });
  return { link: linked, cancel: dialing.cancel };
};
