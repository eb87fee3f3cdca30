import { open, readFile } from 'node:fs/promises';
import type { AuditedBundle } from '../daemon/index.ts';
import { canonicalText, type Damage, fingerprintOf, type Hash, keyFingerprint } from '../record/index.ts';
import { type BesideReport, evidenceIn } from '../report/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';

/** What a file is by how it begins: a bundle is JSON, a page is HTML, a log is a database. */
export type FileKind = 'bundle' | 'page' | 'log';

const BEGINNING = 64;

export const kindOfFile = async (path: string): Promise<FileKind> => {
  const file = await open(path).catch(() => undefined);
  if (file === undefined) return 'log';
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(BEGINNING), 0, BEGINNING, 0);
    const beginning = buffer.subarray(0, bytesRead).toString('utf8').trimStart();
    if (beginning.startsWith('{')) return 'bundle';
    return /^<!doctype html/i.test(beginning) ? 'page' : 'log';
  } catch {
    return 'log';
  } finally {
    await file.close();
  }
};

interface Found {
  readonly audited: AuditedBundle;
  readonly damage: readonly Damage[];
  /** Of a page: the same to the byte as the one made anew. */
  readonly page?: 'same' | 'differs' | 'another-version';
}

const contentOf = (path: string): Promise<string> =>
  readFile(path, 'utf8').catch((cause: unknown) => {
    throw new Stop(`${path} cannot be read: ${String(cause)}; check its name and rights`, {
      exit: EXIT.io,
      cause,
    });
  });

const pageFault = (code: string): Found['damage'] => [{ reason: { code, params: {} } }];

const checkPage = async (content: string): Promise<Found> => {
  const { auditBundle, pageAgain } = await import('../daemon/index.ts');
  const evidence = evidenceIn(content);
  if (evidence === undefined) {
    const audited = auditBundle('');
    return { audited, damage: pageFault('page-without-evidence') };
  }
  const audited = auditBundle(bundleTextOf(evidence.bundle));
  if (audited.bundle === undefined || audited.damage.length > 0) return { audited, damage: audited.damage };
  const again = pageAgain(audited.bundle, audited.entries, evidence.beside as BesideReport);
  if (again === undefined) return { audited, damage: [], page: 'another-version' };
  return again === content
    ? { audited, damage: [], page: 'same' }
    : { audited, damage: pageFault('page-differs'), page: 'differs' };
};

/** The canonical text of all that stands where a bundle should: '' where it has none, which is no bundle either. */
const bundleTextOf = (value: unknown): string => {
  try {
    return canonicalText(value);
  } catch {
    return '';
  }
};

/** What stands in a bundle, or in a page; ends where the file cannot be read. */
export const foundIn = async (path: string, kind: FileKind): Promise<Found> => {
  const content = await contentOf(path);
  if (kind === 'page') return checkPage(content);
  const { auditBundle } = await import('../daemon/index.ts');
  const audited = auditBundle(content);
  return { audited, damage: audited.damage };
};

const PAGES = {
  same: 'The page is, to the byte, what comes of its evidence.',
  differs: 'The page is NOT what comes of its evidence.',
  'another-version': 'Another version of this program made the page: it cannot be compared to the byte.',
} as const;

const windowLine = ({ window, standing, entries, wholeUpTo }: AuditedBundle['windows'][number]): string =>
  wholeUpTo === undefined
    ? `window ${window}, ${standing}: ${entries} entries; nothing counts them, so some may be left out`
    : `window ${window}, ${standing}: ${entries} entries, none left out up to entry ${wholeUpTo}`;

const againLine = ({ window, same, findings, engine }: AuditedBundle['again'][number]): string => {
  if (same) return `window ${window}: judged again, the same ${findings} findings`;
  return engine.entered === engine.now
    ? `window ${window}: judged again, NOT the same`
    : `window ${window}: judged again by engine ${engine.now}, entered by ${engine.entered}: NOT the same`;
};

const tell = (found: Found, kind: FileKind, sha256: Hash): void => {
  const { audited, damage, page } = found;
  const lines = damage.map(
    ({ entry, reason }) => `${entry === undefined ? kind : `entry ${entry}`}: ${text(reason)}`,
  );
  const { bundle } = audited;
  if (bundle !== undefined) {
    lines.push(...audited.windows.map(windowLine), ...audited.again.map(againLine));
    const { checkpoint, log } = bundle;
    lines.push(
      `log ${log}, ${checkpoint.size} entries, the last of ${checkpoint.utc}`,
      `state ${fingerprintOf(sha256, { ...checkpoint, log })}`,
      `key   ${keyFingerprint(sha256, checkpoint.key)}`,
    );
  }
  if (page !== undefined) lines.push(PAGES[page]);
  out(lines.flatMap((line) => hung(line, '')).join('\n'));
  const name = kind === 'page' ? 'page' : 'bundle';
  if (!isGood(found)) {
    out(`The ${name} does NOT verify`);
    return;
  }
  out(`The ${name} verifies`);
  const unseen =
    'It cannot show what was entered on a window behind the entry named above, nor who holds the key: ask for the log, and hold both fingerprints against paper.';
  out(hung(unseen, '').join('\n'));
};

const isGood = ({ audited, damage }: Found): boolean =>
  damage.length === 0 && audited.again.every(({ same, engine }) => same || engine.entered !== engine.now);

/** Paper may carry the fingerprint of the key or of the state. */
const heldAgainst = (found: Found, fingerprint: string | undefined, hash: Hash): Found => {
  const { bundle } = found.audited;
  if (fingerprint === undefined || bundle === undefined) return found;
  const own = [
    fingerprintOf(hash, { ...bundle.checkpoint, log: bundle.log }),
    keyFingerprint(hash, bundle.checkpoint.key),
  ];
  if (own.includes(fingerprint)) return found;
  const reason = { code: 'bundle-other-fingerprint', params: { fingerprint } };
  return { ...found, damage: [...found.damage, { reason }] };
};

/**
 * Verifies a bundle, or the evidence in a page, without the log, and judges its windows again. `fingerprint`: of key or
 * state, as it stands on paper.
 */
export const auditBundleCommand = async (
  path: string,
  kind: FileKind,
  asJson: boolean,
  fingerprint: string | undefined,
): Promise<number> => {
  const { sha256 } = await import('../store/index.ts');
  const found = heldAgainst(await foundIn(path, kind), fingerprint, sha256);
  const { audited, damage, page } = found;
  const { bundle, windows, again } = audited;
  if (asJson)
    json({
      ok: isGood(found),
      kind,
      ...(bundle && {
        log: bundle.log,
        entries: bundle.checkpoint.size,
        root: bundle.checkpoint.root,
        state: fingerprintOf(sha256, { ...bundle.checkpoint, log: bundle.log }),
        key: bundle.checkpoint.key,
        keyFingerprint: keyFingerprint(sha256, bundle.checkpoint.key),
      }),
      windows,
      again,
      ...(page && { page }),
      damage: damage.map((one) => ({ ...one, text: text(one.reason) })),
    });
  else tell(found, kind, sha256);
  return isGood(found) ? EXIT.ok : EXIT.fail;
};
