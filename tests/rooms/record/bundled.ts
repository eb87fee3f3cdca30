/** A log in memory with two windows, a new key and a signature, and the bundle of one of its windows. */
import { createPrivateKey, createPublicKey, type KeyObject, sign, verify } from 'node:crypto';
import {
  ANSWERS,
  type Bundle,
  canonicalText,
  type Entry,
  type EntryKind,
  encodeAnswers,
  entryText,
  type LogSource,
  leafOfText,
  makeBundle,
  type SignedCheckpoint,
  treeHash,
  utf8,
  type Verify,
} from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';

/** RFC 8032, 7.1: secret keys of TEST 1 and TEST 2. RFC 8410, 7: the DER around a raw key. */
export const SECRETS = [
  '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
  '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
] as const;
export const KEYS = [
  'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
  '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
] as const;

const privateOf = (secret: string): KeyObject =>
  createPrivateKey({
    key: Buffer.from(`302e020100300506032b657004220420${secret}`, 'hex'),
    format: 'der',
    type: 'pkcs8',
  });

export const signed = (secret: string, text: string): string =>
  sign(null, utf8(text), privateOf(secret)).toString('hex');

export const verified: Verify = (key, message, signature) =>
  verify(
    null,
    message,
    createPublicKey({
      key: Buffer.from(`302a300506032b6570032100${key}`, 'hex'),
      format: 'der',
      type: 'spki',
    }),
    Buffer.from(signature, 'hex'),
  );

const LOG = 'l-1';
const BOOK = { site: 'saltmarsh-mill', interlocks: [], title: 'Saltmarsh Mill, “north”' };
export const BOOK_HASH = sha256(utf8(canonicalText(BOOK)));

/** Lines of a log that grows; `about` counts those of a window. */
export class Grown {
  readonly lines: Entry[] = [];
  readonly blocks = new Map<string, Uint8Array>();

  add(kind: EntryKind, subject: string, body: unknown, actor = 'daemon'): number {
    const seq = this.lines.length;
    this.lines.push({
      version: 1,
      seq,
      kind,
      subject,
      actor,
      utc: `2026-11-25T09:30:${String(Math.floor(seq / 10)).padStart(2, '0')}.${seq % 10}00000Z`,
      monotonic: seq,
      boot: 'b-1',
      body: body as Entry['body'],
    });
    return seq;
  }

  trace(window: string, first: number, values: readonly number[]): void {
    const bytes = encodeAnswers(
      values.map((value, index) => ({
        kind: 'words',
        source: 0,
        request: 0,
        sent: (first + index) * 1_000,
        received: (first + index) * 1_000 + 400,
        words: [value],
      })) as unknown as Parameters<typeof encodeAnswers>[0],
    );
    this.blocks.set(sha256(bytes), bytes);
    const at = '2026-11-25T09:30:00.000000Z';
    this.add('trace', window, {
      encoding: ANSWERS,
      block: sha256(bytes),
      count: values.length,
      first,
      from: at,
      to: at,
    });
  }

  about(window: string): readonly Entry[] {
    return this.lines.filter(({ subject }) => subject === window);
  }

  covers(window: string): { last: number; entries: number; digest: string } {
    const own = this.about(window);
    const leaves = own.map((entry) => leafOfText(sha256, entryText(entry))).join('');
    return {
      last: own.at(-1)?.seq ?? 0,
      entries: own.length,
      digest: sha256(Uint8Array.from(Buffer.from(leaves, 'hex'))),
    };
  }

  get source(): LogSource {
    const { lines, blocks } = this;
    return {
      *entries() {
        for (const entry of lines) {
          const text = entryText(entry);
          yield { seq: entry.seq, text, leaf: leafOfText(sha256, text) };
        }
      },
      checkpoints: () => [],
      block: (hash) => blocks.get(hash),
    };
  }

  checkpoint(which: 0 | 1): SignedCheckpoint {
    const root = treeHash(
      sha256,
      this.lines.map((entry) => leafOfText(sha256, entryText(entry))),
    );
    const size = this.lines.length;
    const utc = this.lines.at(-1)?.utc ?? '';
    const key = KEYS[which];
    const signature = signed(SECRETS[which], canonicalText({ key, log: LOG, root, size, utc, version: 1 }));
    return { key, log: LOG, root, size, utc, signature };
  }

  bundle(which: 0 | 1, ...windows: readonly string[]): Bundle {
    return makeBundle(sha256, this.source, this.lines, windows, this.checkpoint(which));
  }
}

const testWindow = (log: Grown, id: string): void => {
  log.add('window-opened', id, {
    stimuli: [{ interlock: 0, method: 'injected' }],
    book: BOOK_HASH,
    engine: 9,
  });
  log.trace(id, 0, [960, 961, 959]);
  log.add('mark', id, { mark: { code: 'now', text: 'é – ramp' }, position: 3 }, 'Ada');
  log.trace(id, 3, [800, 790]);
  log.add('finding', id, { finding: { kind: 'trial', interlock: 0 } });
  log.add('verdict', id, { finding: { kind: 'window', interlock: 0 } });
};

const close = (log: Grown, id: string): void => {
  log.add('window-closed', id, { answers: 5, findings: 2, entries: log.about(id).length });
};

/** `w-1` in the midst of others, closed, signed for and amended; then a new key. */
export const grown = (): Grown => {
  const log = new Grown();
  log.add('genesis', 'saltmarsh-mill', { log: LOG, site: 'saltmarsh-mill', key: KEYS[0] });
  log.add('daemon-started', '', {});
  log.add('book', 'saltmarsh-mill', { hash: BOOK_HASH, book: BOOK });
  log.add('person', 'ada', { action: 'added', id: 'ada', name: 'Ada', roles: ['tester'] });
  log.add('person', 'bo', { action: 'added', id: 'bo', name: 'Bo', roles: ['viewer'] });
  testWindow(log, 'w-0');
  close(log, 'w-0');
  testWindow(log, 'w-1');
  log.add('source-lost', 'plc1', {});
  close(log, 'w-1');
  log.add('signature', 'w-1', {
    meaning: 'performed',
    person: { id: 'ada', name: 'Ada' },
    role: 'sensor',
    assurance: 'password',
    covers: log.covers('w-1'),
  });
  log.add('amendment', 'w-1', {
    of: 14,
    field: 'body.mark.text',
    was: 'é – ramp',
    becomes: 'ramp',
    reason: 'typed wrong',
  });
  const statement = canonicalText({ key: KEYS[1], log: LOG, takesOverFrom: KEYS[0] });
  log.add('key', '', { key: KEYS[1], by: KEYS[0], proof: signed(SECRETS[0], statement) });
  for (let more = 0; more < 9; more += 1) log.add('source-back', 'plc1', { more });
  return log;
};
