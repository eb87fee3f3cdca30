import type { Table } from '../signal/index.ts';
import { connectModbus } from './one-shot.ts';
import type { Clock } from './types.ts';

export interface ProbeTarget {
  readonly host: string;
  readonly port: number;
  readonly unit: number;
  readonly table: Table;
  readonly at: number;
  readonly count: number;
  /** Milliseconds. */
  readonly timeout: number;
}

/** What one address answered, or at which stage it failed. */
export type Probed =
  | { readonly words: readonly number[]; readonly milliseconds: number }
  | { readonly stage: 'tcp' | 'unit' | 'address'; readonly code: string; readonly detail: string };

/** Asks one block of addresses once. */
export const probeModbus = async (target: ProbeTarget, clock: Clock): Promise<Probed> => {
  const { host, port, unit, table, at, count, timeout } = target;
  const line = { kind: 'tcp', host, port } as const;
  const link = await connectModbus(line, timeout, clock);
  if ('code' in link) return { stage: 'tcp', code: link.code, detail: link.detail };
  const got = await link.ask({ unit, table, at, count, timeout });
  await link.destroy();
  if ('foul' in got) return { stage: 'unit', code: got.foul.code, detail: got.foul.detail };
  if ('refused' in got) return { stage: 'address', code: 'refused', detail: String(got.refused) };
  return { words: got.words, milliseconds: (got.received - got.sent) / 1_000 };
};
