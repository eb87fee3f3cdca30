import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';
import { keysOf } from './keys-folder.ts';

export interface KeysOptions {
  readonly json: boolean;
  readonly keys: string;
}

const HOW = {
  genesis: 'the log began with it',
  proved: 'the key before it signed for it',
  first: 'adopted: what stands before is not signed',
  unproved: 'ADOPTED WITHOUT PROOF: the key before it did not sign for it',
} as const;

/** The keys of a log, and the one that lies in the folder. */
export const showKeys = async (log: string, options: KeysOptions): Promise<number> => {
  const { auditFile, publicKeyIn, sha256 } = await import('../store/index.ts');
  const { keyFingerprint } = await import('../record/index.ts');
  const folder = await keysOf(log, options.keys);
  const found = auditFile(log);
  const here = publicKeyIn(folder);
  const links = found.keys.map((link) => ({ ...link, fingerprint: keyFingerprint(sha256, link.key) }));
  const inForce = links.at(-1)?.key;
  const fits = here !== undefined && here === inForce;
  if (options.json) json({ ok: fits, folder, key: here, keys: links });
  else {
    for (const { entry, key, fingerprint, how } of links) {
      out(`${fingerprint}  since entry ${entry}: ${HOW[how]}`);
      out(`  ${key}`);
    }
    if (links.length === 0) out('No key yet: its checkpoints are not signed. The next "run" makes one.');
    for (const line of hung(saidOf(folder, here && keyFingerprint(sha256, here), fits), '', '')) out(line);
  }
  return fits || here === undefined ? EXIT.ok : EXIT.fail;
};

const saidOf = (folder: string, here: string | undefined, fits: boolean): string => {
  if (here === undefined) return `In ${folder} there is no key.`;
  return fits ? `${folder} holds the last of them.` : `${folder} holds another key, ${here}.`;
};

interface Told {
  readonly head: { readonly key: string; readonly size: number };
  readonly opening: readonly {
    readonly code: string;
    readonly params: Readonly<Record<string, string | number>>;
  }[];
}

const tell = async (done: Told, said: string, asJson: boolean): Promise<number> => {
  const { sha256 } = await import('../store/index.ts');
  const { keyFingerprint } = await import('../record/index.ts');
  const fingerprint = keyFingerprint(sha256, done.head.key);
  const opening = done.opening.map((one) => ({ ...one, text: text(one) }));
  if (asJson) json({ ok: true, key: done.head.key, fingerprint, entries: done.head.size, opening });
  else
    for (const one of [...opening.map((told) => told.text), `${said} ${fingerprint}`, done.head.key])
      for (const line of hung(one, '', '  ')) out(line);
  return EXIT.ok;
};

/** Changes the key, with the old one's proof. */
export const rotateKeys = async (log: string, options: KeysOptions): Promise<number> => {
  const { rotateKey } = await import('../store/index.ts');
  const done = rotateKey(log, { keys: await keysOf(log, options.keys) });
  return tell(done, 'The old key signed for the new one and is gone. The site key is now', options.json);
};

/** Goes on with the key in the folder, or a new one, without a proof. */
export const adoptKeys = async (log: string, options: KeysOptions): Promise<number> => {
  const { adoptKey } = await import('../store/index.ts');
  const done = adoptKey(log, { keys: await keysOf(log, options.keys) });
  return tell(done, 'The site key is', options.json);
};
