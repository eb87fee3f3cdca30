import type { OpcUaStage, OpcUaTrouble } from './types.ts';

type Params = OpcUaTrouble['params'];

/** Thrown inside this room only; whoever opens a connection gets the trouble, not the error. */
export class Refused extends Error {
  readonly trouble: OpcUaTrouble;

  constructor(stage: OpcUaStage, code: string, params: Params = {}) {
    super(code);
    this.name = 'Refused';
    this.trouble = { stage, code, params };
  }
}

/** Of the operating system, whatever the stage. */
const SYSTEM: Readonly<Record<string, readonly [OpcUaStage, string]>> = {
  ENOTFOUND: ['name', 'host-not-found'],
  EAI_AGAIN: ['name', 'host-not-found'],
  ECONNREFUSED: ['tcp', 'connection-refused'],
  ETIMEDOUT: ['tcp', 'connection-timed-out'],
  EHOSTUNREACH: ['tcp', 'host-unreachable'],
  ENETUNREACH: ['tcp', 'host-unreachable'],
};

/** What a server says when it refuses us, by its status code (OPC 10000-4, 7.39.2). */
const SERVER: Readonly<Record<string, readonly [OpcUaStage, string]>> = {
  BadCertificateUntrusted: ['channel', 'client-certificate-untrusted'],
  BadCertificateUriInvalid: ['channel', 'client-certificate-uri'],
  BadCertificateTimeInvalid: ['channel', 'client-certificate-time'],
  BadCertificateHostNameInvalid: ['channel', 'client-certificate-host'],
  BadCertificateInvalid: ['channel', 'client-certificate-refused'],
  BadCertificateUseNotAllowed: ['channel', 'client-certificate-refused'],
  BadCertificateChainIncomplete: ['channel', 'client-certificate-refused'],
  BadCertificateRevoked: ['channel', 'client-certificate-refused'],
  BadSecurityChecksFailed: ['channel', 'client-certificate-refused'],
  BadSecurityPolicyRejected: ['endpoints', 'policy-rejected'],
  BadSecurityModeRejected: ['endpoints', 'policy-rejected'],
  BadTcpEndpointUrlInvalid: ['endpoints', 'endpoint-url-invalid'],
  BadIdentityTokenRejected: ['user', 'user-rejected'],
  BadIdentityTokenInvalid: ['user', 'user-rejected'],
  BadUserSignatureInvalid: ['user', 'user-rejected'],
  BadUserAccessDenied: ['user', 'user-access-denied'],
  BadTooManySessions: ['user', 'too-many-sessions'],
};

const firstLine = (text: string): string => (text.split('\n')[0] ?? '').slice(0, 160);

const messageOf = (error: unknown): string => {
  if (!(error instanceof Error)) return String(error);
  const status = 'statusCode' in error ? ` ${String(error.statusCode)}` : '';
  const system = 'code' in error ? ` ${String(error.code)}` : '';
  return `${error.message}${status}${system}`;
};

/** Status code by name as it stands in an error; '' where there is none. */
export const statusIn = (error: unknown): string => /\bBad[A-Z][A-Za-z]+/.exec(messageOf(error))?.[0] ?? '';

/** The library fails with texts alone; what is in them is named here, once. `stage`: what was being tried. */
export const troubleOf = (error: unknown, stage: OpcUaStage): OpcUaTrouble => {
  if (error instanceof Refused) return error.trouble;
  const message = messageOf(error);
  const system = /\b(E[A-Z_]{4,})\b/.exec(message)?.[1] ?? '';
  const known = SYSTEM[system];
  if (known !== undefined) return { stage: known[0], code: known[1], params: { detail: system } };
  const status = statusIn(error);
  const said = SERVER[status];
  if (said !== undefined) return { stage: said[0], code: said[1], params: { detail: status } };
  if (stage === 'channel' && /disconnected by third party|ECONNRESET|closed/i.test(message))
    return { stage, code: 'channel-closed', params: {} };
  if (/time ?d? ?-?out|timeout/i.test(message)) return { stage, code: 'no-answer', params: {} };
  return { stage, code: 'opcua-failed', params: { detail: status || firstLine(message) } };
};
