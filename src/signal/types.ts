import type { Absence, Instant, Interval, Micros, QuantityKind, SignalId } from '../measure/index.ts';

/** Read functions of the Modbus Application Protocol (6.1–6.4). No other table can be named, so none can be written. */
export type Table = 'coil' | 'discrete-input' | 'holding' | 'input';

/** How the bytes of a Modbus source travel. */
export type Line =
  | {
      readonly kind: 'tcp';
      readonly host: string;
      readonly port: number;
      /** Bits a second of the serial line behind a gateway, where one is known of. */
      readonly serialBaud?: number;
    }
  /** RTU frames on a TCP connection, as a serial converter without translation carries them. */
  | {
      readonly kind: 'rtu-over-tcp';
      readonly host: string;
      readonly port: number;
      readonly serialBaud?: number;
    }
  | {
      readonly kind: 'serial';
      readonly path: string;
      readonly baud: number;
      readonly parity: 'none' | 'even' | 'odd';
      readonly dataBits: 7 | 8;
      readonly stopBits: 1 | 2;
    };

/** One unit behind a line. Units of the same line share its connection unless they ask for their own. */
export interface ModbusSource {
  readonly protocol: 'modbus';
  readonly name: string;
  readonly line: Line;
  readonly unit: number;
  /** From one question to the next: of what interlocks need; of that while a window needs it; of everything else. */
  readonly poll: Micros;
  readonly windowPoll: Micros;
  readonly slowPoll: Micros;
  readonly timeout: Micros;
  /** Controller cycle; a computed value is up to one cycle old, an input image up to two (see `SignalDef.age`). */
  readonly scan: Micros;
  /** Signals of one response share one instant of the controller. */
  readonly scanConsistent: boolean;
  readonly maxRegisters: number;
  readonly maxBits: number;
  /** Addresses that nobody asked for may be read through up to this many in a row. */
  readonly maxGap: number;
  /** Questions that may be on their way at once; always 1 without transaction ids. */
  readonly inFlight: number;
  /** Rest between an answer and the next question. */
  readonly pause: Micros;
  readonly connection: 'shared' | 'own';
  /** The connection is given back when nothing is due for longer than this; undefined: it is kept. */
  readonly releaseAfter?: Micros;
}

export type SecurityPolicy = 'Basic256Sha256' | 'Aes128_Sha256_RsaOaep' | 'Aes256_Sha256_RsaPss';

/** How an OPC UA session is secured and whose it is. Secrets are named, never held: the book goes into the log. */
export interface OpcUaAccess {
  readonly mode: 'none' | 'sign' | 'sign-and-encrypt';
  readonly policy: SecurityPolicy;
  readonly user:
    | { readonly kind: 'anonymous' }
    /** `passwordFrom`: the environment variable that holds the password. */
    | { readonly kind: 'name'; readonly name: string; readonly passwordFrom: string }
    /** Paths of PEM files. */
    | { readonly kind: 'certificate'; readonly certificate: string; readonly key: string };
}

export interface OpcUaSource {
  readonly protocol: 'opc-ua';
  readonly name: string;
  readonly endpoint: string;
  readonly access: OpcUaAccess;
  readonly sampling: Micros;
  readonly publishing: Micros;
  readonly queue: number;
  readonly timeout: Micros;
  readonly scan: Micros;
  /** The server's clock is right within this; undefined: not known, the publish interval bounds the time instead. */
  readonly clockBound?: Micros;
  /**
   * Source times are of the clock that the server shows, so that its offset, measured by asking, holds for them too.
   * Without it and without `clockBound` a source time bounds nothing.
   */
  readonly sourceClock?: 'server';
}

/** Readings handed over in a file (an imported trace). */
export interface TraceSource {
  readonly protocol: 'trace';
  readonly name: string;
  readonly scan: Micros;
  readonly scanConsistent: boolean;
}

export type Source = ModbusSource | OpcUaSource | TraceSource;

export type NumberType =
  | 'uint16'
  | 'int16'
  | 'uint32'
  | 'int32'
  | 'uint64'
  | 'int64'
  | 'float32'
  | 'float64'
  /** Binary coded decimals: four and eight digits. */
  | 'bcd16'
  | 'bcd32';
/**
 * Letters name the bytes of the value, A the most significant, in the order in which they travel. With four registers
 * `CDAB` means the words last first, `BADC` the bytes of each word turned, `DCBA` both.
 */
