import { createHmac, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { EnteredBy, SessionNow } from '../api/index.ts';
import { included } from '../api/index.ts';
import type { Account } from '../record/index.ts';
import type { Place } from './place.ts';
import { Barred } from './refusal.ts';

/** What the API needs of the daemon to know who is signed in. A session is named by the secret in its cookie. */
export interface SessionsBehind {
  signIn(id: string, password: string, from: string): Promise<string>;
  account(secret: string): Account | undefined;
  signOut(secret: string, from: string): Promise<void>;
  onEnd(secret: string, ear: () => void): () => void;
}

/** Somebody who is signed in, as a request shows it. */
export interface SignedIn {
  readonly secret: string;
  readonly account: Account;
}

declare module 'fastify' {
  interface FastifyRequest {
    signedIn: SignedIn | undefined;
  }
}

/** Where several daemons run on one machine their cookies have different names: browsers do not tell ports apart. */
export const cookieName = ({ tls }: Place, { socket }: FastifyRequest): string =>
  `${tls === undefined ? '' : '__Host-'}tripwitness-${socket.localPort}`;

/** The token that a page of ours knows and no other page can: it follows from the secret, which scripts cannot read. */
export const csrfOf = (secret: string): string =>
  createHmac('sha256', secret).update('tripwitness csrf').digest('base64url');

/** Compares without telling by the time it takes how much was right. */
export const isCsrf = (secret: string, said: unknown): boolean => {
  const [wanted, given] = [Buffer.from(csrfOf(secret)), Buffer.from(typeof said === 'string' ? said : '')];
  return wanted.length === given.length && timingSafeEqual(wanted, given);
};

/** Who enters: the account that is signed in, else the name as typed; undefined where there is neither. Throws `Barred`. */
export const enteredBy = (
  { signedIn }: Pick<FastifyRequest, 'signedIn'>,
  typed: string | undefined,
): EnteredBy | undefined => {
  const said = typed?.trim() || undefined;
  if (signedIn === undefined) return said === undefined ? undefined : { name: said };
  const { id, name } = signedIn.account;
  if (said !== undefined && said !== name) throw new Barred(409, 'session-other-name', { name, other: said });
  return { name, account: { id, name } };
};

/** The same where somebody must be named. */
export const mustBeBy = (request: Pick<FastifyRequest, 'signedIn'>, typed: string | undefined): EnteredBy => {
  const by = enteredBy(request, typed);
  if (by === undefined) throw new Barred(400, 'who-missing');
  return by;
};

export interface About {
  readonly site: string;
  readonly title: string;
  readonly tool: string;
}

export const sessionNow = (
  { access, host, tls }: Place,
  { site, title, tool }: About,
  signedIn: SignedIn | undefined,
): SessionNow => {
  const { id, name, roles } = signedIn?.account ?? {};
  return {
    access,
    ...(id !== undefined &&
      name !== undefined && { account: { id, name, roles: roles ?? [], may: included(roles ?? []) } }),
    csrf: signedIn === undefined ? '' : csrfOf(signedIn.secret),
    withoutTls: tls === undefined && host !== undefined,
    site,
    title,
    tool,
  };
};
