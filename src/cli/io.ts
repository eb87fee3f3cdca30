import { type Fault, faultText } from '../config/index.ts';

/** Exit codes: verdicts, and beside them the BSD sysexits convention. */
export const EXIT = {
  ok: 0,
  fail: 1,
  undecided: 2,
  usage: 64,
  data: 65,
  unavailable: 69,
  software: 70,
  io: 74,
} as const;

/** Ends the command with a code; `message` says what, where and what to do. */
export class Stop extends Error {
  readonly exit: number;

  constructor(message: string, options: { readonly exit: number; readonly cause?: unknown }) {
    super(message, options);
    this.name = 'Stop';
    this.exit = options.exit;
  }
}

export const out = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

export const say = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

/** One JSON document on standard output; keys in the order in which they were made. */
export const json = (value: unknown): void => out(JSON.stringify(value, null, 2));

/** All faults at once, as lines or as JSON. */
export const refuseFaults = (faults: readonly Fault[], asJson: boolean): never => {
  if (asJson) json({ ok: false, faults: faults.map((fault) => ({ ...fault, text: faultText(fault) })) });
  else for (const fault of faults) out(faultText(fault));
  const many = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  throw new Stop(`${many}; nothing was done`, { exit: EXIT.data });
};
