/** The PDF of a window, read back by qpdf and poppler. PDF 1.7 is ISO 32000-1. */
import { describe, expect, test } from 'vitest';
import { PAPERS, reportPdf } from '../../../src/print/index.ts';
import { keyFingerprint } from '../../../src/record/index.ts';
import { CAUTIONS, type WindowReport } from '../../../src/report/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { CONTRADICTED, DEMANDED, KINDS } from '../report/kinds.ts';
import { SAMPLE } from '../report/sample.ts';
import { outside, overlapping, readers, readPdf, withoutReaders } from './readers.ts';

const CHECKPOINT = {
  ...SAMPLE.checkpoint,
  size: 412,
  root: SAMPLE.checkpoint?.root ?? '',
  fingerprint: '7K3F-92QX-8B1C-0ZD4',
  // RFC 8032, 7.1, the public key of test 1.
  key: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
};
const REPORT: WindowReport = { ...SAMPLE, checkpoint: CHECKPOINT };
const KEY = keyFingerprint(sha256, CHECKPOINT.key);

/** Without line breaks and the spaces of the layout. */
const squeezed = (text: string): string => text.replaceAll(/\s+/g, '');

const named = (name: string, title: string): WindowReport => {
  const [first, ...rest] = SAMPLE.book.interlocks;
  if (first === undefined) throw new Error('the sample has interlocks');
  return { ...REPORT, book: { ...SAMPLE.book, interlocks: [{ ...first, name, title }, ...rest] } };
};

