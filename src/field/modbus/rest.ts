/**
 * The silence that follows an answer. It is over when its time has passed and all bytes that came by then have been read:
 * timers run before what lies ready in the machine is handed out. Times in ms, by `performance.now()`.
 */
export class Rest {
  readonly #over: () => void;
  #until = 0;
  #timer: NodeJS.Timeout | undefined;
  #read: NodeJS.Immediate | undefined;
  #ripening: (() => void) | undefined;

  /** `over` is called at the end of each silence. */
  constructor(over: () => void) {
    this.#over = over;
  }

  /** Nothing may be asked now. */
  get lasts(): boolean {
    return performance.now() < this.#until;
  }

  /** At least so long from now on. */
  begin(time: number): void {
    this.#until = Math.max(this.#until, performance.now() + time);
    this.#wait();
  }

  #wait(): void {
    clearTimeout(this.#timer);
    clearImmediate(this.#read);
    const left = this.#until - performance.now();
    if (left > 0) this.#timer = setTimeout(() => this.#wait(), Math.ceil(left));
    else this.#read = setImmediate(() => this.#end());
  }

  #end(): void {
    const ripe = this.#ripening;
    this.#ripening = undefined;
    ripe?.();
    this.#over();
  }

  /** An answer that is good once the silence behind it has passed. */
  ripen(good: () => void): void {
    this.#ripening = good;
  }

  get ripening(): boolean {
    return this.#ripening !== undefined;
  }

  /** The answer was not good after all. */
  spoil(): void {
    this.#ripening = undefined;
  }

  stop(): void {
    clearTimeout(this.#timer);
    clearImmediate(this.#read);
    this.#ripening = undefined;
  }
}
