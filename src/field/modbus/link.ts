import type { Instant } from '../../measure/index.ts';
import type { Clock } from '../types.ts';
import { createMbap, createRtu } from './framing.ts';
import { createLibrary, type Understood } from './library.ts';
import type { Asking, LinkEars, Linking, LinkOptions, ModbusLink, Question } from './link-types.ts';
import { gapOf, shorter, wordsOf } from './question.ts';
import { Rest } from './rest.ts';
import { createSuspicion, type Suspicion } from './suspicion.ts';
import { dial, type Foul, type Wire } from './wire.ts';

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
/**
 * Time-outs in a row that end a connection. With transaction ids the first does. Without them one may be a unit's, two may
 * be the connection's to the converter; a serial port has no other end that could have gone.
 */
const ENDING = { tcp: 1, 'rtu-over-tcp': 2, serial: Number.POSITIVE_INFINITY } as const;

const now = (): number => performance.now();

class Link implements ModbusLink {
  readonly #clock: Clock;
  readonly #ears: LinkEars;
  readonly #slots: (Waiting | undefined)[];
  /** Slots in the order in which they were asked. */
  readonly #order: number[] = [];
  readonly #suspicion: Suspicion | undefined;
  readonly #gap: number;
  readonly #rest: Rest;
  /** Time-outs since anything came, and how many of them end the connection. */
  #silences = 0;
  readonly #most: number;
  /** Of each unit that was asked here: longer than its slowest answer takes, ms. */
  readonly #quiet = new Map<number, number>();
  readonly #framing;
  readonly #library;
  #wire: Wire | undefined;
  #gone: Foul | undefined;
  #sent = false;
  /** How deep in `together`, and what is to leave at its end. */
  #depth = 0;
  readonly #leaving: Uint8Array[] = [];
  #draining = 0;
  #alarm: NodeJS.Timeout | undefined;
  #alarmAt = 0;
  #last: NodeJS.Immediate | undefined;

  constructor(options: LinkOptions, clock: Clock, ears: LinkEars) {
    this.#clock = clock;
    this.#ears = ears;
    const { line, pause } = options;
    const ids = line.kind === 'tcp';
    this.#most = ENDING[line.kind];
    const places = ids ? Math.max(1, options.inFlight) : 1;
    this.#slots = new Array<Waiting | undefined>(places).fill(undefined);
    this.#suspicion = ids ? undefined : (options.suspicion ?? createSuspicion());
    this.#gap = Math.max(pause, gapOf(line));
    this.#rest = new Rest(() => ears.room());
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
    this.#silences = 0;
    if (this.#suspicion && this.#discarded(got)) return;
    this.together(() => this.#framing.take(got, length));
  }

  /** Without ids: what is left of a foul frame, and what nobody asked for, is thrown away. */
  #discarded(got: Uint8Array): boolean {
    if (now() >= this.#draining && this.#order.length > 0) return false;
    this.#overheard(got[0] ?? 0);
    this.#hush();
    return true;
  }

  /** A unit has said more than it was asked: one of its answers was late, or came twice. */
  #overheard(unit: number): void {
    const quiet = this.#quiet.get(unit);
    if (quiet === undefined) return;
    this.#suspicion?.suspect(unit, now(), quiet);
    this.#ears.doubted(unit);
  }

  #hush(): void {
    this.#draining = now() + DRAIN;
    this.#rest.begin(DRAIN);
  }

  room(): boolean {
    return !this.#gone && this.#order.length < this.#slots.length && !this.#rest.lasts;
  }

  foul(): Foul | undefined {
    return this.#gone;
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
    if (this.#depth > 0) this.#leaving.push(bytes);
    else this.#wire?.write(bytes);
  }

  together(work: () => void): void {
    this.#depth += 1;
    work();
    this.#depth -= 1;
    if (this.#depth > 0 || this.#leaving.length === 0) return;
    const [first] = this.#leaving;
    const all = this.#leaving.length === 1 && first ? first : Buffer.concat(this.#leaving);
    this.#leaving.length = 0;
    this.#wire?.write(all);
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
    if (this.#gap > 0) this.#rest.begin(this.#gap);
    if (this.#suspicion === undefined) this.#settle(slot, received, understood);
    else this.#rest.ripen(() => this.#settle(slot, received, understood));
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
    if (stranger !== undefined) this.#overheard(stranger);
    this.#hush();
    this.#doubt(foul);
  }

  #doubt(foul: Foul): void {
    this.#rest.spoil();
    const slot = this.#order[0];
    const waiting = slot === undefined ? undefined : this.#take(slot);
    if (waiting === undefined) return;
    const { question, sent, done } = waiting;
    this.#framing.clear();
    this.#suspicion?.suspect(question.unit, now(), question.timeout * LONGER);
    done({ sent, received: this.#clock.now(), foul, guilty: true });
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

  /** Timers run before what lies ready in the machine is read: after a stall of ours the answer may be there already. */
  #ring(): void {
    this.#alarm = undefined;
    const head = this.#slots[this.#order[0] ?? -1];
    if (head === undefined || this.#rest.ripening) return;
    if (now() < head.since + head.question.timeout) this.#watch();
    else this.#last = setImmediate(() => this.#silent(head));
  }

  #silent(head: Waiting): void {
    if (head !== this.#slots[this.#order[0] ?? -1]) {
      this.#watch();
      return;
    }
    if (this.#rest.ripening) return;
    const foul = { code: 'silent', detail: `${head.question.timeout} ms` };
    this.#silences += 1;
    if (this.#silences >= this.#most) this.#end(foul, head);
    else this.#doubt(foul);
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
    clearImmediate(this.#last);
    this.#rest.stop();
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
