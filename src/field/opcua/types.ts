import type { Instant, SignalId } from '../../measure/index.ts';
import type { Item, OpcUaSource, SignalDef } from '../../signal/index.ts';
import type { Clock, Sink } from '../types.ts';

/** Where in the way to a server's values something stopped. */
export type OpcUaStage =
  | 'address'
  | 'name'
  | 'tcp'
  | 'endpoints'
  | 'certificate'
  | 'channel'
  | 'user'
  | 'browse'
  | 'items'
  | 'connection';

/** What went wrong, as a code with parameters; never holds a secret. */
export interface OpcUaTrouble {
  readonly stage: OpcUaStage;
  readonly code: string;
  readonly params: Readonly<Record<string, string | number>>;
}

/** What a connection needs beside the source: our certificate's folder, and who knows secrets. */
export interface OpcUaOptions {
  /** Folder of our own certificate and of those we trust; made on first use. */
  readonly pki: string;
  /** Words of the library, for the log of the run. */
  readonly onLog?: (text: string) => void;
  /** Value of an environment variable, asked for at each connection; without it there are no passwords. */
  readonly secret?: (variable: string) => string | undefined;
}

/** One monitored item; its place in the list is its client handle. */
export interface Slot {
  readonly def: SignalDef;
  last: Item | undefined;
  /** The server does not give it; told already. */
  refused: boolean;
  /** Cycle in which it last came: what came in this one is not repeated as unchanged. */
  cycle: number;
}

/** What outlives a connection. */
export interface Watching {
  readonly source: OpcUaSource;
  readonly index: number;
  readonly signals: readonly SignalDef[];
  readonly sink: Sink;
  readonly clock: Clock;
  readonly options: OpcUaOptions;
  readonly counts: { answers: number; nothings: number; reconnects: number };
  /** Where each namespace stood at the last connection. */
  readonly namespaces: Map<string, number>;
  /** What was revised, as last told. */
  terms: string;
  connected: boolean;
  lostAt: Instant | undefined;
  missed: number;
}

export type Why = 'timed-out' | 'interrupted' | 'refused' | 'overflow';

/** Items of this source as one answer. */
export const tell = (watching: Watching, items: readonly Item[], received = watching.clock.now()): void => {
  if (items.length === 0) return;
  watching.counts.answers += 1;
  watching.sink.answer({ kind: 'items', source: watching.index, received, items });
};

/** Nothing is known of these signals. */
export const tellAbsent = (watching: Watching, signals: readonly SignalId[], why: Why): void => {
  if (signals.length === 0) return;
  watching.counts.nothings += 1;
  tell(
    watching,
    signals.map((signal): Item => ({ signal, status: -1, value: null, why })),
  );
};

export const note = (
  watching: Watching,
  kind: 'refused' | 'note',
  code: string,
  params: Readonly<Record<string, string | number>>,
): void => {
  watching.sink.event({ kind, source: watching.index, at: watching.clock.now(), code, params });
};
