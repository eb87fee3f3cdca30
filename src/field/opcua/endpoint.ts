import type { OpcUaAccess } from '../../signal/index.ts';
import type { Endpoint, Library } from './library.ts';
import { Refused } from './trouble.ts';

/** One way in, as a server offers it. */
export interface OfferedEndpoint {
  readonly url: string;
  readonly mode: string;
  readonly policy: string;
  /** Kinds of user that it lets in: anonymous, name, certificate, token. */
  readonly users: readonly string[];
}

const MODES = ['invalid', 'none', 'sign', 'sign-and-encrypt'];
const USERS = ['anonymous', 'name', 'certificate', 'token'];

const policyOf = (uri: string | null): string => (uri ?? '').split('#')[1] ?? 'None';

export const offered = (endpoint: Endpoint): OfferedEndpoint => ({
  url: endpoint.endpointUrl ?? '',
  mode: MODES[endpoint.securityMode] ?? 'invalid',
  policy: policyOf(endpoint.securityPolicyUri),
  users: [
    ...new Set((endpoint.userIdentityTokens ?? []).map((token) => USERS[token.tokenType] ?? 'unknown')),
  ],
});

const wayOf = ({ mode, policy }: { mode: string; policy: string }): string =>
  mode === 'none' ? 'none' : `${mode} ${policy}`;

/** Host and port of `opc.tcp://HOST:PORT/PATH`; 4840 is the registered port. */
export const hostOf = (endpoint: string): { readonly host: string; readonly port: number } => {
  const found = /^opc\.tcp:\/\/(\[[0-9a-fA-F:.]+\]|[^\s/:@[\]]+)(?::(\d{1,5}))?(\/\S*)?$/.exec(endpoint);
  const port = Number(found?.[2] ?? 4840);
  if (found === null || port < 1 || port > 65_535)
    throw new Refused('address', 'endpoint-not-read', { endpoint: endpoint.replace(/\/\/[^/]*@/, '//') });
  return { host: (found[1] ?? '').replace(/^\[|\]$/g, ''), port };
};

export const securityOf = (library: Library, access: OpcUaAccess) => ({
  mode: library.MessageSecurityMode[
    ({ none: 'None', sign: 'Sign', 'sign-and-encrypt': 'SignAndEncrypt' } as const)[access.mode]
  ],
  policy: access.mode === 'none' ? library.SecurityPolicy.None : library.SecurityPolicy[access.policy],
});

/** The endpoint with the asked security and kind of user; says what there is where it is missing. */
export const chooseEndpoint = (
  endpoints: readonly Endpoint[],
  access: OpcUaAccess,
): { readonly endpoint: Endpoint; readonly offer: OfferedEndpoint } => {
  const wanted = wayOf(access);
  const all = endpoints.map((endpoint) => ({ endpoint, offer: offered(endpoint) }));
  const right = all.filter(({ offer }) => wayOf(offer) === wanted);
  const found = right.find(({ offer }) => offer.users.includes(access.user.kind));
  if (found !== undefined) return found;
  if (right.length === 0) {
    const there = [...new Set(all.map(({ offer }) => wayOf(offer)))].join(', ');
    throw new Refused('endpoints', 'endpoint-mode-missing', { wanted, offered: there });
  }
  const users = [...new Set(right.flatMap(({ offer }) => offer.users))].join(', ');
  throw new Refused('user', 'user-kind-missing', { wanted: access.user.kind, offered: users });
};

/** Whether a password would travel unencrypted: hidden neither by the channel nor by the token's own policy. */
export const passwordInClear = (endpoint: Endpoint, access: OpcUaAccess): boolean => {
  if (access.mode === 'sign-and-encrypt' || access.user.kind !== 'name') return false;
  if ((endpoint.serverCertificate ?? '').length === 0) return true;
  const tokens = (endpoint.userIdentityTokens ?? []).filter((token) => USERS[token.tokenType] === 'name');
  // Where a token names no policy, that of the channel holds for it.
  return tokens.every(({ securityPolicyUri: uri }) =>
    uri ? policyOf(uri) === 'None' : access.mode === 'none',
  );
};
