import type { Desk, SiteText } from './desk.ts';
import type { Place } from './fault.ts';
import type { SourcePlace } from './line-check.ts';
import type { SourceText } from './site-schema.ts';
import type { Loose } from './walk.ts';

type OpcUaText = Loose<Extract<SourceText, { protocol: 'opc-ua' }>>;

const ENDPOINT = /^opc\.tcp:\/\/(\[[0-9a-fA-F:.]+\]|[^\s/:@[\]]+)(:\d{1,5})?(\/\S*)?$/;
/** Names of environment variables as the standard has them (IEEE Std 1003.1, 8.1): few passwords look like one. */
const VARIABLE = /^[A-Z_][A-Z0-9_]*$/;

const checkEndpoint = (endpoint: string, place: Place, { tell }: Desk): void => {
  // What stands before the @ may be a secret, and is not repeated.
  if (/^[a-z.]+:\/\/[^/]*@/.test(endpoint)) tell(place, 'endpoint-holds-user');
  else if (!ENDPOINT.test(endpoint) || Number(/:(\d+)(\/|$)/.exec(endpoint)?.[1] ?? 4840) > 65_535)
    tell(place, 'endpoint-not-read', { endpoint });
};

const checkUser = (text: OpcUaText, at: (key: string) => Place, { tell, warn }: Desk): void => {
  const { user, 'password-from': variable, 'user-certificate': certificate, 'user-key': key } = text;
  if (user !== undefined && certificate !== undefined) tell(at('user-certificate'), 'user-two-ways');
  if (user !== undefined && variable === undefined) tell(at('user'), 'password-from-missing');
  if (user === undefined && variable !== undefined) tell(at('password-from'), 'password-without-user');
  // Whoever writes the password itself here shall not find it in a message.
  if (variable !== undefined && !VARIABLE.test(variable))
    tell(at('password-from'), 'password-from-not-a-name');
  if (certificate !== undefined && key === undefined) tell(at('user-certificate'), 'user-key-missing');
  if (certificate === undefined && key !== undefined) tell(at('user-key'), 'user-certificate-missing');
  if (user !== undefined && (text.security ?? 'none') === 'none') warn(at('user'), 'password-unprotected');
};

/** How each OPC UA source is secured, and whose its sessions are. */
export const checkAccess = (text: Loose<SiteText>, at: SourcePlace, desk: Desk): void => {
  for (const [name, source] of Object.entries(text.sources ?? {})) {
    if (source?.protocol !== 'opc-ua') continue;
    const read = source as OpcUaText;
    const place = (key: string): Place => at(name, key);
    if (read.endpoint !== undefined) checkEndpoint(read.endpoint, place('endpoint'), desk);
    if (read.policy !== undefined && (read.security ?? 'none') === 'none')
      desk.tell(place('policy'), 'policy-without-security', { policy: read.policy });
    checkUser(read, place, desk);
  }
};
