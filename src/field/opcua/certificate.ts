import { X509Certificate } from 'node:crypto';

/** What people compare and what checks look at. Times in ms since 1970. */
export interface CertificateFacts {
  readonly subject: string;
  readonly issuer: string;
  /** Hex pairs with colons. */
  readonly sha1: string;
  readonly sha256: string;
  /** '' where the certificate names no application. */
  readonly uri: string;
  /** Host names and addresses it is for. */
  readonly hosts: readonly string[];
  readonly from: number;
  readonly until: number;
  readonly bits: number;
}

/** Alternative names (RFC 5280, 4.2.1.6), each as the runtime writes it: `URI:urn:…, DNS:host`. */
const namesIn = (text: string | undefined, ...kinds: readonly string[]): string[] =>
  (text ?? '').split(', ').flatMap((part) => {
    const at = part.indexOf(':');
    return kinds.includes(part.slice(0, at)) ? [part.slice(at + 1).replace(/^"|"$/g, '')] : [];
  });

/** First certificate of a chain in DER, or a PEM text; undefined where it is none. */
export const certificateFacts = (bytes: Buffer | string): CertificateFacts | undefined => {
  try {
    const read = new X509Certificate(bytes);
    const names = read.subjectAltName;
    return {
      subject: read.subject.replaceAll('\n', ', '),
      issuer: read.issuer.replaceAll('\n', ', '),
      sha1: read.fingerprint,
      sha256: read.fingerprint256,
      uri: namesIn(names, 'URI')[0] ?? '',
      hosts: namesIn(names, 'DNS', 'IP Address'),
      from: Date.parse(read.validFrom),
      until: Date.parse(read.validTo),
      bits: read.publicKey.asymmetricKeyDetails?.modulusLength ?? 0,
    };
  } catch {
    return undefined;
  }
};
