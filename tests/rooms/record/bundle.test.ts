/** A bundle: what it holds, that it verifies without its log, and that each way of tampering has a name. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { restOf, rootFrom } from '../../../src/record/bundle/tree.ts';
import { treeHash } from '../../../src/record/chain/tree.ts';
import {
  bundleText,
  canonicalText,
  type Entry,
  fromBase64,
  leafHash,
  leafOfText,
  toBase64,
  utf8,
  verifyBundle,
} from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { GOOD, LOG, TAMPERED } from './bundle-tampered.ts';
import { type Grown, grown, KEYS, verified } from './bundled.ts';
import { bytesOf, vectors } from './vectors.ts';

const codesOf = (bundle: unknown): string[] => [
  ...new Set(
    verifyBundle(typeof bundle === 'string' ? bundle : canonicalText(bundle), sha256, verified).damage.map(
      ({ reason }) => reason.code,
    ),
  ),
];

test('RFC 4648, section 10: the vectors of base64', () => {
  const VECTORS = [
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foob', 'Zm9vYg=='],
    ['fooba', 'Zm9vYmE='],
    ['foobar', 'Zm9vYmFy'],
  ] as const;
  for (const [plain, coded] of VECTORS) {
    expect(toBase64(utf8(plain))).toBe(coded);
    expect(fromBase64(coded)).toEqual(utf8(plain));
  }
  // Other spellings of the same bytes, and what is none.
  for (const wrong of ['Zh==', 'Zg=', 'Zg', 'Z===', '====', 'Zm9=v', 'Zm9v\n', 'Zm-_'])
    expect(fromBase64(wrong)).toBeUndefined();
});

test('base64 is that of Node for any bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 20_000, size: 'max' }), (bytes) => {
      const text = toBase64(bytes);
      expect(text).toBe(Buffer.from(bytes).toString('base64'));
      expect(fromBase64(text)).toEqual(bytes);
    }),
    { numRuns: 30 },
  );
});

describe('leaves and the roots of the rest', () => {
  test('lead to the root for every size up to 20 and every choice of leaves', () => {
    for (let size = 1; size <= 20; size += 1) {
      const leaves = Array.from({ length: size }, (_, index) => leafOfText(sha256, `${index}`));
      const root = treeHash(sha256, leaves);
      const choices = size <= 10 ? 2 ** size : 200;
      for (let choice = 0; choice < choices; choice += 1) {
        const bits = size <= 10 ? choice : (choice * 2_654_435_761) % 2 ** size;
        const wanted = leaves.flatMap((_, index) => (Math.floor(bits / 2 ** index) % 2 === 1 ? [index] : []));
        const rest = restOf(sha256, leaves, wanted);
        const known = new Map(wanted.map((seq) => [seq, leaves[seq] ?? '']));
        expect(rootFrom(sha256, size, known, rest)).toEqual({ root });
        expect(rest.reduce((sum, [, count]) => sum + count, wanted.length)).toBe(size);
      }
    }
  });

  test('published: one leaf of eight and the rest lead to the root (RFC 9162, tests/vectors)', () => {
    const published = vectors<{ readonly leaves: readonly string[]; readonly roots: readonly string[] }>(
      'merkle/roots.json',
    );
    const leaves = published.leaves.map((data) => leafHash(sha256, bytesOf(data)));
    const rest = restOf(sha256, leaves, [5]);
    const known = new Map([[5, leaves[5] ?? '']]);
    expect(rootFrom(sha256, 8, known, rest)).toEqual({ root: published.roots[8] });
  });
});

test('a bundle holds its window and what it takes to judge it, and nothing else', () => {
  const kinds = GOOD.entries.map(({ text }) => {
    const { kind, subject } = JSON.parse(text) as Entry;
    return `${kind} ${subject}`;
  });
  expect(kinds).toEqual([
    'genesis saltmarsh-mill',
    'book saltmarsh-mill',
    'person ada',
    'window-opened w-1',
    'trace w-1',
    'mark w-1',
    'trace w-1',
    'finding w-1',
    'verdict w-1',
    'window-closed w-1',
    'signature w-1',
    'amendment w-1',
    'key ',
  ]);
  expect(Object.keys(GOOD.blocks)).toHaveLength(2);
});

test('it verifies, and says up to where nothing can have been left out', () => {
  const { damage, windows, entries } = verifyBundle(bundleText(GOOD), sha256, verified);
  expect(damage).toEqual([]);
  expect(entries).toHaveLength(13);
  // The closing entry counts; the signature covers it; the amendment behind it is counted by nobody.
  expect(windows).toEqual([{ window: 'w-1', standing: 'closed', entries: 9, wholeUpTo: 19 }]);
  expect(codesOf(`${bundleText(GOOD)}\n`)).toEqual([]);
});

test('two windows in one bundle', () => {
  const both = LOG.bundle(1, 'w-0', 'w-1');
  expect(codesOf(both)).toEqual([]);
  expect(Object.keys(both.blocks)).toHaveLength(2);
});

test('a window that is still open verifies, and nothing says that it is whole', () => {
  const log = grown();
  log.add('window-opened', 'w-2', {
    stimuli: [],
    book: JSON.parse(GOOD.entries[1]?.text ?? '').body.hash,
    engine: 9,
  });
  const { damage, windows } = verifyBundle(bundleText(log.bundle(1, 'w-2')), sha256, verified);
  expect(damage).toEqual([]);
  expect(windows).toEqual([{ window: 'w-2', standing: 'open', entries: 1 }]);
});

test('a window that is not there is refused', () => {
  expect(() => LOG.bundle(1, 'w-9')).toThrow('w-9');
});

test.each(TAMPERED)('%s: %s', (_, code, tampered) => {
  expect(codesOf(tampered())).toContain(code);
});

describe('what a log itself says wrongly is seen in its bundle', () => {
  const bundled = (log: Grown, which: 0 | 1 = 1): string[] => codesOf(log.bundle(which, 'w-1'));
  const rewritten = (kind: string, body: (old: Entry['body']) => object): Grown => {
    const log = grown();
    const index = log.lines.findLastIndex((one) => one.kind === kind);
    const old = log.lines[index]!;
    log.lines[index] = { ...old, body: { ...old.body, ...body(old.body) } as Entry['body'] };
    return log;
  };

  test('a signature that covers other entries', () => {
    const log = rewritten('signature', ({ covers }) => ({
      covers: { ...(covers as object), digest: 'd'.repeat(64) },
    }));
    expect(bundled(log)).toEqual(['signature-differs']);
  });
  test('an amendment of a strange entry', () => {
    expect(bundled(rewritten('amendment', () => ({ of: 1 })))).toEqual(['amendment-misquotes']);
  });
  test('a key that nobody handed on', () => {
    expect(bundled(rewritten('key', () => ({ proof: 'e'.repeat(128) })))).toEqual(['bundle-key-unproved']);
    const bare = rewritten('key', () => ({}));
    const index = bare.lines.findLastIndex((one) => one.kind === 'key');
    bare.lines[index] = { ...bare.lines[index]!, body: { key: KEYS[1] } };
    expect(bundled(bare)).toEqual(['bundle-key-unproved']);
  });
  test('a book that is not the one of its hash', () => {
    expect(bundled(rewritten('book', () => ({ book: { site: 'elsewhere' } })))).toEqual([
      'bundle-book-differs',
    ]);
  });
  test('a trace that says more answers than its block holds', () => {
    expect(bundled(rewritten('trace', () => ({ count: 7 })))).toContain('bundle-answers-differ');
  });
  test('a key adopted by an old log counts', () => {
    const log = grown();
    const born = log.lines[0]!;
    log.lines[0] = { ...born, body: { log: 'l-1', site: 'saltmarsh-mill' } };
    const index = log.lines.findLastIndex((one) => one.kind === 'key');
    log.lines[index] = { ...log.lines[index]!, body: { key: KEYS[1] } };
    expect(bundled(log)).toEqual([]);
  });
});

/** Also what no text should hold: half of a pair. */
const anyText = fc.string({ unit: 'binary' });
const half = fc.constantFrom('\ud800', '\udfff', 'a\udc00\ud800', '\u2014 \ud834');

test('its text is the canonical one whatever stands in it, and what has none is refused (RFC 8785, 3.2.2.2)', () => {
  const text = fc.oneof({ weight: 9, arbitrary: anyText }, { weight: 1, arbitrary: half });
  fc.assert(
    fc.property(
      fc.array(fc.record({ seq: fc.nat(), text })),
      fc.dictionary(text, text),
      fc.array(text),
      (entries, blocks, windows) => {
        const bundle = { ...GOOD, entries, blocks, windows };
        let canonical: string | undefined;
        try {
          canonical = canonicalText(bundle);
        } catch {
          expect(() => bundleText(bundle)).toThrow(RangeError);
          return;
        }
        expect(bundleText(bundle)).toBe(canonical);
      },
    ),
  );
});

test('any one character of a bundle changed is found', () => {
  const text = bundleText(GOOD);
  fc.assert(
    fc.property(fc.nat(text.length - 1), fc.integer({ min: 32, max: 126 }), (place, code) => {
      const put = String.fromCharCode(code);
      fc.pre(text[place] !== put);
      const other = text.slice(0, place) + put + text.slice(place + 1);
      expect(codesOf(other)).not.toEqual([]);
    }),
    { numRuns: 600 },
  );
});
