import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalText, type Entry, entryText, parseEntry, utf8 } from '../../../src/record/index.ts';
import { hexOf, sha256, vectors } from './vectors.ts';

interface Documents {
  readonly documents: readonly {
    readonly name: string;
    readonly input: string;
    readonly canonicalUtf8: string;
    readonly sha256: string;
  }[];
}

interface Numbers {
  readonly rows: readonly { readonly bits: string; readonly text: string }[];
  readonly lines: readonly { readonly lines: number; readonly sha256: string }[];
  readonly first: readonly string[];
}

const doubleOf = (bits: string): number => {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${bits}`));
  return view.getFloat64(0);
};

const bitsOf = (value: number): string => {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, value);
  return view.getBigUint64(0).toString(16);
};

describe('canonical text, against the published vectors of RFC 8785', () => {
  test.each(vectors<Documents>('rfc8785/documents.json').documents)('$name', (document) => {
    const bytes = utf8(canonicalText(JSON.parse(document.input)));
    expect(hexOf(bytes)).toBe(document.canonicalUtf8);
    expect(sha256(bytes)).toBe(document.sha256);
  });

  test.each(vectors<Numbers>('rfc8785/numbers.json').rows)('appendix B: $bits is $text', ({ bits, text }) => {
    expect(canonicalText(doubleOf(bits))).toBe(text);
  });

  test('a hundred thousand numbers of the published generator', () => {
    const { first, lines } = vectors<Numbers>('rfc8785/numbers.json');
    // The generator: the listed doubles, 2,000 in a row from the smallest normal one, then SHA-256 of its own blocks.
    const values = first.map(doubleOf);
    for (let index = 0; index < 2_000; index += 1)
      values.push(doubleOf((0x0010_0000_0000_0000n + BigInt(index)).toString(16)));
    let block = Buffer.alloc(32);
    while (values.length < 100_000) {
      block = createHash('sha256').update(block).digest();
      for (let at = 0; at < 32; at += 8) {
        const value = block.readDoubleLE(at);
        if (value !== 0 && Number.isFinite(value)) values.push(value);
      }
    }
    for (const { lines: count, sha256: wanted } of lines) {
      const text = values.slice(0, count).map((value) => `${bitsOf(value)},${canonicalText(value)}\n`);
      expect(sha256(utf8(text.join('')))).toBe(wanted);
    }
  });

  test('minus zero is 0 (erratum 7920)', () => expect(canonicalText(-0)).toBe('0'));

  test.each([
    ['NaN', Number.NaN],
    ['infinity', Number.POSITIVE_INFINITY],
    ['a lone surrogate', 'x\ud800'],
    ['a lone surrogate in a name', { 'x\udc00': 1 }],
    ['nothing', undefined],
  ])('%s is refused with a RangeError', (_name, value) => {
    expect(() => canonicalText({ inside: value === undefined ? Number.NaN : value })).toThrow(RangeError);
    expect(() => canonicalText(value)).toThrow(RangeError);
  });
});

const entry: Entry = {
  version: 1,
  seq: 7,
  kind: 'mark',
  subject: 'w-1',
  actor: 'Ada',
  utc: '2026-11-25T09:30:00.000000Z',
  monotonic: 12.5,
  boot: 'b-1',
  body: { text: 'horn heard', level: 78.72, none: null, list: [1, 'ä', '\u{1f600}'] },
};

describe('entries', () => {
  test('come back as they were, for any body', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string({ unit: 'grapheme' }), fc.jsonValue()), fc.nat(), (body, seq) => {
        fc.pre(!JSON.stringify(body).includes('__proto__'));
        const one = { ...entry, seq, body: body as Entry['body'] };
        const text = entryText(one);
        const parsed = parseEntry(text);
        // Minus zero becomes 0, so texts are compared, not values.
        expect('entry' in parsed && entryText(parsed.entry)).toBe(text);
      }),
    );
  });

  test('the text is fixed', () => {
    expect(entryText(entry)).toBe(
      '{"actor":"Ada","body":{"level":78.72,"list":[1,"ä","😀"],"none":null,"text":"horn heard"},"boot":"b-1",' +
        '"kind":"mark","monotonic":12.5,"seq":7,"subject":"w-1","utc":"2026-11-25T09:30:00.000000Z","version":1}',
    );
  });

  test('what could not be read back is not written', () => {
    expect(() => entryText({ ...entry, body: { level: Number.NaN } })).toThrow(RangeError);
    expect(() => entryText({ ...entry, utc: 'yesterday' })).toThrow(/not-an-entry/);
    expect(() => entryText({ ...entry, utc: '2026-11-25T10:30:00+01:00' })).toThrow(/not-an-entry/);
    expect(() => entryText({ ...entry, seq: 0.5 })).toThrow(/not-an-entry/);
    expect(() => entryText({ ...entry, body: JSON.parse('{"__proto__":{"a":1}}') })).toThrow(/not-canonical/);
  });

  const text = entryText(entry);
  test.each([
    ['', 'not-json'],
    ['{', 'not-json'],
    ['null', 'not-an-entry'],
    ['[]', 'not-an-entry'],
    [text.replace('"version":1', '"version":2'), 'not-an-entry'],
    [text.replace('"kind":"mark"', '"kind":"note"'), 'not-an-entry'],
    [text.replace('"seq":7', '"seq":-7'), 'not-an-entry'],
    [text.replace('"seq":7,', ''), 'not-an-entry'],
    [text.replace('"version":1', '"version":1,"w":1'), 'not-an-entry'],
    [text.replace('{"actor"', '{ "actor"'), 'not-canonical'],
    [`${text}\n`, 'not-canonical'],
    [text.replace('"seq":7', '"seq":7.0'), 'not-canonical'],
    [text.replace('"seq":7', '"seq":6,"seq":7'), 'not-canonical'],
    [text.replace('ä', '\\u00e4'), 'not-canonical'],
    [text.replace('78.72', '1e400'), 'not-canonical'],
    [text.replace('78.72', '-0'), 'not-canonical'],
    [text.replace('horn heard', '\\ud800'), 'not-canonical'],
    [text.replace('78.72', `${'['.repeat(100_000)}${']'.repeat(100_000)}`), 'not-canonical'],
  ])('%.40s… is refused: %s', (wrong, fault) => {
    const parsed = parseEntry(wrong);
    // Nesting beyond the stack is found by the first of our readers that it defeats.
    const faults = wrong.length > 100_000 ? ['not-json', 'not-canonical', 'not-an-entry'] : [fault];
    expect(faults).toContain('fault' in parsed ? parsed.fault : 'read');
  });

  test('any change of one character is refused or gives another entry', () => {
    fc.assert(
      fc.property(fc.nat(text.length - 1), fc.string({ minLength: 1, maxLength: 1 }), (at, put) => {
        const changed = text.slice(0, at) + put + text.slice(at + 1);
        fc.pre(changed !== text);
        const parsed = parseEntry(changed);
        if ('entry' in parsed) expect(parsed.entry).not.toEqual(entry);
      }),
    );
  });

  test('UTF-8 is that of Node', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (any) => {
        expect(hexOf(utf8(any))).toBe(Buffer.from(any, 'utf8').toString('hex'));
      }),
    );
  });
});