export type ByteOrder = 'ABCD' | 'CDAB' | 'BADC' | 'DCBA';

/** Types in which pulses are counted. */
export type CountType = 'uint16' | 'uint32' | 'bcd16' | 'bcd32';

/** Some neighbouring bits of a whole number, as a number of their own. */
export interface BitField {
  /** The lowest of them; 0 is the least significant bit. */
  readonly low: number;
  readonly count: number;
}

/** What a sensor makes of a temperature, or a transmitter of its quantity; read backwards. */
export type CurveShape =
  /** Platinum by IEC 60751; `nominal`: ohms at 0 degC. Reads ohms. */
  | { readonly as: 'platinum'; readonly nominal: number }
  /** NIST ITS-90 reference functions; reads mV. `cold`: the other junction, in degC; 0 where it is made up for. */
  | { readonly as: 'thermocouple'; readonly letter: 'K' | 'J'; readonly cold: number }
  /** Steinhart and Hart: 1/T = a + b ln R + c (ln R)^3; reads ohms. */
  | { readonly as: 'thermistor'; readonly a: number; readonly b: number; readonly c: number }
  /** 4-20 mA with the ranges of NAMUR NE 43; reads mA. `from`, `to`: the value at 4 and at 20 mA. */
  | { readonly as: 'loop'; readonly from: number; readonly to: number };

export type Curve = CurveShape & {
  /** Of a temperature in degC to the unit of the signal; 1 and 0 for a loop. */
  readonly scale: number;
  readonly offset: number;
  /** One step of the register before the curve (ohm, mV, mA); 0: `SignalDef.resolution` is meant behind it. */
  readonly step: number;
  /** Accuracy before the curve, to each side; 0: `SignalDef.accuracy` is meant behind it. */
  readonly error: number;
};

/** What happens to a number behind the words, in this order. */
export interface Conversion {
  readonly field?: BitField;
  /** Raw values that mean a fault, never a measurement. */
  readonly faults?: readonly number[];
  readonly scale: number;
  readonly offset: number;
  readonly curve?: Curve;
}

export interface Pulses {
  readonly type: CountType;
  readonly order: ByteOrder;
  /** What one pulse a second is worth; includes targets per revolution. */
  readonly unitsPerPulsePerSecond: number;
  readonly faults?: readonly number[];
}

/** How words become a number in the signal's unit. */
export type Decoding =
  | { readonly as: 'bit'; readonly bit?: number; readonly inverted: boolean }
  | ({
      readonly as: 'number';
      readonly type: NumberType;
      readonly order: ByteOrder;
      /** States in the opposite order. */
      readonly inverted?: boolean;
    } & Conversion)
  /** Characters in so many registers; 0 where they come as a text already (OPC UA). The value is a code of the text. */
  | { readonly as: 'text'; readonly registers: number; readonly order: ByteOrder }
  /** Free-running count; becomes speed from the difference of two answers. */
  | (Pulses & {
      readonly as: 'pulse-count';
      /** Counts before it starts again at 0 (65 536, 4 294 967 296, 10 000 …). */
      readonly rollover: number;
      /** Pulses of this much time are counted before a speed is given. */
      readonly gate: Micros;
    })
  /** Pulses that the controller has counted in its last full gate. */
  | (Pulses & { readonly as: 'pulse-gate'; readonly gate: Micros })
  /** Time between two pulses, in ticks; becomes speed. 0 or the largest value means that no pulse came. */
  | (Pulses & { readonly as: 'pulse-period'; readonly tick: Micros })
  | ({ readonly as: 'value'; readonly inverted: boolean } & Conversion);

export type Address =
  | { readonly kind: 'modbus'; readonly table: Table; readonly at: number }
  | { readonly kind: 'opc-ua'; readonly namespace: string; readonly id: string }
  /** Looked up at each connection: names from the Objects folder down, each with the URI of its namespace. */
  | {
      readonly kind: 'opc-ua-path';
      readonly path: readonly { readonly namespace: string; readonly name: string }[];
    }
  | { readonly kind: 'trace' }
  /** Worked out from other signals; its source is -1. */
  | { readonly kind: 'derived'; readonly from: Derivation };

