import { lookup } from 'node:dns/promises';
import { isIP } from 'node:net';
import type { Table } from '../../signal/index.ts';
import type { Clock } from '../types.ts';
import { type Asker, openAsker, type Place, type Told } from './asker.ts';
import { ILLEGAL, readWindow, type Window } from './probe-window.ts';
import type { Foul } from './wire.ts';

/** What is asked: `count` addresses from `at` on, and `around` more on each side if they answer. */
export interface ProbeTarget extends Place {
  readonly table: Table;
  readonly at: number;
  readonly count: number;
  readonly around: number;
}

/** One rung of the ladder from a name to a value: what came, by code. Texts are made elsewhere. */
export interface Rung {
  readonly step: 'name' | 'port' | 'connection' | 'unit' | 'register' | 'block';
  readonly ok: boolean;
  readonly code: string;
  readonly params: Readonly<Record<string, string | number>>;
  readonly milliseconds: number;
}

export interface Probed {
  readonly rungs: readonly Rung[];
  /** What answered, where the ladder was climbed to its end. */
  readonly window?: Window;
}

type Params = Rung['params'];

const DNS: Readonly<Record<string, string>> = {
  ENOTFOUND: 'probe-name-unknown',
  ENODATA: 'probe-name-unknown',
  EAI_AGAIN: 'probe-name-no-server',
};

const CONNECTION: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'probe-connection-refused',
  ETIMEDOUT: 'probe-connection-timed-out',
  EHOSTUNREACH: 'probe-unreachable',
  ENETUNREACH: 'probe-unreachable',
  EHOSTDOWN: 'probe-unreachable',
  ECONNRESET: 'probe-closed-at-once',
  ENOENT: 'probe-port-missing',
  EACCES: 'probe-port-denied',
  EPERM: 'probe-port-denied',
  EBUSY: 'probe-port-busy',
};

/** Serial ports tell their trouble in words of the operating system. */
const PORT: readonly (readonly [RegExp, string])[] = [
  [/no such file|not found|cannot find/i, 'probe-port-missing'],
  [/permission/i, 'probe-port-denied'],
  [/busy|lock|temporarily unavailable|access (is )?denied/i, 'probe-port-busy'],
];

/** Exceptions of the Modbus Application Protocol V1.1b3, section 7. */
const EXCEPTIONS: ReadonlySet<number> = new Set([1, 2, 3, 4, 5, 6, 8, 10, 11]);
/** A gateway speaks in place of the unit. */
const GATEWAY: ReadonlySet<number> = new Set([10, 11]);

const SIBLING: Readonly<Record<Table, Table>> = {
  holding: 'input',
  input: 'holding',
  coil: 'discrete-input',
  'discrete-input': 'coil',
};

/** A peer that hangs up on everybody does it within this, before anything is asked. */
const SETTLE = 100;

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const millisecondsSince = (clock: Clock, since: number): number => (clock.now() - since) / 1_000;

const codeOf = (error: unknown): string =>
  typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : 'failed';

/** The name as the operating system looks it up: hosts file first, then the name servers. */
const nameRung = async (host: string, clock: Clock): Promise<Rung> => {
  const rung = { step: 'name', ok: true, milliseconds: 0 } as const;
  if (isIP(host) !== 0) return { ...rung, code: 'probe-name-literal', params: { host } };
  const began = clock.now();
  try {
    const { address } = await lookup(host);
    const milliseconds = millisecondsSince(clock, began);
    return { ...rung, milliseconds, code: 'probe-name-found', params: { host, address } };
  } catch (error) {
    const detail = codeOf(error);
    const milliseconds = millisecondsSince(clock, began);
    return {
      ...rung,
      ok: false,
      milliseconds,
      code: DNS[detail] ?? 'probe-name-failed',
      params: { host, detail },
    };
  }
};

const connectionRung = async (asker: Asker, target: ProbeTarget, clock: Clock): Promise<Rung> => {
  const { line } = target;
  const step = line.kind === 'serial' ? 'port' : 'connection';
  const where: Params = line.kind === 'serial' ? { path: line.path } : { host: line.host, port: line.port };
  const began = clock.now();
  const foul = await asker.open();
  const milliseconds = millisecondsSince(clock, began);
  const params = { ...where, timeout: target.timeout };
  if (foul !== undefined) {
    const worded = step === 'port' ? PORT.find(([words]) => words.test(foul.detail))?.[1] : undefined;
    const plain = CONNECTION[foul.detail] ?? worded;
    const known = foul.code === 'connect-timed-out' ? 'probe-connection-timed-out' : plain;
    const failed = step === 'port' ? 'probe-port-failed' : 'probe-connection-failed';
    return {
      step,
      ok: false,
      milliseconds,
      code: known ?? failed,
      params: { ...params, detail: foul.detail },
    };
  }
  if (step === 'port') return { step, ok: true, milliseconds, code: 'probe-port-opened', params };
  await pause(SETTLE);
  if (asker.lost() !== undefined)
    return { step, ok: false, milliseconds, code: 'probe-closed-at-once', params };
  return { step, ok: true, milliseconds, code: 'probe-connection-made', params };
};

const foulCode = (foul: Foul): string => {
  if (foul.code === 'silent') return 'probe-unit-silent';
  if (/^connection-(ended|closed|error)$/.test(foul.code)) return 'probe-unit-hung-up';
  if (/^(connect|link)/.test(foul.code)) return 'probe-unit-no-second-connection';
  return 'probe-unit-not-modbus';
};

/** Anything that answers on behalf of the unit, even a refusal, shows that it is there. */
const answers = (told: Told): boolean => 'words' in told || ('refused' in told && !GATEWAY.has(told.refused));

