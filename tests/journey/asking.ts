/** Requests by the very bytes: any Host, any cookie, any certificate that a test made. */
import { type IncomingMessage, request as plain } from 'node:http';
import { request as secure } from 'node:https';

/** Name in the certificates of the tests. */
export const NAME = 'plant-pc.example';

export interface Answered {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly text: string;
  json<T>(): T;
}

export interface Asking {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: unknown;
  /** Certificate that is trusted, PEM. */
  readonly ca?: string;
}

const begun = (
  url: string,
  { method = 'GET', headers = {}, body, ca }: Asking,
  path: string | undefined,
  took: (answer: IncomingMessage) => void,
  failed: (error: Error) => void,
) => {
  const { protocol, hostname, port, pathname, search } = new URL(url);
  const options = {
    method,
    host: hostname.replaceAll(/[[\]]/g, ''),
    port,
    path: path ?? `${pathname}${search}`,
    headers: { ...(body !== undefined && { 'content-type': 'application/json' }), ...headers },
    agent: false as const,
  };
  // Whatever Host is said, the certificate is held against the name that the tests put in it.
  const asked =
    protocol === 'https:' ? secure({ ...options, ca, servername: NAME }, took) : plain(options, took);
  asked.once('error', failed);
  asked.end(body === undefined ? undefined : JSON.stringify(body));
  return asked;
};

/** `path`: sent as it is, where a URL would tidy it up. */
export const asked = (url: string, asking: Asking = {}, path?: string): Promise<Answered> =>
  new Promise((resolve, reject) => {
    begun(
      url,
      asking,
      path,
      (answer) => {
        const parts: Buffer[] = [];
        answer.on('data', (data: Buffer) => parts.push(data));
        answer.once('error', reject);
        answer.once('end', () => {
          const text = Buffer.concat(parts).toString();
          const { statusCode: status = 0, headers } = answer;
          resolve({ status, headers, text, json: () => JSON.parse(text) });
        });
      },
      reject,
    );
  });

export interface Listening {
  readonly status: number;
  /** Resolves with what came up to the first text that `enough` is pleased with. */
  until(enough: (text: string) => boolean): Promise<string>;
  /** Resolves when the other side ends it. */
  readonly ended: Promise<void>;
  leave(): void;
}

/** A stream that is not waited for to its end. */
export const listening = (url: string, asking: Asking = {}): Promise<Listening> =>
  new Promise((resolve, reject) => {
    let text = '';
    let heard = (): void => undefined;
    const request = begun(
      url,
      asking,
      undefined,
      (answer) => {
        const ended = new Promise<void>((told) => answer.once('close', told));
        answer.on('data', (data: Buffer) => {
          text += data.toString();
          heard();
        });
        answer.on('error', () => undefined);
        resolve({
          status: answer.statusCode ?? 0,
          until: (enough) =>
            new Promise((told) => {
              heard = () => {
                if (enough(text)) told(text);
              };
              heard();
            }),
          ended,
          leave: () => request.destroy(),
        });
      },
      reject,
    );
  });
