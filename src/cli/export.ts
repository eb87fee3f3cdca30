import { writeFile } from 'node:fs/promises';
import { writeTrace } from '../config/index.ts';
import { judgeAgain, type StoredWindow } from '../daemon/index.ts';
import type { Mark } from '../judge/index.ts';
import { addCopy, type Filling, formatUtc, instant, newReadings, type Readings } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { EXIT, Stop, say } from './io.ts';

const quoted = (text: string): string => JSON.stringify(text);

const interlockName = (book: Book, id: number): string => book.interlocks[id]?.name ?? '';
const machineName = (book: Book, index: number): string => book.machines[index]?.name ?? '';

/** Of the signal that an interlock's cause is about. */
const unitOf = (book: Book, id: number): string =>
  book.signals[book.interlocks[id]?.cause.signal ?? -1]?.unit ?? '';

/** The fields of a mark as a marks file has them; undefined for what such a file cannot say. */
const fieldsOf = (book: Book, mark: Mark): Readonly<Record<string, string>> | undefined => {
  switch (mark.code) {
    case 'window-opened': {
      const stimuli = mark.stimuli.map((one) => `${interlockName(book, one.interlock)}: ${one.method}`);
      return { window: quoted(mark.window), stimuli: `{ ${stimuli.join(', ')} }` };
    }
    case 'window-closed':
      return {};
    case 'now':
      return { by: quoted(mark.by), text: quoted(mark.text) };
    case 'attested':
      return {
        by: quoted(mark.by),
        machine: machineName(book, mark.machine),
        what: mark.what,
        ...(mark.where !== undefined && { where: quoted(mark.where) }),
      };
    case 'adjusted':
    case 'trial-aborted':
    case 'bypassed':
      return {
        by: quoted(mark.by),
        interlock: interlockName(book, mark.interlock),
        text: quoted(mark.text),
      };
    case 'observed':
      return {
        by: quoted(mark.by),
        interlock: interlockName(book, mark.interlock),
        low: `${mark.value.low} ${unitOf(book, mark.interlock)}`,
        high: `${mark.value.high} ${unitOf(book, mark.interlock)}`,
        instrument: quoted(mark.instrument),
      };
    case 'earlier-normal':
      return {
        interlock: interlockName(book, mark.interlock),
        low: `${mark.value.low} ${unitOf(book, mark.interlock)}`,
        high: `${mark.value.high} ${unitOf(book, mark.interlock)}`,
        window: quoted(mark.window),
      };
    case 'revision':
      return {
        machine: machineName(book, mark.machine),
        text: quoted(mark.text),
        quality: mark.quality,
      };
    case 'clock-stepped':
    case 'interrupted':
      return undefined;
    default:
      return mark satisfies never;
  }
};

/** A window closes behind its last reading, which a slower source may have sent after the closing was asked for. */
const closedBehind = (mark: Mark, { length, latest }: Readings): Mark => {
  const last = latest[length - 1];
  if (mark.code !== 'window-closed' || last === undefined || last <= mark.at) return mark;
  return { ...mark, at: instant(last) };
};

const marksText = (book: Book, marks: readonly Mark[]): string => {
  const lines = marks.flatMap((mark): string[] => {
    const fields = fieldsOf(book, mark);
    if (fields === undefined) {
      say(`warning: a marks file cannot say "${mark.code}"; judged from the files, the window lacks it`);
      return [];
    }
    return [
      `  - mark: ${mark.code}`,
      `    at: ${quoted(formatUtc(mark.at))}`,
      ...Object.entries(fields).map(([name, value]) => `    ${name}: ${value}`),
    ];
  });
  return `marks:\n${lines.join('\n')}\n`;
};

const put = (path: string, text: string): Promise<void> =>
  writeFile(path, text).catch((cause: unknown) => {
    throw new Stop(`${path} cannot be written: ${String(cause)}`, { exit: EXIT.io, cause });
  });

/** A stored window as the two files that `judge` takes, with the doubt of every reading. */
export const exportWindow = async (
  stored: StoredWindow,
  paths: { readonly trace?: string; readonly marks?: string },
): Promise<void> => {
  const rows: Filling = newReadings(0);
  judgeAgain(stored, {
    read(part) {
      for (let index = 0; index < part.length; index += 1) addCopy(rows, part, index);
    },
  });
  if (paths.trace !== undefined) await put(paths.trace, writeTrace(stored.book, rows));
  if (paths.marks === undefined) return;
  const marks = stored.marks.map(({ mark }) => closedBehind(mark, rows));
  await put(paths.marks, marksText(stored.book, marks));
};
