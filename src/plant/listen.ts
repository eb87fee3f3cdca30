import type { AddressInfo, Server, Socket } from 'node:net';
import type { Listening } from './modbus-server.ts';

/** Listens; port 0 takes a free one. `stop` ends the open connections too. */
export const listen = async (
  server: Server,
  host: string,
  port: number,
  sockets: ReadonlySet<Socket>,
): Promise<Listening> => {
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
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
