import type { Table } from '../signal/index.ts';
import { linkModbus } from './modbus-link.ts';
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
  const link = await linkModbus(target, clock, () => undefined);
  if ('code' in link) return { stage: 'tcp', code: link.code, detail: link.detail };
  const got = await link.ask(target.table, target.at, target.count);
  link.destroy();
  if ('foul' in got) return { stage: 'unit', code: got.foul.code, detail: got.foul.detail };
  if ('refused' in got) return { stage: 'address', code: 'refused', detail: String(got.refused) };
  return { words: got.words, milliseconds: (got.received - got.sent) / 1_000 };
};
