import type { Line, Table } from '../../signal/index.ts';
import type { Clock } from '../types.ts';
import { connectModbus, type OneShot } from './one-shot.ts';
import type { Foul } from './wire.ts';

/** What one question brought, and how long it took. */
export type Told = { readonly milliseconds: number } & (
  | { readonly words: readonly number[] }
  /** Exception code of the device or gateway. */
  | { readonly refused: number }
  | { readonly foul: Foul }
);

/** Asks one unit, one question at a time. What has gone wrong ends the connection; the next question makes a new one. */
export interface Asker {
  /** Connects where there is no connection; the foul where that fails. */
  open(): Promise<Foul | undefined>;
  /** Why the connection ended by itself while nothing was asked. */
  lost(): Foul | undefined;
  ask(table: Table, at: number, count: number): Promise<Told>;
  /** Settles when nothing of the connection is left. */
  close(): Promise<void>;
}

export interface Place {
  readonly line: Line;
  readonly unit: number;
  /** Milliseconds for the connection, and for each answer. */
  readonly timeout: number;
}

export const openAsker = ({ line, unit, timeout }: Place, clock: Clock): Asker => {
  let link: OneShot | undefined;
  const open = async (): Promise<Foul | undefined> => {
    // Without transaction ids the line stays after a silence; anything else that ended needs a new connection.
    if (link !== undefined && link.ended() === undefined) return undefined;
    await link?.destroy();
    const made = await connectModbus(line, timeout, clock);
    if ('code' in made) return made;
    link = made;
    return undefined;
  };
  return {
    open,
    lost: () => link?.ended(),
    async ask(table, at, count) {
      const began = clock.now();
      const trouble = await open();
      if (trouble !== undefined || link === undefined) {
        const foul = trouble ?? { code: 'connect-failed', detail: '' };
        return { milliseconds: (clock.now() - began) / 1_000, foul };
      }
      const got = await link.ask({ unit, table, at, count, timeout });
      const milliseconds = (got.received - got.sent) / 1_000;
      if ('words' in got) return { milliseconds, words: got.words };
      if ('refused' in got) return { milliseconds, refused: got.refused };
      return { milliseconds, foul: got.foul };
    },
    close: async () => link?.destroy(),
  };
};
