import { connect } from 'node:net';
import type { Line } from '../../signal/index.ts';

/** Why a connection came to nothing: a code of ours, and what the machine said. */
export interface Foul {
  readonly code: string;
  readonly detail: string;
}

export interface WireEars {
  /** The buffer is used again after the call. */
  bytes(got: Uint8Array, length: number): void;
  /** The connection has ended, not by us. Called once at the most. */
  gone(foul: Foul): void;
}

/** A connection that carries bytes. */
export interface Wire {
  write(bytes: Uint8Array): void;
  /** Ends the connection at once; settles when nothing of it is left. */
  destroy(): Promise<void>;
}

/** A connection on its way. `cancel` ends it, also while it is being made; `wire` then still settles. */
export interface Dialing {
  readonly wire: Promise<Wire | Foul>;
  cancel(): void;
}

const codeOf = (error: unknown): string => {
  if (!(error instanceof Error)) return String(error);
  return 'code' in error ? String(error.code) : error.message;
};

const READ_AT_ONCE = 16_384;

/** A TCP connection within `deadline` ms, or why not. Never leaves a socket behind that is still connecting. */
const dialTcp = (
  { host, port }: { readonly host: string; readonly port: number },
  deadline: number,
  ears: WireEars,
): Dialing => {
  let open = false;
  let over = false;
  let settle: (result: Wire | Foul) => void = () => undefined;
  const socket = connect({
    host,
    port,
    noDelay: true,
    keepAlive: true,
    keepAliveInitialDelay: 5_000,
    // One buffer for the life of the socket, read without the stream in between.
    onread: {
      buffer: Buffer.allocUnsafeSlow(READ_AT_ONCE),
      callback: (length, got) => {
        if (!over) ears.bytes(got as Uint8Array, length);
        return true;
      },
    },
  });
  const closed = new Promise<void>((resolve) => {
    socket.once('close', () => resolve());
  });
  const end = (foul: Foul): void => {
    if (over) return;
    over = true;
    clearTimeout(timer);
    socket.destroy();
    if (open) ears.gone(foul);
    else void closed.then(() => settle(foul));
  };
  const timer = setTimeout(() => end({ code: 'connect-timed-out', detail: `${deadline} ms` }), deadline);
  const wire: Wire = {
    write: (bytes) => {
      if (!over) socket.write(bytes);
    },
    destroy: () => {
      over = true;
      socket.destroy();
      return closed;
    },
  };
  socket.once('connect', () => {
    if (over) return;
    open = true;
    clearTimeout(timer);
    settle(wire);
  });
  socket.on('error', (error) =>
    end({ code: open ? 'connection-error' : 'connect-failed', detail: codeOf(error) }),
  );
  socket.on('end', () => end({ code: 'connection-ended', detail: '' }));
  socket.on('close', () => end({ code: 'connection-closed', detail: '' }));
  return {
    wire: new Promise((resolve) => {
      settle = resolve;
    }),
    cancel: () => {
      if (!open) end({ code: 'stopped', detail: '' });
    },
  };
};

type Serial = Line & { readonly kind: 'serial' };

const openSerial = async (line: Serial, ears: WireEars): Promise<Wire | Foul> => {
  const { SerialPort } = await import('serialport');
  const { path, baud, parity, dataBits, stopBits } = line;
  const port = new SerialPort({ path, baudRate: baud, parity, dataBits, stopBits, autoOpen: false });
  let over = false;
  const end = (foul: Foul): void => {
    if (over) return;
    over = true;
    ears.gone(foul);
  };
  port.on('error', (error) => end({ code: 'connection-error', detail: codeOf(error) }));
  port.on('close', () => end({ code: 'connection-closed', detail: '' }));
  port.on('data', (got: Buffer) => {
    if (!over) ears.bytes(got, got.length);
  });
  const trouble = await new Promise<Error | null>((resolve) => port.open(resolve));
  if (trouble) {
    over = true;
    return { code: 'connect-failed', detail: codeOf(trouble) };
  }
  // What came before we opened it is nobody's answer.
  await new Promise<void>((resolve) => port.flush(() => resolve()));
  return {
    write: (bytes) => {
      if (!over) port.write(Buffer.from(bytes));
    },
    destroy: () => {
      over = true;
      return new Promise((resolve) => {
        if (port.isOpen) port.close(() => resolve());
        else resolve();
      });
    },
  };
};

/** A serial line is opened by the machine itself; what takes longer than `deadline` is given back when it comes. */
const dialSerial = (line: Serial, deadline: number, ears: WireEars): Dialing => {
  let refused: Foul | undefined;
  const refuse = (foul: Foul): void => {
    clearTimeout(timer);
    refused ??= foul;
  };
  const timer = setTimeout(() => refuse({ code: 'connect-timed-out', detail: `${deadline} ms` }), deadline);
  // One answer, given when the port is there: a port that was closed again must never be taken for an open one.
  const answered = async (): Promise<Wire | Foul> => {
    const got = await openSerial(line, ears);
    clearTimeout(timer);
    if (refused === undefined) return got;
    if ('destroy' in got) await got.destroy();
    return refused;
  };
  return { wire: answered(), cancel: () => refuse({ code: 'stopped', detail: '' }) };
};

export const dial = (line: Line, deadline: number, ears: WireEars): Dialing =>
  line.kind === 'serial' ? dialSerial(line, deadline, ears) : dialTcp(line, deadline, ears);
