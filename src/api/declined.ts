import type { Phrase } from '../measure/index.ts';

/** What was asked fits no rule of the record: `reason` for programs, `message` for people. Never holds a password. */
export class Declined extends Error {
  readonly reason: Phrase;

  constructor(reason: Phrase, message: string) {
    super(message);
    this.name = 'Declined';
    this.reason = reason;
  }
}
