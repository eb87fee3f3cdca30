/** Readers of PDF that share nothing with what wrote it: qpdf, and poppler's tools. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const works = (command: string, ...args: readonly string[]): boolean =>
  spawnSync(command, args, { stdio: 'ignore' }).error === undefined;

export const readers = works('qpdf', '--version') && works('pdftotext', '-v');

/** Appended to the title of a suite that is skipped. */
export const withoutReaders = readers ? '' : ' (skipped: qpdf or poppler-utils is missing)';

/** A word as it lies on its page, in points from the upper left corner. */
export interface Word {
  readonly text: string;
  readonly page: number;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Read {
  /** Complaints of qpdf; '' where it has none. */
  readonly complaints: string;
  /** `Name: value` lines of pdfinfo. */
  readonly info: Readonly<Record<string, string>>;
  /** Text by page. */
  readonly pages: readonly string[];
  readonly words: readonly Word[];
  /** Width and height by page. */
  readonly sizes: readonly (readonly [number, number])[];
  /** Titles of the bookmarks, and the page that each leads to, from 1. */
  readonly bookmarks: readonly (readonly [string, number])[];
  readonly images: number;
  /** Lines of pdffonts. */
  readonly fonts: readonly string[];
}

const run = (command: string, ...args: readonly string[]): string => {
  const done = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return `${done.stdout}${done.status === 0 ? '' : done.stderr}`;
};

const plain = (text: string): string =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');

const laid = (xml: string): Pick<Read, 'words' | 'sizes'> => {
  const words: Word[] = [];
  const sizes: (readonly [number, number])[] = [];
  for (const line of xml.split('\n')) {
    const page = /<page width="([\d.]+)" height="([\d.]+)"/.exec(line);
    if (page) sizes.push([Number(page[1]), Number(page[2])]);
    const word =
      /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)<\/word>/.exec(line);
    if (word) {
      const [left = 0, top = 0, right = 0, bottom = 0] = word.slice(1, 5).map(Number);
      words.push({ text: plain(word[5] ?? ''), page: sizes.length, left, top, right, bottom });
    }
  }
  return { words, sizes };
};

interface Outline {
  readonly title: string;
  readonly destpageposfrom1: number;
  readonly kids: readonly Outline[];
}

const flat = (all: readonly Outline[]): (readonly [string, number])[] =>
  all.flatMap((one) => [[one.title, one.destpageposfrom1] as const, ...flat(one.kids)]);

/** Everything that the readers say of a document. */
export const readPdf = (bytes: Uint8Array): Read => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-pdf-'));
  try {
    const file = join(folder, 'one.pdf');
    writeFileSync(file, bytes);
    const checked = spawnSync('qpdf', ['--check', file], { encoding: 'utf8' });
    const json = JSON.parse(run('qpdf', '--json', '--json-key=outlines', file)) as { outlines: Outline[] };
    const text = run('pdftotext', '-layout', file, '-').split('\f');
    const lines = run('pdfinfo', file).split('\n');
    return {
      complaints: checked.status === 0 ? '' : `${checked.stdout}${checked.stderr}`,
      info: Object.fromEntries(
        lines.map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 1).trim()]),
      ) as Record<string, string>,
      pages: text.slice(0, -1),
      ...laid(run('pdftotext', '-bbox', file, '-')),
      bookmarks: flat(json.outlines),
      images: run('pdfimages', '-list', file).split('\n').length - 3,
      fonts: run('pdffonts', file).split('\n').slice(2).filter(Boolean),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
};

/** Words that reach beyond the page less a margin. */
export const outside = ({ words, sizes }: Read, margin: number): readonly Word[] =>
  words.filter(({ page, left, top, right, bottom }) => {
    const [width = 0, height = 0] = sizes[page - 1] ?? [];
    return left < margin || top < margin || right > width - margin || bottom > height - margin;
  });

/** Pairs of words that lie on each other; the boxes are as high as the tallest letter, so only their middle counts. */
export const overlapping = ({ words }: Read): readonly string[] => {
  const found: string[] = [];
  const pages = new Set(words.map(({ page }) => page));
  for (const number of pages) {
    const own = words.filter(({ page }) => page === number);
    own.forEach((one, index) => {
      const core = (word: Word): readonly [number, number] => {
        const spare = (word.bottom - word.top) * 0.18;
        return [word.top + spare, word.bottom - spare];
      };
      const [top, bottom] = core(one);
      for (const other of own.slice(index + 1)) {
        const [otherTop, otherBottom] = core(other);
        const across = Math.min(one.right, other.right) - Math.max(one.left, other.left);
        if (across > 0.8 && top < otherBottom && otherTop < bottom)
          found.push(`page ${one.page}: "${one.text}" and "${other.text}"`);
      }
    });
  }
  return found;
};
