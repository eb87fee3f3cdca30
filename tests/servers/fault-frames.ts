/** How each fault of a single question or answer is done. */
import type { Fault, Field } from './faults.ts';
import { exceptionFor, type Framing, unitAt, withCrc } from './frames.ts';

/** `bytes`: cut nowhere, as it comes. */
export type Wire = Framing | 'bytes';

/** What a plan may do with the connection whose frame it took. `over`: the last of the fault is done. */
export interface Carrier {
  toPeer(bytes: Buffer): void;
  toClient(bytes: Buffer): void;
  drip(bytes: Buffer, gap: number, done: () => void): void;
  later(ms: number, act: () => void): void;
  mute(): void;
  reset(): void;
  end(): void;
  over(): void;
}

/** True: the frame is the plan's now; nobody else carries it. */
type Take = (frame: Buffer, carrier: Carrier) => boolean;

export interface Plan {
  readonly question?: Take;
  readonly answer?: Take;
}

/** What went by: needed to replay, and to know which alterations nobody could tell. */
export interface Carried {
  question(frame: Buffer): void;
  answer(frame: Buffer): void;
  /** Questions that have no answer yet, by transaction (0 on a line). */
  readonly open: ReadonlyMap<number, Buffer>;
  /** The last answer to the question that this one answers. */
  before(answer: Buffer): Buffer | undefined;
  /** An answer to another question, of another shape. */
  other(answer: Buffer): Buffer | undefined;
}

/** The question without its transaction. */
const keyOf = (wire: Wire, question: Buffer): string =>
  question.subarray(wire === 'mbap' ? 2 : 0).toString('hex');

export const carriedOf = (wire: Wire): Carried => {
  const open = new Map<number, Buffer>();
  const answers = new Map<string, Buffer>();
  const idOf = (frame: Buffer): number => (wire === 'mbap' ? frame.readUInt16BE(0) : 0);
  const keyed = (answer: Buffer): string => {
    const question = open.get(idOf(answer));
    return question === undefined ? '' : keyOf(wire, question);
  };
  const silent = wire === 'bytes';
  return {
    open,
    question: (frame) => {
      if (silent) return;
      // Questions of connections that are gone have no answer ever.
      if (open.size > 64) open.clear();
      open.set(idOf(frame), Buffer.from(frame));
    },
    answer: (frame) => {
      if (silent) return;
      const key = keyed(frame);
      if (key !== '') answers.set(key, Buffer.from(frame));
      open.delete(idOf(frame));
    },
    before: (answer) => answers.get(keyed(answer)),
    other: (answer) => {
      const own = keyed(answer);
      const others = [...answers].filter(([key, one]) => key !== own && one.length !== answer.length);
      return others[0]?.[1];
    },
  };
};

const once = (take: Take): Take => {
  let taken = false;
  return (frame, carrier) => {
    if (taken) return false;
    taken = take(frame, carrier);
    return taken;
  };
};

const OFFSETS: Readonly<Record<Exclude<Field, 'any'>, readonly number[]>> = {
  transaction: [0, 1],
  protocol: [2, 3],
  length: [4, 5],
  unit: [6],
  function: [7],
  'byte-count': [8],
  quantity: [10, 11],
};

const offsetOf = (wire: Wire, field: Field, frame: Buffer, share: number): number => {
  if (field === 'any') return Math.floor(share * frame.length);
  if (wire === 'rtu') return OFFSETS[field][0]! - unitAt('mbap');
  const places = OFFSETS[field];
  return places[Math.floor(share * places.length)]!;
};

const altered = (frame: Buffer, at: number, mask: number): Buffer => {
  const copy = Buffer.from(frame);
  copy[at]! ^= mask;
  return copy;
};

/** The transaction of another question that is still open: with the same shape nobody could tell. */
const alteredTo = (wire: Wire, carried: Carried, frame: Buffer, at: number, mask: number): Buffer => {
  const one = altered(frame, at, mask);
  if (wire !== 'mbap' || at > 1 || !carried.open.has(one.readUInt16BE(0))) return one;
  return altered(frame, 0, 0x80);
};

