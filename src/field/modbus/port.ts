import { EventEmitter } from 'node:events';

/**
 * What the client library takes for its serial port. The library writes its questions into it and hears checked answers
 * from it; between the two stands the framing, and the library never sees the connection itself. It keeps one entry for
 * each transaction number that it is shown: here that is the slot of the question, so that its memory stays small.
 */
export class LibraryPort extends EventEmitter {
  readonly isOpen = true;
  _transactionIdRead = 0;
  _transactionIdWrite = 0;
  readonly #send: (slot: number, frame: Uint8Array) => void;

  constructor(send: (slot: number, frame: Uint8Array) => void) {
    super();
    this.#send = send;
  }

  open(callback: (error?: Error) => void): void {
    callback();
  }

  write(frame: Uint8Array): void {
    this.#send(this._transactionIdWrite, frame);
  }

  close(callback?: () => void): void {
    callback?.();
  }

  /** The connection belongs to somebody else. */
  destroy(): void {
    this.removeAllListeners();
  }
}
