import { type Entry, type LogSource, parseEntry } from '../record/index.ts';
import { HISTORY_KINDS, type History, historyOf } from '../report/index.ts';
import { readLog } from '../store/index.ts';

/**
 * Kind of an entry from its canonical text, without reading the rest of it: only the subject and the times stand behind
 * the kind, and a quote within a text is escaped.
 */
const kindOf = (text: string): string => {
  const from = text.lastIndexOf('"kind":"') + 8;
  return text.slice(from, text.indexOf('"', from));
};

/** Findings are most of a log; of these only what is dangerous and outside of a verdict counts for the past. */
const isWanted = (text: string): boolean => {
  const kind = kindOf(text);
  if (kind === 'finding') return text.includes('"dangerous":true');
  return HISTORY_KINDS.has(kind as Entry['kind']);
};

/** An entry that a history is made from, from its text; undefined: it is none, or cannot be read. */
export const pastEntry = (text: string): Entry | undefined => {
  const parsed = isWanted(text) ? parseEntry(text) : undefined;
  return parsed !== undefined && 'entry' in parsed ? parsed.entry : undefined;
};

/**
 * The entries that tell of the past, in their order; those that cannot be read are left to `audit`. `each` sees the text of
 * every entry on the way.
 */
export const pastEntries = (
  source: Pick<LogSource, 'entries'>,
  each: (text: string) => void = () => undefined,
): readonly Entry[] => {
  const wanted: Entry[] = [];
  for (const { text } of source.entries()) {
    each(text);
    const entry = pastEntry(text);
    if (entry !== undefined) wanted.push(entry);
  }
  return wanted;
};

/** What a log file says of the past. */
export const historyFrom = (path: string): History => {
  const reader = readLog(path);
  try {
    return historyOf(pastEntries(reader));
  } finally {
    reader.close();
  }
};
