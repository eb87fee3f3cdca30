/** Every kind of tampering with a bundle, by the code that has to name it. */
import { expect } from 'vitest';
import { restOf } from '../../../src/record/bundle/tree.ts';
import {
  type Bundle,
  bundleText,
  canonicalText,
  type Entry,
  fromBase64,
  toBase64,
} from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { grown, KEYS, SECRETS, signed } from './bundled.ts';

export const LOG = grown();
export const GOOD = LOG.bundle(1, 'w-1');

type Mutable = {
  -readonly [Key in keyof Bundle]: Bundle[Key] extends readonly (infer One)[] ? One[] : Bundle[Key];
};
const changed = (change: (bundle: Mutable) => void, of: Bundle = GOOD): Bundle => {
  const copy = structuredClone(of) as unknown as Mutable;
  change(copy);
  return copy as unknown as Bundle;
};

const at = (bundle: Mutable, kind: string): number =>
  bundle.entries.findIndex(({ text }) => (JSON.parse(text) as Entry).kind === kind);

const edited = (kind: string, edit: (text: string) => string): Bundle =>
  changed((bundle) => {
    const index = at(bundle, kind);
    const { seq, text } = bundle.entries[index] ?? { seq: 0, text: '' };
    expect(edit(text)).not.toBe(text);
    bundle.entries[index] = { seq, text: edit(text) };
  });

/** The tree with entries left out, as somebody would make it who has the log but not the key. */
const without = (kind: string): Bundle => {
  const leaves = [...LOG.source.entries()].map(({ leaf }) => leaf);
  return changed((bundle) => {
    bundle.entries.splice(at(bundle, kind), 1);
    const kept = bundle.entries.map(({ seq }) => seq);
    bundle.rest = [...restOf(sha256, leaves, kept)];
    const blocks = new Set(
      bundle.entries.flatMap(({ text }) => {
        const { kind: one, body } = JSON.parse(text) as Entry;
        return one === 'trace' ? [String(body['block'])] : [];
      }),
    );
    bundle.blocks = Object.fromEntries(Object.entries(bundle.blocks).filter(([name]) => blocks.has(name)));
  });
};

const resigned = (secret: string, key: string): Bundle =>
  changed((bundle) => {
    const { root, size, utc } = bundle.checkpoint;
    const statement = canonicalText({ key, log: 'l-1', root, size, utc, version: 1 });
    bundle.checkpoint = { ...bundle.checkpoint, key, signature: signed(secret, statement) };
  });

/** TEST 3 of RFC 8032, 7.1: a key that the log never had. */
const STRANGER = [
  'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
  'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
] as const;

const [ONE = '', OTHER = ''] = Object.keys(GOOD.blocks);

