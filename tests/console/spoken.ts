/** What a page says, and what of it is English although another language is spoken. */
import type { Page } from 'playwright-core';
import type { BookNow } from '../../src/api/index.ts';
import { MESSAGES as DE_MESSAGES } from '../../src/console/messages/de/index.ts';
import { MESSAGES } from '../../src/console/messages/en/index.ts';
import { MESSAGES as ES_MESSAGES } from '../../src/console/messages/es/index.ts';
import { MESSAGES as FR_MESSAGES } from '../../src/console/messages/fr/index.ts';
import { DE } from '../../src/words/de/index.ts';
import { EN } from '../../src/words/en/index.ts';
import { ES } from '../../src/words/es/index.ts';
import { FR } from '../../src/words/fr/index.ts';
import { LANGUAGE_NAMES } from '../../src/words/index.ts';

type Topics = Readonly<Record<string, Readonly<Record<string, string>>>>;
interface Pack {
  readonly texts: Readonly<Record<string, string>>;
  readonly phrases: Readonly<Record<string, string>>;
  readonly terms: Topics;
}

const templatesOf = ({ texts, phrases, terms }: Pack, messages: Topics): readonly string[] => [
  ...Object.values(texts),
  ...Object.values(phrases),
  ...[...Object.values(terms), ...Object.values(messages)].flatMap((topic) => Object.values(topic)),
];

const ENGLISH = templatesOf(EN, MESSAGES);
const OWN = {
  de: templatesOf(DE, DE_MESSAGES),
  es: templatesOf(ES, ES_MESSAGES),
  fr: templatesOf(FR, FR_MESSAGES),
} as const;
export const OTHERS = ['de', 'es', 'fr'] as const;
export type Other = (typeof OTHERS)[number];

/** What stands between the holes of a template: two words at least, so that a name or a unit is none. */
const pieces = (template: string): readonly string[] =>
  template
    .split(/\{[^}]*\}|[[\]]|~[A-Za-z]+\|/)
    .map((piece) => piece.replace(/^[\s,.;:()]+|[\s,.;:()]+$/g, ''))
    .filter((piece) => piece.length >= 8 && /\p{L}{2,}\s+\p{L}{2,}/u.test(piece));

const ENGLISH_PIECES = [...new Set(ENGLISH.flatMap(pieces))];

/** Words that are the same in another language, or that no language has: units, keys of the API, signs, paper formats. */
const SAME = new Set(['rpm', 'min', 'UTC', 'PDF', 'CFR', 'ISA', 'tripwitness']);
/** Of the log's newest checkpoint. */
const FINGERPRINT = /^[0-9A-Z]{4}(-[0-9A-Z]{4}){3}$/;
/** Names of languages stand in themselves. */
const NAMES: readonly string[] = Object.values(LANGUAGE_NAMES);

/** Text of every node that is there to be read or heard, folded parts unfolded. */
export const saidOn = async (page: Page): Promise<readonly string[]> => {
  await page.evaluate(() => {
    for (const one of document.querySelectorAll('details')) one.open = true;
  });
  // What is unfolded is made in the next frame.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  return await page.evaluate(() => {
    const said: string[] = [document.title];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node !== null; node = walk.nextNode()) {
      const tag = node.parentElement?.tagName ?? '';
      if (tag !== 'SCRIPT' && tag !== 'NOSCRIPT' && tag !== 'STYLE') said.push(node.textContent ?? '');
    }
    for (const one of document.querySelectorAll('*'))
      for (const name of ['aria-label', 'aria-valuetext', 'aria-description', 'title', 'placeholder', 'alt'])
        said.push(one.getAttribute(name) ?? '');
    return [...new Set(said.map((one) => one.trim()).filter((one) => one !== ''))];
  });
};

/** Names, titles and states are the site's own, in whatever language it was written. Longest first. */
export const ownWords = (book: BookNow, ...others: readonly string[]): readonly string[] =>
  [
    book.title,
    book.site,
    ...book.machines.flatMap(({ name, title, revision }) => [name, title, revision ?? '']),
    ...book.interlocks.flatMap(({ name, title, hazard, device }) => [
      name,
      title,
      hazard,
      ...Object.values(device ?? {}),
    ]),
    ...book.interlocks.map(({ title }) => title.toUpperCase()),
    ...book.interlocks.map(({ device }) => (device?.location ?? '').toUpperCase()),
    ...book.signals.flatMap(({ name, source, states }) => [name, source, ...states]),
    ...others,
  ]
    .filter((one) => one.length > 1)
    .sort((a, b) => b.length - a.length);

const without = (text: string, own: readonly string[]): string =>
  own.reduce((left, one) => left.replaceAll(one, '·'), text);

/** Whether a line is that template, with whatever in its holes. */
const isFilled = (template: string, line: string): boolean => {
  const parts = template.split(/\{[^}]*\}/).map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return /\p{L}{3}/u.test(parts.join('')) && new RegExp(`^${parts.join('.*')}$`, 'su').test(line);
};

/**
 * What is English of what a page says in another language: pieces of English sentences, and lines that stand on the English
 * page too, word for word, although they are words.
 */
export const englishIn = (
  language: Other,
  said: readonly string[],
  english: ReadonlySet<string>,
  own: readonly string[],
): readonly string[] => {
  const its = OWN[language];
  const suspects = ENGLISH_PIECES.filter((piece) => !its.some((template) => template.includes(piece)));
  return said.flatMap((line) => {
    const text = without(line, own);
    const piece = suspects.find((one) => text.includes(one));
    if (piece !== undefined) return [`"${piece}" in: ${line}`];
    const words = (text.match(/\p{L}{3,}/gu) ?? []).filter((word) => !SAME.has(word));
    const isOwn =
      NAMES.includes(line) || FINGERPRINT.test(line) || its.some((template) => isFilled(template, line));
    return english.has(line) && words.length > 0 && !isOwn ? [`the same as in English: ${line}`] : [];
  });
};
