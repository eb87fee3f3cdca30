import { dirname, join } from 'node:path';
import type { CertificateFacts, Diagnosis, Examined, KnownCertificate } from '../field/index.ts';
import type { OpcUaAccess } from '../signal/index.ts';
import { text } from '../words/index.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { secretOf } from './secret.ts';

export interface CertificatesOptions {
  readonly json: boolean;
  readonly log: string;
  readonly pki?: string;
}

/** How to get in: options of every command that goes to a server by hand. */
export interface AccessOptions {
  readonly security: string;
  readonly policy: string;
  readonly user?: string;
  readonly passwordFrom?: string;
  readonly userCertificate?: string;
  readonly userKey?: string;
}

export interface ExamineOptions extends CertificatesOptions, AccessOptions {
  readonly timeout: string;
}

/** Where the daemon with this log keeps its certificates. */
const pkiOf = ({ pki, log }: CertificatesOptions): string => pki ?? join(dirname(log), 'pki');

const WIDTH = 80;

/** Words in lines of a terminal's width; the first begins with `lead`, the others below it. */
const folded = (lead: string, sentence: string): string => {
  const lines: string[] = [];
  let line = lead;
  for (const word of sentence.split(' ')) {
    if (line.length + 1 + word.length > WIDTH && line.trim() !== '') {
      lines.push(line);
      line = ' '.repeat(lead.length);
    }
    line += line.length > lead.length ? ` ${word}` : word;
  }
  return [...lines, line].join('\n');
};

const dateOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** SHA-256 is longer than a line: two halves. */
const halves = (print: string): string => `${print.slice(0, 48)}\n               ${print.slice(48)}`;

const factsText = (facts: CertificateFacts): string =>
  [
    `  subject      ${facts.subject}`,
    `  application  ${facts.uri || 'not said'}`,
    `  hosts        ${facts.hosts.join(', ') || 'not said'}`,
    `  holds        ${dateOf(facts.from)} to ${dateOf(facts.until)}`,
    `  key          RSA ${facts.bits} bits`,
    `  SHA-1        ${facts.sha1}`,
    `  SHA-256      ${halves(facts.sha256)}`,
  ].join('\n');

const knownText = ({ trusted, facts, file }: KnownCertificate): string =>
  `${trusted ? 'Trusted' : 'Seen, not trusted'}\n${factsText(facts)}\n  file         ${file}`;

/** Our own certificate, made where it is missing, and those of servers. */
export const listCommand = async (options: CertificatesOptions): Promise<number> => {
  const { certificateFactsOf, knownCertificates, ownCertificate } = await import('../field/index.ts');
  const pki = pkiOf(options);
  const own = await ownCertificate(pki);
  const ours = await certificateFactsOf(own.certificate);
  const known = await knownCertificates(pki);
  if (options.json) {
    json({ folder: pki, ours: { file: own.certificate, facts: ours ?? null }, known });
    return EXIT.ok;
  }
  out(`Ours\n${ours ? factsText(ours) : '  cannot be read'}\n  file         ${own.certificate}`);
  for (const one of known) out(`\n${knownText(one)}`);
  if (known.length === 0) out('\nNo server with a certificate was seen yet.');
  return EXIT.ok;
};

/** Trusts a certificate that was seen, or takes the trust away. A running daemon notices at its next connection. */
export const trustCommand = async (
  fingerprint: string,
  trusted: boolean,
  options: CertificatesOptions,
): Promise<number> => {
  const { setTrust } = await import('../field/index.ts');
  const done = await setTrust(pkiOf(options), fingerprint, trusted);
  if ('code' in done) throw new Stop(text({ code: done.code, params: {} }), { exit: EXIT.usage });
  if (options.json) json(done.moved);
  else out(knownText(done.moved));
  return EXIT.ok;
};

const MODES = ['none', 'sign', 'sign-and-encrypt'] as const;
const POLICIES = ['Basic256Sha256', 'Aes128_Sha256_RsaOaep', 'Aes256_Sha256_RsaPss'] as const;

const oneOf = <T extends string>(option: string, said: string, known: readonly T[]): T => {
  const found = known.find((one) => one === said);
  if (found !== undefined) return found;
  throw new Stop(`--${option} ${said}: there is ${known.join(', ')}`, { exit: EXIT.usage });
};

export const accessOf = (options: AccessOptions): OpcUaAccess => {
  const mode = oneOf('security', options.security, MODES);
  const policy = oneOf('policy', options.policy, POLICIES);
  const { user, passwordFrom, userCertificate: certificate, userKey: key } = options;
  if (user !== undefined && passwordFrom !== undefined)
    return { mode, policy, user: { kind: 'name', name: user, passwordFrom } };
  if (certificate !== undefined && key !== undefined)
    return { mode, policy, user: { kind: 'certificate', certificate, key } };
  if (user !== undefined || passwordFrom !== undefined)
    throw new Stop('--user and --password-from go together', { exit: EXIT.usage });
  if (certificate !== undefined || key !== undefined)
    throw new Stop('--user-certificate and --user-key go together', { exit: EXIT.usage });
  return { mode, policy, user: { kind: 'anonymous' } };
};

const SIGNS = { us: 'here:     ', them: 'there:    ', nobody: '          ' } as const;

export const diagnosisText = ({ code, whose, params }: Diagnosis): string =>
  folded(SIGNS[whose], text({ code, params }));

const examinedText = (seen: Examined, found: readonly Diagnosis[]): string => {
  const parts: string[] = [];
  if (seen.ours) parts.push(`Ours\n${factsText(seen.ours)}`);
  if (seen.theirs) parts.push(`Theirs\n${factsText(seen.theirs)}\n  calls itself ${seen.application}`);
  parts.push(`What to do, and where\n${found.map(diagnosisText).join('\n')}`);
  return parts.join('\n\n');
};

/** Certificate doctor: goes to a server and says which side does not trust which, and what to do. */
export const examineCommand = async (endpoint: string, options: ExamineOptions): Promise<number> => {
  const { diagnose, examineOpcUa } = await import('../field/index.ts');
  const timeout = Number(options.timeout);
  const target = { endpoint, access: accessOf(options), timeout };
  const seen = await examineOpcUa(target, { pki: pkiOf(options), secret: secretOf });
  const found = diagnose(seen);
  if (options.json) json({ ...seen, diagnoses: found.map((one) => ({ ...one, text: text(one) })) });
  else out(examinedText(seen, found));
  return seen.trouble === undefined ? EXIT.ok : EXIT.unavailable;
};