export const TAMPERED: readonly (readonly [what: string, code: string, tampered: () => unknown])[] = [
  ['an entry edited', 'bundle-root-differs', () => edited('mark', (text) => text.replace('ramp', 'rump'))],
  [
    'a verdict edited',
    'bundle-root-differs',
    () => edited('verdict', (text) => text.replace('"window"', '"windo"')),
  ],
  ['an entry no longer canonical', 'entry-unreadable', () => edited('mark', (text) => `${text} `)],
  [
    'an entry under another number',
    'entry-misplaced',
    () =>
      changed((one) => {
        one.entries[3] = { ...one.entries[3]!, seq: 13 };
      }),
  ],
  [
    'two entries exchanged',
    'entry-misplaced',
    () =>
      changed((one) => {
        [one.entries[4], one.entries[5]] = [one.entries[5]!, one.entries[4]!];
      }),
  ],
  [
    'an entry twice',
    'entry-misplaced',
    () =>
      changed((one) => {
        one.entries.splice(5, 0, one.entries[5]!);
      }),
  ],
  [
    'an entry gone',
    'bundle-tree-gap',
    () =>
      changed((one) => {
        one.entries.splice(5, 1);
      }),
  ],
  ['a mark left out, its hash put in its place', 'bundle-entries-missing', () => without('mark')],
  ['a verdict left out likewise', 'bundle-findings-missing', () => without('verdict')],
  ['a trace left out likewise', 'bundle-answers-missing', () => without('trace')],
  ['the signature’s account left out', 'bundle-signer-unknown', () => without('person')],
  ['the book left out', 'bundle-book-missing', () => without('book')],
  ['the opening left out', 'bundle-window-missing', () => without('window-opened')],
  ['the genesis left out', 'bundle-genesis-missing', () => without('genesis')],
  ['the key’s entry left out', 'bundle-other-key', () => without('key')],
  [
    'a hash of the rest altered',
    'bundle-root-differs',
    () =>
      changed((one) => {
        const [first, size, hash] = one.rest[0]!;
        one.rest[0] = [first, size, hash.replace(/^./, (digit) => (digit === '0' ? '1' : '0'))];
      }),
  ],
  [
    'a hash of the rest gone',
    'bundle-tree-gap',
    () =>
      changed((one) => {
        one.rest.shift();
      }),
  ],
  [
    'a hash too many',
    'bundle-tree-spare',
    () =>
      changed((one) => {
        one.rest.push([0, 1, 'a'.repeat(64)]);
      }),
  ],
  [
    'a block altered',
    'block-altered',
    () =>
      changed((one) => {
        const bytes = fromBase64(one.blocks[ONE] ?? '')!;
        bytes[bytes.length - 1]! ^= 1;
        one.blocks = { ...one.blocks, [ONE]: toBase64(bytes) };
      }),
  ],
  [
    'a block gone',
    'block-missing',
    () =>
      changed((one) => {
        one.blocks = { [OTHER]: one.blocks[OTHER] ?? '' };
      }),
  ],
  [
    'blocks exchanged',
    'block-altered',
    () =>
      changed((one) => {
        one.blocks = { [ONE]: one.blocks[OTHER] ?? '', [OTHER]: one.blocks[ONE] ?? '' };
      }),
  ],
  [
    'a block too many',
    'block-unnamed',
    () =>
      changed((one) => {
        one.blocks = { ...one.blocks, ['b'.repeat(64)]: '' };
      }),
  ],
  [
    'a block that is no base64',
    'block-missing',
    () =>
      changed((one) => {
        one.blocks = { ...one.blocks, [ONE]: '?' };
      }),
  ],
  [
    'the signature altered',
    'bundle-signature-false',
    () =>
      changed((one) => {
        one.checkpoint = {
          ...one.checkpoint,
          signature: one.checkpoint.signature.replace(/^./, (digit) => (digit === '0' ? '1' : '0')),
        };
      }),
  ],
  ['signed with a stranger’s key', 'bundle-other-key', () => resigned(...STRANGER)],
  ['signed with the key that was given up', 'bundle-other-key', () => resigned(SECRETS[0], KEYS[0])],
  [
    'the root altered',
    'bundle-root-differs',
    () =>
      changed((one) => {
        one.checkpoint = { ...one.checkpoint, root: 'c'.repeat(64) };
      }),
  ],
  [
    'the size altered',
    'bundle-signature-false',
    () =>
      changed((one) => {
        one.checkpoint = { ...one.checkpoint, size: one.checkpoint.size - 1 };
      }),
  ],
  [
    'the time altered',
    'bundle-signature-false',
    () =>
      changed((one) => {
        one.checkpoint = { ...one.checkpoint, utc: '2026-11-25T09:30:09.000000Z' };
      }),
  ],
  [
    'another log’s name',
    'bundle-other-log',
    () =>
      changed((one) => {
        one.log = 'l-2';
      }),
  ],
  [
    'another window’s name',
    'bundle-window-missing',
    () =>
      changed((one) => {
        one.windows = ['w-0'];
      }),
  ],
  ['a field that nobody knows', 'bundle-unreadable', () => ({ ...GOOD, more: 1 })],
  ['another spelling', 'bundle-unreadable', () => JSON.stringify(JSON.parse(bundleText(GOOD)), null, 1)],
  ['the file cut off', 'bundle-unreadable', () => bundleText(GOOD).slice(0, -20)],
  ['nothing', 'bundle-unreadable', () => ''],
];