/** What carries a field that is not ours carries somebody else's data too: whoever takes it is seen to be wrong. */
const estranged = (framing: Framing, frame: Buffer): Buffer => {
  const copy = Buffer.from(frame);
  const end = framing === 'rtu' ? copy.length - 2 : copy.length;
  for (let at = unitAt(framing) + 3; at < end; at += 1) copy[at]! ^= STRANGE;
  return copy;
};

const STRANGE = 0x5a;

const forged = (frame: Buffer, at: number, mask: number): Buffer =>
  withCrc(altered(estranged('rtu', frame), at, mask).subarray(0, frame.length - 2));

const headOf = (frame: Buffer, share: number): Buffer =>
  frame.subarray(0, 1 + Math.floor(share * (frame.length - 1)));

const ILLEGAL_ADDRESS = 2;

/**
 * Of bits, another quantity may need as many bytes, which nobody could tell; and the oracle takes those of one answer
 * together, which it could not if a refusal made the client ask for them in parts.
 */
const asksBits = (wire: Wire, frame: Buffer): boolean =>
  frame[unitAt(wire === 'rtu' ? 'rtu' : 'mbap') + 1]! <= 2;

/** Two pieces to the client, the second `ms` later; 0: glued. */
const twoPieces = (carrier: Carrier, first: Buffer, second: Buffer, ms: number): void => {
  if (ms === 0) {
    carrier.toClient(Buffer.concat([first, second]));
    carrier.over();
    return;
  }
  carrier.toClient(first);
  carrier.later(ms, () => {
    carrier.toClient(second);
    carrier.over();
  });
};

const swapAnswers = (ms: number): Take => {
  let first: Buffer | undefined;
  let over = false;
  return (frame, carrier) => {
    if (over) return false;
    if (first !== undefined) {
      over = true;
      carrier.toClient(frame);
      carrier.toClient(first);
      carrier.over();
      return true;
    }
    first = frame;
    carrier.later(ms, () => {
      if (over) return;
      over = true;
      carrier.toClient(frame);
      carrier.over();
    });
    return true;
  };
};

const lateToNext = (ms: number): Plan => {
  let held: Buffer | undefined;
  return {
    answer: (frame) => {
      held = frame;
      return true;
    },
    question: (frame, carrier) => {
      if (held === undefined) return false;
      carrier.toClient(held);
      carrier.later(ms, () => {
        carrier.toPeer(frame);
        carrier.over();
      });
      return true;
    },
  };
};

type Of<Kind, One = Fault> = One extends { readonly kind: infer Own }
  ? Kind extends Own
    ? One
    : never
  : never;

const replayed =
  (place: Of<'replay'>['place'], carried: Carried): Take =>
  (frame, carrier) => {
    const old = carried.before(frame);
    if (old === undefined) return false;
    if (place === 'instead') carrier.toClient(old);
    else carrier.toClient(Buffer.concat(place === 'before' ? [old, frame] : [frame, old]));
    carrier.over();
    return true;
  };

const broken =
  (fault: Of<'reset'>): Take =>
  (frame, carrier) => {
    const leave = (): void => {
      if (fault.kind === 'reset') carrier.reset();
      else carrier.end();
      carrier.over();
    };
    if (fault.when === 'question') leave();
    else {
      carrier.toClient(headOf(frame, fault.share));
      carrier.mute();
      carrier.later(1, leave);
    }
    return true;
  };

/** A frame goes on as something else, and that is all. */
const instead =
  (become: (frame: Buffer) => Buffer | undefined, to: 'toPeer' | 'toClient'): Take =>
  (frame, carrier) => {
    const other = become(frame);
    if (other === undefined) return false;
    carrier[to](other);
    carrier.over();
    return true;
  };

const lost: Take = (_frame, carrier) => {
  carrier.over();
  return true;
};

