import modbus from 'modbus-serial';
import type { Table } from '../../signal/index.ts';
import { LibraryPort } from './port.ts';

/** What the library made of an answer. */
export type Understood =
  | { readonly data: readonly (number | boolean)[] }
  /** Exception code of the device. */
  | { readonly refused: number }
  | { readonly trouble: string };

/** The client library as encoder of questions and decoder of answers; reads only. */
export interface Library {
  /** Makes the question's frame and hands it to `send`, before this returns. */
  ask(slot: number, unit: number, table: Table, at: number, count: number): void;
  /** What a whole answer to the question at `slot` says. */
  understand(slot: number, frame: Uint8Array): Understood;
  destroy(): void;
}

/** Errors of the library need not be instances of Error. */
const troubleOf = (error: object): Understood => {
  if ('modbusCode' in error && typeof error.modbusCode === 'number') return { refused: error.modbusCode };
  const name = 'name' in error ? String(error.name) : 'unknown';
  return { trouble: 'message' in error && error.message ? String(error.message) : name };
};

const NOTHING: Understood = { trouble: 'no answer from the library' };

export const createLibrary = (send: (slot: number, frame: Uint8Array) => void): Library => {
  const port = new LibraryPort(send);
  const client = new modbus.default(port);
  client.open();
  let understood: Understood = NOTHING;
  // Taken down here and looked at afterwards: the library swallows what its callbacks throw.
  const hear = (error: object | null, got: { readonly data: readonly (number | boolean)[] }): void => {
    understood = error ? troubleOf(error) : got;
  };
  return {
    ask(slot, unit, table, at, count) {
      port._transactionIdWrite = slot;
      switch (table) {
        case 'coil':
          return client.writeFC1(unit, at, count, hear);
        case 'discrete-input':
          return client.writeFC2(unit, at, count, hear);
        case 'holding':
          return client.writeFC3(unit, at, count, hear);
        case 'input':
          return client.writeFC4(unit, at, count, hear);
        default:
          return table satisfies never;
      }
    },
    understand(slot, frame) {
      understood = NOTHING;
      port._transactionIdRead = slot;
      port.emit('data', frame);
      return understood as Understood;
    },
    destroy: () => client.destroy(() => undefined),
  };
};