const exceptionCode = (code: number): string =>
  EXCEPTIONS.has(code) ? `probe-exception-${code}` : 'probe-exception-other';

/** Where the address itself gets no answer, another one tells a silent unit from a silent address. */
const elsewhere = async (
  asker: Asker,
  { table, at }: ProbeTarget,
): Promise<readonly [Table, number] | undefined> => {
  const others: readonly (readonly [Table, number])[] = [
    [table, at === 0 ? 1 : 0],
    [SIBLING[table], at],
  ];
  for (const [other, address] of others)
    if (answers(await asker.ask(other, address, 1))) return [other, address];
  return undefined;
};

const unitRung = async (asker: Asker, target: ProbeTarget, told: Told): Promise<Rung> => {
  const rung = { step: 'unit', ok: false, milliseconds: told.milliseconds } as const;
  const params: Params = { unit: target.unit, timeout: target.timeout };
  if (answers(told)) return { ...rung, ok: true, code: 'probe-unit-answered', params };
  if ('refused' in told) return { ...rung, code: exceptionCode(told.refused), params };
  const foul = 'foul' in told ? told.foul : { code: '', detail: '' };
  const code = foulCode(foul);
  const detail = `${foul.code} ${foul.detail}`.trim();
  if (code !== 'probe-unit-silent') return { ...rung, code, params: { ...params, detail } };
  const other = await elsewhere(asker, target);
  if (other === undefined) {
    return { ...rung, code: target.line.kind === 'serial' ? 'probe-unit-silent-serial' : code, params };
  }
  return {
    ...rung,
    code: 'probe-address-silent',
    params: { ...params, table: other[0], other: other[1] },
  };
};

/** Addresses close by that do answer, as `table at`; at most three questions more. */
const closeBy = async (asker: Asker, { table, at }: ProbeTarget): Promise<string> => {
  const near: readonly (readonly [Table, number])[] = [
    [table, at - 1],
    [table, at + 1],
    [SIBLING[table], at],
  ];
  const found: string[] = [];
  for (const [other, address] of near) {
    if (address < 0 || address > 0xffff) continue;
    const told = await asker.ask(other, address, 1);
    if ('words' in told) found.push(`${other} ${address}`);
    if ('foul' in told) break;
  }
  return found.join(', ');
};

const registerRung = async (asker: Asker, target: ProbeTarget, told: Told): Promise<Rung> => {
  const { table, at } = target;
  const rung = { step: 'register', milliseconds: told.milliseconds } as const;
  if ('words' in told) return { ...rung, ok: true, code: 'probe-register-read', params: { table, at } };
  const exception = 'refused' in told ? told.refused : 0;
  const near = exception >= 1 && exception <= ILLEGAL ? await closeBy(asker, target) : '';
  const params = { table, at, unit: target.unit, exception, near };
  return { ...rung, ok: false, code: exceptionCode(exception), params };
};

const blockRung = (window: Window, milliseconds: number): Rung => {
  const { table, from, words, questions } = window;
  const missing = words.filter((word) => word < 0).length;
  const params = { table, from, to: from + words.length - 1, count: words.length, questions, missing };
  const code = questions === 1 ? 'probe-block-read' : 'probe-block-in-parts';
  return { step: 'block', ok: true, milliseconds, code, params };
};

const climb = async (
  asker: Asker,
  target: ProbeTarget,
  clock: Clock,
  rungs: Rung[],
): Promise<Window | undefined> => {
  const took = (rung: Rung): boolean => {
    rungs.push(rung);
    return rung.ok;
  };
  if (target.line.kind !== 'serial' && !took(await nameRung(target.line.host, clock))) return undefined;
  if (!took(await connectionRung(asker, target, clock))) return undefined;
  const told = await asker.ask(target.table, target.at, 1);
  if (!took(await unitRung(asker, target, told))) return undefined;
  if (!took(await registerRung(asker, target, told)) || !('words' in told)) return undefined;
  const began = clock.now();
  const window = await readWindow(asker, target, told.words);
  took(blockRung(window, millisecondsSince(clock, began)));
  return window;
};

/**
 * From name to value, one rung after the other; the first that does not hold is the last. Asks only reads, a handful of
 * them, one at a time.
 */
export const probeModbus = async (target: ProbeTarget, clock: Clock): Promise<Probed> => {
  const asker = openAsker(target, clock);
  const rungs: Rung[] = [];
  try {
    const window = await climb(asker, target, clock, rungs);
    return window === undefined ? { rungs } : { rungs, window };
  } finally {
    await asker.close();
  }
};

/** What one unit id answered: values, a refusal (the code), or nothing (why). */
export interface UnitTold {
  readonly unit: number;
  readonly milliseconds: number;
  readonly answered: boolean;
  readonly code: string;
}

/** Asks a few unit ids for one address, one after the other, with a rest between: never a storm. */
export const probeUnits = async (
  target: ProbeTarget,
  units: readonly number[],
  rest: number,
  clock: Clock,
): Promise<readonly UnitTold[]> => {
  const told: UnitTold[] = [];
  for (const [index, unit] of units.entries()) {
    if (index > 0) await pause(rest);
    const asker = openAsker({ ...target, unit }, clock);
    const got = await asker.ask(target.table, target.at, 1);
    await asker.close();
    const code = 'foul' in got ? foulCode(got.foul) : 'probe-unit-answered';
    told.push({
      unit,
      milliseconds: got.milliseconds,
      answered: answers(got),
      code: 'refused' in got ? exceptionCode(got.refused) : code,
    });
  }
  return told;
};
