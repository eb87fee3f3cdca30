import {
  type Bundle,
  bundleText,
  bytesOfHex,
  canonicalText,
  fingerprintOf,
  type Hash,
  keyFingerprint,
  toBase64,
  utf8,
} from '../../record/index.ts';
import { escaped } from '../markup.ts';
import type { BesideReport } from '../types.ts';
import { printFoot } from './evidence-style.ts';
import { STYLE } from './style.ts';

/** What makes a page that checks itself: hashing and the script enter from outside. */
export interface PageParts {
  readonly hash: Hash;
  /** Checks the evidence and lets drawings be zoomed. */
  readonly script: string;
  /** Absent: the page can be looked at, and carries no evidence. */
  readonly bundle?: Bundle;
  /** What the page tells beside the entries of its windows, for whoever makes it anew. */
  readonly beside?: BesideReport;
}

/** What stands on paper for a page's evidence. */
export interface Fingerprints {
  /** Of the log's state under the checkpoint. */
  readonly state: string;
  readonly key: string;
}

export const fingerprintsOf = (hash: Hash, { checkpoint, log }: Bundle): Fingerprints => ({
  state: fingerprintOf(hash, { log, root: checkpoint.root, size: checkpoint.size }),
  key: keyFingerprint(hash, checkpoint.key),
});

/** Canonical JSON of both, in which no HTML parser finds markup. */
const evidenceText = (bundle: Bundle, beside: BesideReport): string =>
  `{"beside":${canonicalText(beside)},"bundle":${bundleText(bundle)}}`.replaceAll('<', '\\u003c');

const MEANS = [
  'The mark means: this browser, without any network, found that every entry in this page is the one that was signed for under the key below; that the answers they name are whole; that nothing of the window was left out up to the entry named above; that every verdict, trip point, response, time and name that the tables and cards show is the one entered; and that text, drawings and style of the page are as they were written.',
  'It does not mean that the key is held by whom you think, nor that nobody exchanged the check itself together with the page: whoever can rewrite a page can rewrite the check in it. Hold both fingerprints against paper or against the site, and let a program from another hand look: “tripwitness audit FILE” judges the answers again and makes this page anew, to the byte; verify_bundle.py needs nothing of ours.',
  'Not worked out again here: the drawings and the sentences. The checksum of the page covers them, the signature does not.',
];

const WITHOUT =
  'This page carries no evidence: no checkpoint of its log is signed. It is a view; the log is the evidence.';

/** The place where the page says what it found of itself. Not part of what is checked. */
export const checkHtml = ({ bundle }: PageParts): string => {
  if (bundle === undefined)
    return `<aside id="check" class="tw-check" aria-label="Evidence"><p><b class="tw-check-mark">○ NO EVIDENCE</b> ${escaped(WITHOUT)}</p></aside>`;
  const means = MEANS.map((one) => `<p>${escaped(one)}</p>`).join('');
  return `<aside id="check" class="tw-check" aria-label="Evidence" aria-live="polite"><p><b class="tw-check-mark">○ NOT CHECKED</b> <span class="tw-check-told">This page carries its evidence, and checks it where scripts may run. Without: tripwitness audit FILE, or verify_bundle.py FILE.</span></p><ul class="tw-check-list"></ul><details><summary>What this mark means, and what it does not</summary>${means}</details></aside>`;
};

/** The style of a page: at the foot of each page of paper stand the fingerprints, so that it can be held against the file. */
export const pageStyle = (parts: PageParts, what: string): string => {
  if (parts.bundle === undefined) return `${STYLE}${printFoot(what, '')}`;
  const { state, key } = fingerprintsOf(parts.hash, parts.bundle);
  return `${STYLE}${printFoot(what, `state ${state}   key ${key}`)}`;
};

/** Once at the end: what the page is of, and the fingerprints. */
export const footHtml = (parts: PageParts, what: string): string => {
  if (parts.bundle === undefined) return `<div class="tw-foot"><span>${escaped(what)}</span></div>`;
  const { state, key } = fingerprintsOf(parts.hash, parts.bundle);
  const { size } = parts.bundle.checkpoint;
  return `<div class="tw-foot"><span>${escaped(what)}</span> <span>log ${escaped(parts.bundle.log)}, ${size} entries</span> <span>checkpoint <b data-fact="state">${state}</b></span> <span>key <b data-fact="key">${key}</b></span></div>`;
};

/** The evidence itself. */
export const evidenceHtml = ({ bundle, beside }: PageParts): string =>
  bundle === undefined
    ? ''
    : `<script type="application/json" id="evidence">${evidenceText(bundle, beside ?? {})}</script>`;

/** A source for a content security policy (CSP 3, 2.3.1). */
export const cspHash = (hash: Hash, text: string): string =>
  `'sha256-${toBase64(bytesOfHex(hash(utf8(text))))}'`;

/** The evidence in the text of a page; undefined where it carries none. */
export const evidenceIn = (
  page: string,
): { readonly bundle: unknown; readonly beside: unknown } | undefined => {
  const found = /<script type="application\/json" id="evidence">([^<]*)<\/script>/.exec(page);
  if (found === null) return undefined;
  try {
    const value = JSON.parse(found[1] ?? '') as unknown;
    if (typeof value !== 'object' || value === null || !('bundle' in value)) return undefined;
    return { bundle: value.bundle, beside: 'beside' in value ? value.beside : {} };
  } catch {
    return undefined;
  }
};
