import type { Recheck } from '../daemon/index.ts';
import type { Damage } from '../record/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';

interface Rechecked {
  readonly windows: readonly Recheck[];
  /** Windows that cannot be judged again: their rulebook is not there. */
  readonly withoutBook: readonly string[];
  /** Of a bundle or page that does not verify nothing is judged. */
  readonly damage: readonly Damage[];
}

const ofLog = async (path: string): Promise<Rechecked> => {
  const { readLog } = await import('../store/index.ts');
  const { recheckWindow, storedWindow, windowNames } = await import('../daemon/index.ts');
  const reader = readLog(path);
  const entries = reader.parsed();
  const found = windowNames(entries).map((id) => ({ id, stored: storedWindow(reader, entries, id) }));
  reader.close();
  return {
    windows: found.flatMap(({ stored }) => (stored ? [recheckWindow(stored)] : [])),
    withoutBook: found.flatMap(({ id, stored }) => (stored ? [] : [id])),
    damage: [],
  };
};

const rechecked = async (path: string): Promise<Rechecked> => {
  const { foundIn, kindOfFile } = await import('./audit-bundle.ts');
  const kind = await kindOfFile(path);
  if (kind === 'log') return ofLog(path);
  const { audited, damage } = await foundIn(path, kind);
  return { windows: audited.again, withoutBook: [], damage };
};

const linesOf = ({ window, same, findings, engine, difference, unreadable }: Recheck): readonly string[] => {
  const by =
    engine.entered === engine.now
      ? ''
      : ` (entered by engine ${engine.entered}, judged again by ${engine.now})`;
  return [
    `${window}: ${same ? 'the same' : 'NOT the same'}, ${findings} findings${by}`,
    ...(difference === undefined
      ? []
      : [
          `  finding ${difference.index}`,
          `  entered ${difference.entered}`,
          `  again   ${difference.again}`,
        ]),
    ...unreadable.map((entry) => `  entry ${entry}: its answers cannot be read`),
  ];
};

const damageLines = ({ entry, reason }: Damage): readonly string[] =>
  hung(`${entry === undefined ? '' : `entry ${entry}: `}${text(reason)}`, '', '  ');

const verdictLine = ({ windows, damage }: Rechecked, same: boolean): string => {
  if (damage.length > 0) return 'It does NOT verify, so nothing in it was judged again: see audit';
  if (!same) return 'Judged again, NOT the same';
  return `Judged again, the same: ${windows.length === 1 ? '1 window' : `${windows.length} windows`}`;
};

/**
 * Judges the stored answers of a log, a bundle, or the evidence in a page again, and compares with what was entered: 0 where
 * all is the same, 1 where not.
 */
export const recheckCommand = async (path: string, options: { readonly json: boolean }): Promise<number> => {
  const found = await rechecked(path);
  const { windows, withoutBook, damage } = found;
  const same = damage.length + withoutBook.length === 0 && windows.every((one) => one.same);
  if (options.json)
    json({
      ok: same,
      windows,
      withoutBook,
      damage: damage.map((one) => ({ ...one, text: text(one.reason) })),
    });
  else {
    for (const id of withoutBook) out(`${id}: cannot be judged again, its rulebook is not in the log`);
    for (const line of [...damage.flatMap(damageLines), ...windows.flatMap(linesOf)]) out(line);
    out(verdictLine(found, same));
  }
  return same ? EXIT.ok : EXIT.fail;
};
