import { type LogSource, openWindows } from '../record/index.ts';
import { historyOf } from '../report/index.ts';
import { type EarlierNormals, earlierNormals } from './earlier.ts';
import { pastEntries } from './history.ts';
import { revisionsKnown, type Stated } from './revisions.ts';

/** What a daemon goes on from. */
export interface Beginning {
  /** Windows that a crash left open, oldest first, with the number of entries about each. */
  readonly interrupted: readonly { readonly id: string; readonly entries: number }[];
  readonly normals: EarlierNormals;
  /** By name of the machine: what was last stated of it. */
  readonly revisions: ReadonlyMap<string, Stated>;
}

/** The subject of an entry from its canonical text, as JSON: only times stand behind it, and a quote in a text is escaped. */
const subjectOf = (text: string): string =>
  text.slice(text.lastIndexOf('"subject":"') + '"subject":'.length, text.lastIndexOf(',"utc":"'));

/** Reads a log once. */
export const beginningOf = (source: Pick<LogSource, 'entries'>): Beginning => {
  const about = new Map<string, number>();
  const entries = pastEntries(source, (text) => {
    const subject = subjectOf(text);
    about.set(subject, (about.get(subject) ?? 0) + 1);
  });
  return {
    interrupted: openWindows(entries).map((id) => ({ id, entries: about.get(JSON.stringify(id)) ?? 0 })),
    normals: earlierNormals(entries),
    revisions: revisionsKnown(historyOf(entries)),
  };
};