describe.skipIf(!readers)(`as other programs read it${withoutReaders}`, () => {
  // ISO 216: 210 × 297 mm; ANSI/ASME Y14.1: 8.5 × 11 in; a point is 1/72 in.
  test.each([
    ['a4', (210 / 25.4) * 72, (297 / 25.4) * 72],
    ['letter', 8.5 * 72, 11 * 72],
  ] as const)('%s: right size, whole, with its foot on every page', async (paper, width, height) => {
    const read = readPdf(await reportPdf(REPORT, { paper }));
    expect(read.complaints).toBe('');
    for (const [wide, high] of read.sizes) {
      expect(Math.abs(wide - width)).toBeLessThan(0.01);
      expect(Math.abs(high - height)).toBeLessThan(0.01);
    }
    read.pages.forEach((text, index) => {
      expect(text).toContain(`page ${index + 1} of ${read.pages.length}`);
      expect(text).toContain(`checkpoint ${CHECKPOINT.fingerprint} · key ${KEY}`);
      expect(text).toContain(SAMPLE.window);
    });
    expect(outside(read, 24)).toEqual([]);
    expect(overlapping(read)).toEqual([]);
    expect(PAPERS[paper].width).toBeCloseTo(width, 1);
  });

  test('title, language, tags, times, no images, letters embedded', async () => {
    const read = readPdf(await reportPdf(REPORT, { paper: 'a4' }));
    expect(read.info['Title']).toBe('Saltmarsh Mill · Test window w-0007');
    expect(read.info['Tagged']).toBe('yes');
    // Opened 2025-11-25T09:30:00Z, closed 240 s later.
    expect(read.info['CreationDate']).toContain('Nov 25 09:34:00 2025');
    expect(read.info['PDF version']).toBe('1.7');
    expect(read.images).toBe(0);
    // pdffonts: emb, sub, uni.
    expect(read.fonts).toHaveLength(2);
    for (const line of read.fonts) expect(line).toMatch(/DejaVuSansCondensed.*\byes yes yes\b/);
  });

  test('an interlock begins a page, has a bookmark, and says on its further pages whose they are', async () => {
    const read = readPdf(await reportPdf(REPORT, { paper: 'a4' }));
    const words = {
      pass: '✔ PASS',
      fail: '✖ FAIL',
      inconclusive: '? INCONCLUSIVE',
      'not-tested': '○ NOT TESTED',
    };
    SAMPLE.interlocks.forEach(({ interlock, verdict }) => {
      const name = SAMPLE.book.interlocks[interlock]?.name ?? '';
      const [, page = 0] = read.bookmarks.find(([title]) => title.endsWith(` ${name}`)) ?? [];
      expect(read.bookmarks.map(([title]) => title)).toContain(`${words[verdict.outcome]} ${name}`);
      const [first = ''] = (read.pages[page - 1] ?? '').trim().split('\n');
      expect(first).toContain(name);
      expect(first).not.toContain('continued');
      expect(read.pages[page - 1]).toContain(words[verdict.outcome]);
    });
    const further = read.pages.filter((text) => /E1\.underspeed-stop, continued/.test(text));
    expect(further.length).toBeGreaterThan(0);
    expect(read.bookmarks.at(0)).toEqual(['Cover and record', 1]);
    expect(read.bookmarks.at(-1)).toEqual(['Signatures', read.pages.length]);
  });

  test('blank fields say so, and every caution is there', async () => {
    const read = readPdf(await reportPdf(REPORT, { paper: 'letter' }));
    const all = squeezed(read.pages.join(' '));
    for (const caution of CAUTIONS) expect(all).toContain(squeezed(caution));
    expect(read.pages[0]?.match(/not stated/g)?.length).toBeGreaterThan(8);
    const unsigned = readPdf(await reportPdf(SAMPLE, { paper: 'letter' }));
    expect(unsigned.pages[0]).toContain('checkpoint not stated · key not stated');
  });

  test('the letters of the trade and of its languages', async () => {
    const name = 'E1.≥Ω°±✔✖○';
    const title =
      'Förderband-Schräglauf, größer ß · désalignement, où ça, œuvre · alineación, ¿año? · „so“ «là» – €';
    const read = readPdf(await reportPdf(named(name, title), { paper: 'a4' }));
    const all = squeezed(read.pages.join(' '));
    expect(all).toContain(name);
    expect(all).toContain(squeezed(title));
  });

  test('what is long goes on over lines and pages, and nothing of it is cut off', async () => {
    const name = `E1.${'very-long-name-'.repeat(12)}end`;
    const said = Array.from({ length: 400 }, (_, index) => `word${index}`).join(' ');
    const hash = 'f'.repeat(150);
    const notes = Array.from({ length: 30 }, (_, index) => ({
      t: index,
      by: `Somebody ${index}`,
      text: said,
    }));
    const report = {
      ...named(name, said),
      notes,
      stated: { ...SAMPLE.stated, procedure: said, serial: hash },
    };
    const read = readPdf(await reportPdf(report, { paper: 'letter' }));
    const all = squeezed(read.pages.join(' '));
    // The mark stands beside the first line of the name.
    expect(all.replaceAll('✔PASS', '').includes(name)).toBe(true);
    expect(all.includes(hash)).toBe(true);
    // Thirty notes, the title and the procedure; the title stands at the interlock alone.
    expect(all.match(/word399/g)?.length).toBe(32);
    expect(outside(read, 24)).toEqual([]);
    expect(overlapping(read)).toEqual([]);
  });

  test('characters that turn the letters around or repaint are shown as a mark', async () => {
    const read = readPdf(await reportPdf(named('E1.\u202estop', 'a\u0007b'), { paper: 'a4' }));
    const all = read.pages.join(' ');
    expect(all.includes('\u202e') || all.includes('\u0007')).toBe(false);
    expect(all).toContain('a\ufffdb');
  });

  test('signatures, corrections, attestations and what is missing stand on paper', async () => {
    const utc = '2025-11-25T10:00:00.000000Z';
    const person = { id: 'anna', name: 'Anna Beta' };
    const papers: NonNullable<WindowReport['papers']> = {
      signing: {
        signatures: [
          {
            entry: 50,
            window: SAMPLE.window,
            utc,
            person,
            role: 'sensor',
            meaning: 'performed',
            covers: { last: 41, entries: 30, digest: 'ab'.repeat(32) },
            state: 'since',
            since: { amendment: 2 },
          },
        ],
        demanded: ['performed', 'reviewed'],
        missing: ['reviewed'],
        notIndependent: [],
      },
      attestations: [{ entry: 44, utc, by: 'Carl Delta', machine: 'E1', what: 'horn-heard', where: 'pit' }],
      amendments: [
        {
          entry: 51,
          utc,
          by: 'Anna Beta',
          of: 12,
          field: 'body.note',
          was: 'leg 2',
          becomes: 'leg 1',
          reason: 'wrong leg',
          fits: true,
        },
      ],
      transcribed: [
        {
          entry: 52,
          utc,
          enteredBy: 'Anna Beta',
          sheet: 'S-1',
          by: 'Emil',
          on: 'Monday',
          values: { permit: 'P-7' },
        },
      ],
    };
    const lastPass = { 'E1.underspeed-alarm': { utc, window: 'w-0001' } };
    const read = readPdf(await reportPdf({ ...REPORT, papers, lastPass }, { paper: 'a4' }));
    const last = read.pages.at(-1) ?? '';
    for (const one of [
      'Anna Beta',
      'performed',
      '2025-11-25 10:00:00',
      'leg 2',
      'leg 1',
      'wrong leg',
      'Witnessed',
    ])
      expect(last).toContain(one);
    expect(last).toContain('nobody signed: reviewed the record');
    const all = squeezed(read.pages.join(' '));
    for (const one of [
      'CarlDelta',
      'pit',
      'P-7',
      'notmeasured,notjudged',
      '29CFR1910.272(m)(3)',
      '○notstated:',
    ])
      expect(all).toContain(one);
    expect(all).toContain('sincethenthisprotectionmayhavebeenabsent');
    expect(outside(read, 24)).toEqual([]);
    expect(overlapping(read)).toEqual([]);
  });

  test.each([
    ['a demand', DEMANDED, '◆DEMAND'],
    ['what cannot both be right', CONTRADICTED, '▲DANGER'],
    ['causes of every kind', KINDS, 'Verdicts'.toUpperCase()],
  ])('%s', async (_, report, words) => {
    const read = readPdf(await reportPdf(report, { paper: 'letter' }));
    expect(squeezed(read.pages.join(' '))).toContain(words);
    if (report === DEMANDED) expect(read.pages.at(-1)).not.toContain('Performed');
    expect(read.complaints).toBe('');
    expect(outside(read, 24)).toEqual([]);
    expect(overlapping(read)).toEqual([]);
  });
});

test('the same report gives the same bytes', async () => {
  const one = await reportPdf(structuredClone(REPORT), { paper: 'a4' });
  const other = await reportPdf(REPORT, { paper: 'a4' });
  expect(Buffer.compare(one, other)).toBe(0);
});
