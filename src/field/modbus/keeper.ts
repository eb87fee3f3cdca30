import type { Micros } from '../../measure/index.ts';
import type { Clock } from '../types.ts';
import { tick } from './grid.ts';
import { linkModbus } from './link.ts';
import type { LinkEars, Linking, LinkOptions, ModbusLink } from './link-types.ts';
import type { Foul } from './wire.ts';

/** What becomes of the connection, for those who use it. */
export interface KeeperEars extends LinkEars {
  /** It stands. */
  up(): void;
  /** It could not be made. */
  missed(foul: Foul): void;
}

/** A released connection is made again so long before it is needed, at least. */
const LEAD: Micros = 20_000;
/** A connection that could not be made is not tried again before this. */
const REST: Micros = 50_000;

/** Makes the one connection of a lane, gives it back and takes it again; leaves nothing behind when stopped. */
export class Keeper {
  readonly #clock: Clock;
  readonly #ears: KeeperEars;
  #link: ModbusLink | undefined;
  #linking: Linking | undefined;
  #made = 0;
  #released = false;
  #reopen: NodeJS.Timeout | undefined;
  #took: Micros = 0;
  #notBefore: Micros = 0;
  #stopped = false;
  #left: Promise<unknown> = Promise.resolve();

  constructor(clock: Clock, ears: KeeperEars) {
    this.#clock = clock;
    this.#ears = ears;
  }

  get link(): ModbusLink | undefined {
    return this.#link;
  }

  /** Connections made again, beyond the first and those that were given back. */
  get again(): number {
    return Math.max(0, this.#made - 1);
  }

  /** False where it is too early for another try. */
  connect(options: LinkOptions): boolean {
    if (this.#linking !== undefined || this.#link !== undefined || this.#stopped) return true;
    if (tick() < this.#notBefore) return false;
    clearTimeout(this.#reopen);
    const begun = tick();
    const linking = linkModbus(options, this.#clock, {
      room: () => this.#ears.room(),
      doubted: (unit) => this.#ears.doubted(unit),
      ended: (foul) => this.#ended(foul),
    });
    this.#linking = linking;
    this.#await(linking.link.then((link) => this.#dialled(link, begun)));
    return true;
  }

  #dialled(link: ModbusLink | Foul, begun: Micros): void {
    this.#linking = undefined;
    const foul = 'code' in link ? link : link.foul();
    if (!('code' in link) && (this.#stopped || foul)) this.#await(link.destroy());
    if (this.#stopped) return;
    if ('code' in link || foul) {
      this.#notBefore = tick() + REST;
      if (foul) this.#ears.missed(foul);
      return;
    }
    this.#link = link;
    this.#took = tick() - begun;
    if (this.#released) this.#released = false;
    else this.#made += 1;
    this.#ears.up();
  }

  #ended(foul: Foul): void {
    // While it is being made, this is found out when it is done.
    if (this.#link === undefined) return;
    this.#bury(this.#link);
    if (!this.#stopped) this.#ears.ended(foul);
  }

  /** Gives the connection back, and takes it again shortly before `wait` is over. */
  release(wait: Micros, options: LinkOptions): void {
    if (this.#link === undefined) return;
    this.#bury(this.#link);
    this.#released = true;
    const lead = Math.max(LEAD, 3 * this.#took);
    this.#reopen = setTimeout(() => this.connect(options), Math.max(0, wait - lead) / 1_000);
  }

  #bury(link: ModbusLink): void {
    this.#link = undefined;
    this.#await(link.destroy());
  }

  /** Whoever stops us waits until nothing is left. */
  #await(end: Promise<unknown>): void {
    this.#left = Promise.all([this.#left, end]);
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    clearTimeout(this.#reopen);
    this.#linking?.cancel();
    if (this.#link) this.#bury(this.#link);
    // What is being made may add to what is left while it ends.
    for (let left: unknown; left !== this.#left; ) {
      left = this.#left;
      await this.#left;
    }
  }
}
