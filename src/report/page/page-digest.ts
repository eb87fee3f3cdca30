import { type Hash, utf8 } from '../../record/index.ts';

const NAMES: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
};

/** Text as a browser has it: entities read, each line end as one character. */
const read = (text: string): string => (/[&\r]/.test(text) ? spelledOut(text) : text);

const spelledOut = (text: string): string =>
  text.replace(/&(?:amp|lt|gt|quot|#39);/g, (one) => NAMES[one] ?? one).replace(/\r\n?/g, '\n');

const TAG = /<(\/?)([a-z][a-z0-9]*)((?:\s+[a-zA-Z][a-zA-Z0-9-]*="[^"]*")*)\s*(\/?)>/gi;
/** Elements of HTML that have no end of their own. */
const EMPTY: ReadonlySet<string> = new Set(['br', 'hr', 'img', 'input', 'meta', 'wbr']);
const ATTRIBUTE = /([a-zA-Z][a-zA-Z0-9-]*)="([^"]*)"/g;

/**
 * Markup of ours as one text that does not depend on how it is spelled, the same as a browser makes of the tree that it
 * reads: U+0001 and the name for a start, U+0002 name U+0003 value for each attribute in its order, U+0004 behind them,
 * U+0005 for an end, texts as they are. None of these characters can stand in a page.
 */
export const markupText = (markup: string): string => {
  const parts: string[] = [];
  let at = 0;
  for (const found of markup.matchAll(TAG)) {
    const [all, close, name = '', attributes = '', self] = found;
    if (found.index > at) parts.push(read(markup.slice(at, found.index)));
    at = found.index + all.length;
    if (close === '/') {
      parts.push('\u0005');
      continue;
    }
    parts.push(`\u0001${name}`);
    for (const [, key = '', value = ''] of attributes.matchAll(ATTRIBUTE))
      parts.push(`\u0002${key}\u0003${read(value)}`);
    parts.push(self === '/' || EMPTY.has(name) ? '\u0004\u0005' : '\u0004');
  }
  if (at < markup.length) parts.push(read(markup.slice(at)));
  return parts.join('');
};

/** SHA-256 over the style and the visible part of a page. */
export const pageDigest = (hash: Hash, style: string, markup: string): string =>
  hash(utf8(`${style}\u0000${markupText(markup)}`));
