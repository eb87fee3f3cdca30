import { existsSync } from 'node:fs';
import type { Damage, Verified } from '../record/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { keysIfThere, keysOf } from './keys-folder.ts';

export interface BackupOptions {
  readonly json: boolean;
  readonly keys: string;
}

const damageLines = (damage: readonly Damage[]): string[] =>
  damage.flatMap(({ entry, reason }) =>
    hung(`${entry === undefined ? 'log' : `entry ${entry}`}: ${text(reason)}`, '', '  '),
  );

const refuseDamaged = (what: string, { damage }: Verified, asJson: boolean): void => {
  if (damage.length === 0) return;
  const told = damage.map((one) => ({ ...one, text: text(one.reason) }));
  if (asJson) json({ ok: false, damage: told });
  else for (const line of damageLines(damage)) out(line);
  throw new Stop(`${what} does not verify; nothing was put in place`, { exit: EXIT.fail });
};

/** Copies a log and verifies the copy. */
export const backupCommand = async (log: string, file: string, options: BackupOptions): Promise<number> => {
  const { backupLog } = await import('../store/index.ts');
  const keys = await keysIfThere(log, options.keys);
  const verified = backupLog(log, file, keys === undefined ? {} : { keys });
  refuseDamaged(`the copy of ${log}`, verified, options.json);
  const { entries, root, fingerprint } = verified;
  if (options.json) json({ ok: true, file, entries, root, fingerprint });
  else {
    for (const line of hung(`${file}: ${entries} entries, and it verifies.`, '', '  ')) out(line);
    out(`root         ${root}\nfingerprint  ${fingerprint}`);
    out('Keep a copy of the folder of keys as well, in another place than this one.');
  }
  return EXIT.ok;
};

export interface RestoreOptions extends BackupOptions {
  readonly from?: string;
}

const putInPlace = async (log: string, copy: string, options: RestoreOptions): Promise<void> => {
  const { auditFile, backupLog } = await import('../store/index.ts');
  if (existsSync(log))
    throw new Stop(
      `${log} is still there; move it away first and keep it: it may hold what the copy has not`,
      {
        exit: EXIT.usage,
      },
    );
  const keys = await keysIfThere(log, options.keys);
  refuseDamaged(copy, auditFile(copy, keys === undefined ? {} : { keys }), options.json);
  backupLog(copy, log);
};

/** Goes on from an older copy. What was known of the entries that are lost is entered. */
export const restoreCommand = async (log: string, options: RestoreOptions): Promise<number> => {
  if (options.from !== undefined) await putInPlace(log, options.from, options);
  const { readLog, restoreLog } = await import('../store/index.ts');
  const done = restoreLog(log, { keys: await keysOf(log, options.keys) });
  const reader = readLog(log);
  const last = reader.entriesOf({ kind: 'restored' }).at(-1);
  reader.close();
  const isNew = last !== undefined && done.opening.some(({ code }) => code === 'log-restored-now');
  const lost = isNew
    ? { from: last.seq, known: Number(last.body['size']), utc: String(last.body['utc']) }
    : null;
  if (options.json) json({ ok: true, entries: done.head.size, lost });
  else {
    const said =
      lost === null
        ? 'Nothing is remembered beyond its last entry: the log is whole.'
        : `It goes on from its first ${lost.from} entries; ${lost.known} were known (${lost.utc}). What lies between is lost, and entry ${lost.from} says so.`;
    for (const line of hung(said, '', '  ')) out(line);
  }
  return EXIT.ok;
};
