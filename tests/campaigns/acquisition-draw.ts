/** Which fault comes next, and what it may do to the readings. All of it follows from a seed. */
import type { Fault } from '../servers/faults.ts';
import { type Random, seeded } from './random.ts';

/** How the client and its peer are connected. */
export const KINDS = [
  'tcp, 1 in flight',
  'tcp, 4 in flight',
  'tcp, 2 units',
  'rtu over tcp',
  'rtu over tcp, answers alike',
  'rtu on a line',
  'opc ua, none',
  'opc ua, sign and encrypt',
] as const;
export type Kind = (typeof KINDS)[number];

/** Of a hundred faults. */
const SHARES: Readonly<Partial<Record<Kind, number>>> = {
  'tcp, 1 in flight': 38,
  'tcp, 4 in flight': 26,
  'tcp, 2 units': 12,
  'rtu over tcp': 14,
  'rtu over tcp, answers alike': 6,
  'rtu on a line': 4,
};

/** Milliseconds. */
export const POLL = 20;
export const TIMEOUT = 120;
export const PUBLISHING = 50;
export const UA_TIMEOUT = 1_000;
/** Faults from this seed on are those of OPC UA: they take seconds each. */
export const OPC_UA = 2_000_000_000;

export interface Drawn {
  readonly kind: Kind;
  /** The fault's name in the summary. */
  readonly name: string;
  readonly fault: Fault;
}

type Maker = (random: Random) => Fault;
type Row = readonly [name: string, make: Maker];

const whole = (random: Random, low: number, high: number): number =>
  Math.floor(random.between(low, high + 1));
const mask = (random: Random): number => whole(random, 1, 255);
const bytesOf = (random: Random, most: number): number[] =>
  Array.from({ length: whole(random, 1, most) }, () => whole(random, 0, 255));

const short = (random: Random): number => whole(random, 2, TIMEOUT * 0.4);
const long = (random: Random): number => whole(random, TIMEOUT * 1.1, TIMEOUT * 2.2);
const gone = (random: Random): number => whole(random, 20, 400);

const COMMON: readonly Row[] = [
  ['question late, in time', (random) => ({ kind: 'delay-question', ms: short(random) })],
  ['question late, too late', (random) => ({ kind: 'delay-question', ms: long(random) })],
  ['answer late, in time', (random) => ({ kind: 'delay-answer', ms: short(random) })],
  ['answer late, too late', (random) => ({ kind: 'delay-answer', ms: long(random) })],
  ['answer late, behind the next question', (random) => ({ kind: 'late-to-next', ms: short(random) })],
  ['question lost', () => ({ kind: 'drop-question' })],
  ['answer lost', () => ({ kind: 'drop-answer' })],
  ['byte by byte, in time', (random) => ({ kind: 'drip', ms: whole(random, 0, 1) })],
  ['byte by byte, too slow', () => ({ kind: 'drip', ms: 14 })],
  [
    'exception in its place',
    (random) => ({ kind: 'exception', code: random.pick([1, 2, 3, 4, 5, 6, 8, 10, 11, 99]) }),
  ],
  ['half-open, then carried', (random) => ({ kind: 'half-open', ms: gone(random), release: true })],
];

const CONNECTION: readonly Row[] = [
  ['half-open for good', (random) => ({ kind: 'half-open', ms: gone(random), release: false })],
  ['accepts and is silent', (random) => ({ kind: 'mute', ms: gone(random) })],
  ['reset while idle', () => ({ kind: 'reset', when: 'now', share: 0 })],
  ['reset at a question', () => ({ kind: 'reset', when: 'question', share: 0 })],
  ['reset within an answer', (random) => ({ kind: 'reset', when: 'in-answer', share: random.next() })],
  ['closed while idle', () => ({ kind: 'end', when: 'now', share: 0 })],
  ['closed at a question', () => ({ kind: 'end', when: 'question', share: 0 })],
  ['closed within an answer', (random) => ({ kind: 'end', when: 'in-answer', share: random.next() })],
  ['restart', (random) => ({ kind: 'restart', ms: gone(random) })],
];