/** How a signal is worked out from others, the doubt of each carried through. `per` and `over` in µs. */
export type Derivation =
  /** The first less the second. */
  | { readonly as: 'difference'; readonly of: readonly [SignalId, SignalId] }
  /** The first by the second, times `scale` (100: percent). */
  | { readonly as: 'ratio'; readonly of: readonly [SignalId, SignalId]; readonly scale: number }
  /** 100 × (1 − driven × gear / driving): percent by which the driven shaft lags. */
  | { readonly as: 'slip'; readonly of: readonly [SignalId, SignalId]; readonly gear: number }
  /** Change over the last `over`, per `per`. */
  | { readonly as: 'rate'; readonly of: readonly [SignalId]; readonly over: Micros; readonly per: Micros }
  | { readonly as: 'mean'; readonly of: readonly SignalId[] }
  /** The `rank`-th highest (1: the highest). Two of three above a level: rank 2. */
  | { readonly as: 'rank'; readonly of: readonly SignalId[]; readonly rank: number }
  /** The highest less the lowest. */
  | { readonly as: 'spread'; readonly of: readonly SignalId[] };

/** A named quantity of the plant and where it lives in a controller. Values are in `unit`. */
export interface SignalDef {
  readonly id: SignalId;
  /** `machine.role` or the tag's own name; unique in the site. */
  readonly name: string;
  readonly source: number;
  readonly address: Address;
  readonly decoding: Decoding;
  readonly quantity: QuantityKind;
  /** '' for states. */
  readonly unit: string;
  /** Names of the states, by code; empty for measured values. */
  readonly states: readonly string[];
  /** Step of the register in `unit`; half of it goes on each side. */
  readonly resolution: number;
  /** Declared sensor and conversion accuracy in `unit`, ±. */
  readonly accuracy: number;
  /** A value may be this old when the controller answers. */
  readonly age: Micros;
  /** Nothing new for this long: the reading is absent (`aged`). */
  readonly agedAfter: Micros;
  /** Outside this range the value is absent (`implausible`), never a trip. */
  readonly plausible?: Interval;
}

/** One question to a Modbus device. */
export interface Request {
  readonly source: number;
  readonly table: Table;
  readonly at: number;
  readonly count: number;
  readonly signals: readonly SignalId[];
  /** `slow`: no interlock needs any of it. */
  readonly pace: 'watch' | 'slow';
}

export interface Plan {
  readonly requests: readonly Request[];
  /** Signals of OPC UA sources, by source index. */
  readonly items: ReadonlyMap<number, readonly SignalId[]>;
}

/** What came back, as received. It is what the log keeps, so that decoding can be repeated too. */
export type Answer =
  | {
      readonly kind: 'words';
      readonly source: number;
      /** Index into `Plan.requests`. */
      readonly request: number;
      readonly sent: Instant;
      readonly received: Instant;
      /**
       * Registers, or bits as 0 and 1; exactly as many as the request has. -1: the device refuses this address. -2: it is
       * not in this answer; a request that was asked in parts gives an answer for each, with times of its own.
       */
      readonly words: readonly number[];
    }
  | {
      readonly kind: 'nothing';
      readonly source: number;
      readonly request: number;
      readonly sent: Instant;
      readonly received: Instant;
      readonly why: Absence;
      /** Modbus exception code where the device said no. */
      readonly code: number;
    }
  | {
      readonly kind: 'items';
      readonly source: number;
      readonly received: Instant;
      readonly items: readonly Item[];
    }
  /** What an OPC UA server has granted, which may be less than was asked for; before the first items, and anew. */
  | {
      readonly kind: 'terms';
      readonly source: number;
      readonly received: Instant;
      readonly publishing: Micros;
      readonly items: readonly Granted[];
    }
  /** The source was asked what time it is. */
  | {
      readonly kind: 'clock';
      readonly source: number;
      readonly sent: Instant;
      readonly received: Instant;
      readonly theirs: Instant;
    };

/** Revised sampling interval and queue of one item. */
export interface Granted {
  readonly signal: SignalId;
  readonly sampling: Micros;
  readonly queue: number;
}

/** One notification of an OPC UA item. */
export interface Item {
  readonly signal: SignalId;
  /** Status code as received (Part 4, 7.39.1), or -1 where the connection has nothing to say. */
  readonly status: number;
  readonly value: number | null;
  /** Of a signal that is a text (a revision). */
  readonly text?: string;
  /** Source timestamp; absent where the server gave none. */
  readonly sourceTime?: Instant;
  readonly serverTime?: Instant;
  /** Set where `value` repeats the last one because keep-alives and sequence numbers were unbroken. */
  readonly unchanged?: boolean;
  readonly why?: Absence;
}