const late =
  (ms: number, to: 'toPeer' | 'toClient'): Take =>
  (frame, carrier) => {
    carrier.later(ms, () => {
      carrier[to](frame);
      carrier.over();
    });
    return true;
  };

/** What is done to which frame. Faults of the line have no plan: the proxy does them itself. */
const takesOf = (fault: Fault, wire: Wire, carried: Carried): Plan => {
  const framing: Framing = wire === 'rtu' ? 'rtu' : 'mbap';
  switch (fault.kind) {
    case 'delay-question':
      return { question: late(fault.ms, 'toPeer') };
    case 'delay-answer':
      return { answer: late(fault.ms, 'toClient') };
    case 'drop-question':
      return { question: lost };
    case 'drop-answer':
      return { answer: lost };
    case 'late-to-next':
      return lateToNext(fault.ms);
    case 'duplicate-question':
      return {
        question: (frame, carrier) => {
          carrier.toPeer(frame);
          carrier.later(fault.ms, () => {
            carrier.toPeer(frame);
            carrier.over();
          });
          return true;
        },
      };
    case 'duplicate-answer':
      return {
        answer: (frame, carrier) => {
          twoPieces(carrier, frame, frame, fault.ms);
          return true;
        },
      };
    case 'swap-answers':
      return { answer: swapAnswers(fault.ms) };
    case 'replay':
      return { answer: replayed(fault.place, carried) };
    case 'other-answer':
      return { answer: instead((frame) => carried.other(frame), 'toClient') };
    case 'truncate':
      return {
        answer: (frame, carrier) => {
          carrier.toClient(headOf(frame, fault.share));
          if (fault.mute) carrier.mute();
          carrier.over();
          return true;
        },
      };
    case 'corrupt-question':
      return {
        question: instead((frame) => {
          if (fault.field === 'quantity' && asksBits(wire, frame)) return undefined;
          return altered(frame, offsetOf(wire, fault.field, frame, fault.share), fault.mask);
        }, 'toPeer'),
      };
    case 'corrupt-answer':
      return {
        answer: instead((frame) => {
          const at = offsetOf(wire, fault.field, frame, fault.share);
          const strange = fault.field === 'any' ? frame : estranged(framing, frame);
          return alteredTo(wire, carried, strange, at, fault.mask);
        }, 'toClient'),
      };
    case 'forge':
      return {
        answer: instead(
          (frame) => forged(frame, offsetOf(wire, fault.field, frame, 0), fault.mask),
          'toClient',
        ),
      };
    case 'drip':
      return {
        answer: (frame, carrier) => {
          carrier.drip(frame, fault.ms, () => carrier.over());
          return true;
        },
      };
    case 'garbage':
      return {
        answer: (frame, carrier) => {
          const garbage = Buffer.from(fault.bytes);
          if (fault.place === 'before') twoPieces(carrier, garbage, frame, fault.ms);
          else twoPieces(carrier, frame, garbage, fault.ms);
          return true;
        },
      };
    case 'exception':
      return {
        answer: instead((frame) => {
          if (fault.code === ILLEGAL_ADDRESS && asksBits(wire, frame)) return undefined;
          return exceptionFor(framing, frame, fault.code);
        }, 'toClient'),
      };
    case 'reset':
    case 'end':
      return fault.when === 'in-answer' ? { answer: broken(fault) } : { question: broken(fault) };
    case 'half-open':
    case 'mute':
    case 'restart':
      return {};
    default:
      return fault satisfies never;
  }
};

export const planOf = (fault: Fault, wire: Wire, carried: Carried): Plan => {
  const { question, answer } = takesOf(fault, wire, carried);
  // Two answers change places: that plan takes two.
  const single = fault.kind === 'swap-answers' ? (take: Take): Take => take : once;
  return {
    ...(question !== undefined && { question: single(question) }),
    ...(answer !== undefined && { answer: single(answer) }),
  };
};