const corrupt = (
  side: 'question' | 'answer',
  field: 'transaction' | 'protocol' | 'length' | 'unit' | 'function' | 'byte-count' | 'quantity',
): Row => [
  `${side} with another ${field}`,
  (random) => ({ kind: `corrupt-${side}`, field, mask: mask(random), share: random.next() }),
];

const NUMBERED: readonly Row[] = [
  ['question twice', (random) => ({ kind: 'duplicate-question', ms: whole(random, 0, 15) })],
  ['answer twice', (random) => ({ kind: 'duplicate-answer', ms: whole(random, 0, 15) })],
  ['earlier answer before it', () => ({ kind: 'replay', place: 'before' })],
  ['earlier answer in its place', () => ({ kind: 'replay', place: 'instead' })],
  ['earlier answer after it', () => ({ kind: 'replay', place: 'after' })],
  ['answer to another question', () => ({ kind: 'other-answer' })],
  ...(['transaction', 'protocol', 'length', 'unit', 'function', 'byte-count'] as const).map((field) =>
    corrupt('answer', field),
  ),
  ...(['transaction', 'protocol', 'length', 'unit', 'function', 'quantity'] as const).map((field) =>
    corrupt('question', field),
  ),
  [
    'garbage before',
    (random) => ({ kind: 'garbage', place: 'before', ms: whole(random, 0, 8), bytes: bytesOf(random, 40) }),
  ],
  [
    'garbage after',
    (random) => ({ kind: 'garbage', place: 'after', ms: whole(random, 0, 8), bytes: bytesOf(random, 40) }),
  ],
];

/**
 * Cut short with more behind it, an answer would be filled up with the next one's head, if that is on its way: nobody could
 * tell. Then nothing comes behind it, as where nothing can be made anew something must.
 */
const truncate = (silent: number): Row => [
  'cut short',
  (random) => ({ kind: 'truncate', share: random.next(), mute: random.chance(silent) }),
];

const SWAP: Row = ['answers swapped', () => ({ kind: 'swap-answers', ms: 15 })];

const WRONG_BYTES: readonly Row[] = [
  [
    'answer with a wrong byte',
    (random) => ({ kind: 'corrupt-answer', field: 'any', mask: mask(random), share: random.next() }),
  ],
  [
    'question with a wrong byte',
    (random) => ({ kind: 'corrupt-question', field: 'any', mask: mask(random), share: random.next() }),
  ],
  ...(['unit', 'function', 'byte-count'] as const).map(
    (field): Row => [
      `answer with another ${field}`,
      (random) => ({ kind: 'forge', field, mask: mask(random) }),
    ],
  ),
];

const TWINS: readonly Row[] = [
  ['question twice', () => ({ kind: 'duplicate-question', ms: 0 })],
  ['answer twice', () => ({ kind: 'duplicate-answer', ms: 0 })],
];

/**
 * Without transactions the late twin of an answer is known only by its shape or by coming uncalled: twins come at once,
 * earlier answers behind the right one.
 */
const LINE: readonly Row[] = [
  ...WRONG_BYTES,
  ['question twice', () => ({ kind: 'duplicate-question', ms: 0 })],
  ['answer twice', (random) => ({ kind: 'duplicate-answer', ms: whole(random, 0, 2) })],
  ['earlier answer after it', () => ({ kind: 'replay', place: 'after' })],
  ['answer to another question', () => ({ kind: 'other-answer' })],
  [
    'garbage before',
    (random) => ({ kind: 'garbage', place: 'before', ms: whole(random, 0, 2), bytes: bytesOf(random, 20) }),
  ],
  [
    'garbage after',
    (random) => ({ kind: 'garbage', place: 'after', ms: whole(random, 0, 2), bytes: bytesOf(random, 20) }),
  ],
];

