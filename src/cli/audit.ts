import type { Damage, Verified } from '../record/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { keysIfThere } from './keys-folder.ts';

export interface AuditOptions {
  readonly json: boolean;
  /** Folder, or `beside it`. */
  readonly keys: string;
  readonly against: readonly string[];
  readonly fingerprint?: string;
}

const typedFingerprint = async (typed: string | undefined): Promise<string | undefined> => {
  if (typed === undefined) return undefined;
  const { readFingerprint } = await import('../record/index.ts');
  const read = readFingerprint(typed);
  if (read !== undefined) return read;
  throw new Stop(`"${typed}" is no fingerprint; it has 16 characters, like 7K3F-92QX-M0RD-4AB8`, {
    exit: EXIT.usage,
  });
};

const named = (one: Damage): Damage & { readonly text: string } => ({ ...one, text: text(one.reason) });

const lineOf = (one: Damage): string[] =>
  hung(`${one.entry === undefined ? 'log' : `entry ${one.entry}`}: ${text(one.reason)}`, '', '  ');

/** Breaks behind all that was held against the log from outside: the file alone cannot tell who made them. */
const openBreaks = ({ breaks, vouched }: Verified): readonly Damage[] =>
  breaks.filter(({ entry = 0 }) => entry >= vouched);

const exitOf = (found: Verified): number => {
  if (found.damage.length > 0) return EXIT.fail;
  return openBreaks(found).length > 0 ? EXIT.undecided : EXIT.ok;
};

const verdictOf = (found: Verified): string[] => {
  const { damage, entries, vouched } = found;
  if (damage.length > 0)
    return [`The log does NOT verify: ${damage.length === 1 ? '1 finding' : `${damage.length} findings`}`];
  const open = openBreaks(found);
  if (open.length > 0)
    return [
      ...hung(
        `The log verifies in itself: ${entries} entries; but who wrote it from entry ${open[0]?.entry} on, the file alone cannot tell.`,
        '',
        '',
      ),
      ...hung('What decides: --fingerprint from a later printed page, or --against a later report.', '', ''),
    ];
  const known =
    vouched === 0
      ? 'nothing outside of the file was held against it'
      : `${vouched === entries ? 'all' : vouched} of them are known outside of it too`;
  return hung(`The log verifies: ${entries} entries; ${known}.`, '', '');
};

const identityOf = (found: Verified, fingerprintOfKey: (key: string) => string): string[] => {
  const key = found.keys.at(-1)?.key;
  return [
    `root         ${found.root}`,
    `fingerprint  ${found.fingerprint}`,
    key === undefined
      ? 'site key     none: its checkpoints are not signed'
      : `site key     ${fingerprintOfKey(key)}`,
  ];
};

/** Verifies a log from its file, and against what is known of it elsewhere. */
export const auditCommand = async (path: string, options: AuditOptions): Promise<number> => {
  const { auditBundleCommand, kindOfFile } = await import('./audit-bundle.ts');
  const kind = await kindOfFile(path);
  if (kind !== 'log')
    return auditBundleCommand(path, kind, options.json, await typedFingerprint(options.fingerprint));
  const { auditFile, sha256 } = await import('../store/index.ts');
  const { keyFingerprint } = await import('../record/index.ts');
  const keys = await keysIfThere(path, options.keys);
  const short = (key: string): string => keyFingerprint(sha256, key);
  const fingerprint = await typedFingerprint(options.fingerprint);
  const asked = { against: options.against, ...(keys !== undefined && { keys }) };
  const found = auditFile(path, { ...asked, ...(fingerprint !== undefined && { fingerprint }) });
  // Both stand side by side on paper.
  if (found.keys.some(({ key }) => short(key) === fingerprint))
    throw new Stop(
      `${fingerprint} is the fingerprint of a key of this log, and says nothing of its entries; type the one behind "checkpoint"`,
      { exit: EXIT.usage },
    );
  const exit = exitOf(found);
  if (options.json)
    json({
      ok: exit === EXIT.ok,
      entries: found.entries,
      root: found.root,
      log: found.log,
      fingerprint: found.fingerprint,
      keys: found.keys.map((link) => ({ ...link, fingerprint: short(link.key) })),
      vouched: found.vouched,
      open: found.open,
      damage: found.damage.map(named),
      breaks: found.breaks.map(named),
      notes: found.notes.map(named),
    });
  else {
    for (const one of [...found.damage, ...found.breaks, ...found.notes])
      for (const line of lineOf(one)) out(line);
    for (const id of found.open) out(`window ${id} is open, or was left open by a crash`);
    for (const line of [...verdictOf(found), ...(found.root === '' ? [] : identityOf(found, short))])
      out(line);
  }
  return exit;
};
