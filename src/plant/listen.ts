import type { AddressInfo, Server, Socket } from 'node:net';

export interface Listening {
  readonly port: number;
  /** Resolves when the port is free again. */
  stop(): Promise<void>;
}

/** What a person can do about a port that cannot be had. */
export const portTrouble = (what: string, host: string, port: number, cause: unknown): Error =>
  new Error(
    `${what} of the simulated plant cannot listen on ${host}:${port}: ${cause instanceof Error ? cause.message : String(cause)}; choose another port, or 0 for any free one`,
    { cause },
  );

/** Listens; port 0 takes a free one. `stop` ends the open connections too. */
export const listen = async (
  what: string,
  server: Server,
  host: string,
  port: number,
): Promise<Listening> => {
  const sockets = new Set<Socket>();
  server.on('connection', (socket: Socket) => {
    sockets.add(socket);
    socket.on('error', () => socket.destroy());
    socket.on('close', () => sockets.delete(socket));
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', (error) => reject(portTrouble(what, host, port, error)));
    server.listen(port, host, resolve);
  });
  return {
    port: (server.address() as AddressInfo).port,
    stop: () =>
      new Promise<void>((resolve) => {
        server.close(() => resolve());
        for (const socket of sockets) socket.destroy();
      }),
  };
};