/** Between a client and a server whose frames the proxy does not know. */
const BYTES: readonly Row[] = [
  [
    'half-open, then carried',
    (random) => ({ kind: 'half-open', ms: whole(random, 50, 2_500), release: true }),
  ],
  ['half-open for good', (random) => ({ kind: 'half-open', ms: whole(random, 50, 1_000), release: false })],
  ['accepts and is silent', (random) => ({ kind: 'mute', ms: whole(random, 50, 1_500) })],
  ['reset while idle', () => ({ kind: 'reset', when: 'now', share: 0 })],
  ['reset at a question', () => ({ kind: 'reset', when: 'question', share: 0 })],
  ['reset within an answer', (random) => ({ kind: 'reset', when: 'in-answer', share: random.next() })],
  ['closed while idle', () => ({ kind: 'end', when: 'now', share: 0 })],
  ['closed within an answer', (random) => ({ kind: 'end', when: 'in-answer', share: random.next() })],
  ['restart', (random) => ({ kind: 'restart', ms: whole(random, 50, 1_000) })],
  ['byte by byte, in time', () => ({ kind: 'drip', ms: 0 })],
];

/** A signature covers every byte and a sequence number every message: what is altered, lost or repeated must be seen. */
const SEALED: readonly Row[] = [
  [
    'answer with a wrong byte',
    (random) => ({ kind: 'corrupt-answer', field: 'any', mask: mask(random), share: random.next() }),
  ],
  ['answer lost', () => ({ kind: 'drop-answer' })],
  ['answer twice', () => ({ kind: 'duplicate-answer', ms: 0 })],
  ['garbage before', (random) => ({ kind: 'garbage', place: 'before', ms: 0, bytes: bytesOf(random, 40) })],
  ['cut short', (random) => ({ kind: 'truncate', share: random.next(), mute: false })],
];

const MENUS: Readonly<Record<Kind, readonly Row[]>> = {
  'tcp, 1 in flight': [...COMMON, ...CONNECTION, ...NUMBERED, truncate(0.5)],
  'tcp, 4 in flight': [...COMMON, ...CONNECTION, ...NUMBERED, truncate(1), SWAP],
  'tcp, 2 units': [...COMMON, ...CONNECTION, ...NUMBERED, truncate(1)],
  'rtu over tcp': [...COMMON, ...CONNECTION, ...LINE, truncate(0.5)],
  'rtu over tcp, answers alike': [...COMMON, ...CONNECTION, ...WRONG_BYTES, ...TWINS, truncate(0.5)],
  'rtu on a line': [...COMMON, ...LINE, truncate(0)],
  'opc ua, none': BYTES,
  'opc ua, sign and encrypt': [...BYTES, ...SEALED],
};

const kindOf = (random: Random): Kind => {
  let left = random.next() * 100;
  for (const kind of KINDS) {
    left -= SHARES[kind] ?? 0;
    if (left < 0) return kind;
  }
  return KINDS[0];
};

/** `only`: of this kind, whatever the seed says. */
export const draw = (seed: number, only?: Kind): Drawn => {
  const random = seeded(seed);
  // The first numbers of neighbouring seeds are alike.
  for (let index = 0; index < 8; index += 1) random.next();
  const drawn =
    seed >= OPC_UA ? random.pick(['opc ua, none', 'opc ua, sign and encrypt'] as const) : kindOf(random);
  const kind = only ?? drawn;
  const [name, make] = random.pick(MENUS[kind]);
  return { kind, name, fault: make(random) };
};

/**
 * A line is carried by a process of its own, which the machine may keep waiting without our knowing; a session of OPC UA
 * takes as long to be made as the server likes.
 */
export const isPunctual = (kind: Kind): boolean => kind !== 'rtu on a line' && !kind.startsWith('opc ua');

/** Faults that a sound client does not even notice. */
export const isHarmless = ({ name, kind }: Drawn): boolean =>
  name.endsWith(', in time') || (name === 'answers swapped' && kind === 'tcp, 4 in flight');

/** Reasons that a fault may give for having no value. */
export const reasonsOf = ({ kind, fault }: Drawn): ReadonlySet<string> => {
  const broken = ['timed-out', 'interrupted', 'not-polled'];
  if (!isPunctual(kind)) broken.push('refused');
  // What arrives as another question may be refused as such.
  if (fault.kind === 'corrupt-question') broken.push('refused');
  return new Set(fault.kind === 'exception' && isPunctual(kind) ? ['refused', 'not-polled'] : broken);
};
