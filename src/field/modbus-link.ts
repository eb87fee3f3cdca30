import modbus from 'modbus-serial';
import type { Instant } from '../measure/index.ts';
import type { Table } from '../signal/index.ts';
import { dial, type Foul, seal } from './sealed-socket.ts';
import type { Clock } from './types.ts';

/** What came of one question. */
export type Asking = { readonly sent: Instant; readonly received: Instant } & (
  | { readonly words: readonly number[] }
  /** Exception code of the device. */
  | { readonly refused: number }
  /** The connection is gone. */
  | { readonly foul: Foul }
);

export interface Target {
  readonly host: string;
  readonly port: number;
  readonly unit: number;
  /** Milliseconds for the connection, and for each answer. */
  readonly timeout: number;
}

/** One connection to one unit. After any foul it is destroyed; a new one is made, never this one again. */
export interface ModbusLink {
  /** One at a time. Addresses 0–65535; 1–125 registers or 1–2000 bits. Never throws. */
  ask(table: Table, at: number, count: number): Promise<Asking>;
  destroy(): void;
}

type Client = InstanceType<typeof modbus.default>;

const readWith = async (client: Client, table: Table, at: number, count: number): Promise<unknown[]> => {
  switch (table) {
    case 'coil':
      return (await client.readCoils(at, count)).data;
    case 'discrete-input':
      return (await client.readDiscreteInputs(at, count)).data;
    case 'holding':
      return (await client.readHoldingRegisters(at, count)).data;
    case 'input':
      return (await client.readInputRegisters(at, count)).data;
    default:
      return table satisfies never;
  }
};

const inRange = (table: Table, at: number, count: number): boolean => {
  const most = table === 'coil' || table === 'discrete-input' ? 2000 : 125;
  const whole = Number.isInteger(at) && Number.isInteger(count);
  return whole && at >= 0 && count >= 1 && count <= most && at + count <= 65_536;
};

/** Exactly as many as were asked for; bits lose their padding. Undefined where it is anything else. */
const wordsFrom = (data: readonly unknown[], table: Table, count: number): number[] | undefined => {
  const bits = table === 'coil' || table === 'discrete-input';
  if (bits ? data.length < count : data.length !== count) return undefined;
  const words = data.slice(0, count).map(Number);
  return words.every((word) => Number.isInteger(word) && word >= 0 && word <= 0xffff) ? words : undefined;
};

const exceptionIn = (error: unknown): number | undefined => {
  if (typeof error !== 'object' || error === null || !('modbusCode' in error)) return undefined;
  return typeof error.modbusCode === 'number' ? error.modbusCode : undefined;
};

/** Errors of the library need not be instances of Error. */
const nameOf = (error: unknown): string => {
  if (typeof error !== 'object' || error === null) return String(error);
  if ('message' in error && error.message) return String(error.message);
  return 'name' in error ? String(error.name) : 'unknown';
};

/** Connects, or says why not. `lost` is called once, when the connection ends by itself while nothing is asked. */
export const linkModbus = async (
  target: Target,
  clock: Clock,
  lost: (foul: Foul) => void,
): Promise<ModbusLink | Foul> => {
  const socket = await dial(target.host, target.port, target.timeout);
  if ('code' in socket) return socket;
  let gone: Foul | undefined;
  let complete: Instant | undefined;
  let fail: ((foul: Foul) => void) | undefined;

  const client = new modbus.default();
  const leave = (): void => {
    client.destroy(() => undefined);
    socket.destroy();
  };
  const end = (foul: Foul): void => {
    if (gone !== undefined) return;
    gone = foul;
    leave();
    if (fail) fail(foul);
    else lost(foul);
  };
  seal(socket, {
    complete: () => {
      complete = clock.now();
    },
    foul: end,
  });
  try {
    await client.linkTCP(socket, {} as never);
  } catch (error) {
    gone = { code: 'connect-failed', detail: nameOf(error) };
    leave();
    return gone;
  }
  client.on('error', (error) => end({ code: 'connection-error', detail: nameOf(error) }));
  client.setID(target.unit);
  client.setTimeout(target.timeout * 2); // Ours ends first; the library's is the second net.

  const ask = (table: Table, at: number, count: number): Promise<Asking> => {
    const sent = clock.now();
    complete = undefined;
    return new Promise((resolve) => {
      const settle = (asking: Asking): void => {
        clearTimeout(timer);
        fail = undefined;
        resolve(asking);
      };
      const broken = (foul: Foul): void => settle({ sent, received: clock.now(), foul });
      if (gone) return resolve({ sent, received: sent, foul: gone });
      if (fail !== undefined || !inRange(table, at, count)) {
        return resolve({
          sent,
          received: sent,
          foul: { code: 'not-a-read', detail: `${table} ${at} ${count}` },
        });
      }
      const timer = setTimeout(() => end({ code: 'silent', detail: `${target.timeout} ms` }), target.timeout);
      fail = broken;
      readWith(client, table, at, count).then(
        (data) => {
          if (gone) return;
          const words = wordsFrom(data, table, count);
          if (words === undefined || complete === undefined)
            end({ code: 'wrong-length', detail: `${data.length}` });
          else settle({ sent, received: complete, words });
        },
        (error: unknown) => {
          if (gone) return;
          const code = exceptionIn(error);
          if (code === undefined || complete === undefined) end({ code: 'library', detail: nameOf(error) });
          else settle({ sent, received: complete, refused: code });
        },
      );
    });
  };
  return {
    ask,
    destroy: () => {
      gone ??= { code: 'stopped', detail: '' };
      leave();
      fail?.(gone);
    },
  };
};
