import { addressForms, addressName, TABLE_WORDS } from '../../config/index.ts';
import { type Clock, openAsker, probeModbus, type Told } from '../../field/index.ts';
import { isBits, type Table } from '../../signal/index.ts';
import { COLUMNS, hung } from '../hung.ts';
import { EXIT, json, out, say } from '../io.ts';
import { directionOf, type Moved, moved, notMoved, ranking } from './moves.ts';
import { rungLines, rungTold } from './rungs.ts';
import { type Asked, type ProbeOptions, placeText } from './target.ts';

/** Seconds that a watch lasts, and addresses that it takes, where nothing is said. */
const LASTS = 30;
const BLOCK = 10;

const BAR = 20;

const rowText = (tableName: Table, row: Moved, most: number): string => {
  const name = addressName(tableName, row.address).padEnd(11);
  const hex = isBits(tableName) ? '      ' : `0x${row.value.toString(16).toUpperCase().padStart(4, '0')}`;
  const bar = '#'.repeat(most === 0 ? 0 : Math.ceil((row.changes / most) * BAR));
  const span = row.changes === 0 ? '' : `${row.low}..${row.high}`;
  const left = `  ${name}${hex} ${String(row.value).padStart(6)} ${String(row.changes).padStart(7)}  ${directionOf(row).padEnd(10)}${span.padEnd(13)}`;
  return `${left} ${bar}`.trimEnd().slice(0, COLUMNS);
};

const HEAD = '  address      raw   value changes  direction lowest..highest';

const table = (name: Table, rows: readonly Moved[]): string[] => {
  const most = Math.max(0, ...rows.map(({ changes }) => changes));
  return [HEAD, ...rows.map((row) => rowText(name, row, most))];
};

interface Watch {
  readonly asked: Asked;
  readonly rows: Map<number, Moved>;
  polls: number;
  silent: number;
  told: Told | undefined;
}

const take = (watch: Watch, from: number, told: Told): readonly Moved[] => {
  watch.polls += 1;
  watch.told = told;
  if (!('words' in told)) {
    watch.silent += 1;
    return [];
  }
  return told.words.flatMap((word, index): Moved[] => {
    const address = from + index;
    const before = watch.rows.get(address);
    const now = before === undefined ? notMoved(address, word) : moved(before, word);
    watch.rows.set(address, now);
    return before !== undefined && now !== before ? [now] : [];
  });
};

/** Neighbours of which both moved may be one value in two words. */
const pairs = (watch: Watch): string[] => {
  const { table: name } = watch.asked;
  const rows = ranking([...watch.rows.values()]).map(({ address }) => address);
  const both = rows.filter((address) => rows.includes(address + 1)).sort((a, b) => a - b);
  return isBits(name)
    ? []
    : both.map(
        (address) =>
          `${addressName(name, address)} and ${addressName(name, address + 1)} both moved: they may be one value in two words.`,
      );
};

const STANDING =
  'Watch once more while all stands still: what moves then too is a clock or a count of life, not the shaft.';

const summary = (watch: Watch, seconds: number): string[] => {
  const all = [...watch.rows.values()];
  const { table: name } = watch.asked;
  const who = ranking(all);
  const silent = watch.silent === 0 ? '' : `, ${watch.silent} of them without an answer`;
  const head = `Watched ${all.length} ${TABLE_WORDS[name][1]} for ${seconds.toFixed(0)} s, ${watch.polls} questions${silent}.`;
  if (who.length === 0) {
    const next = 'None of them moved. Move what you look for while it is watched, or watch other addresses.';
    return [head, ...hung(next, '')];
  }
  const rest = all.length - who.length;
  return [
    head,
    who.length === 1 ? 'One moved:' : `${who.length} moved, the most restless first:`,
    ...table(name, who),
    ...(rest > 0 ? [`  ${rest} others did not move.`] : []),
    ...pairs(watch).flatMap((line) => hung(line, '  ')),
    ...(who.length > 1 ? hung(STANDING, '  ') : []),
  ];
};

/** Redraws the table in place. */
const redraw = (rows: readonly string[], before: number): void => {
  const up = before === 0 ? '' : `\u001b[${before}A`;
  process.stdout.write(`${up}${rows.map((row) => `\u001b[2K${row}\n`).join('')}`);
};

const until = (
  seconds: number,
): { readonly over: () => boolean; wait(ms: number): Promise<void>; end(): void } => {
  let done = false;
  let wake = (): void => undefined;
  const stop = (): void => {
    done = true;
    wake();
  };
  const timer = setTimeout(stop, seconds * 1_000);
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
  return {
    over: () => done,
    wait: (ms) =>
      new Promise((resolve) => {
        const pause = setTimeout(resolve, ms);
        wake = () => {
          clearTimeout(pause);
          resolve();
        };
        if (done) wake();
      }),
    end() {
      clearTimeout(timer);
      process.off('SIGINT', stop);
      process.off('SIGTERM', stop);
    },
  };
};

/** Watches a block of addresses: what moves when the shaft is turned is what was looked for. */
export const watchCommand = async (asked: Asked, options: ProbeOptions, clock: Clock): Promise<number> => {
  const count = Number(options.count ?? BLOCK);
  const around = Number(options.around ?? 0);
  const probed = await probeModbus({ ...asked, count, around }, clock);
  const rungs = probed.rungs.map((rung) => rungTold(rung, asked));
  const { window } = probed;
  if (window === undefined) {
    if (options.json) json({ ok: false, steps: rungs });
    else out(rungLines(rungs).join('\n'));
    return EXIT.unavailable;
  }
  // Of a block with holes only the run that holds the asked address is watched: one question, one instant.
  const answers = (address: number): boolean => (window.words[address - window.from] ?? -1) >= 0;
  let from = asked.at;
  let to = asked.at;
  while (answers(from - 1)) from -= 1;
  while (answers(to + 1)) to += 1;
  const watch: Watch = { asked, rows: new Map(), polls: 0, silent: 0, told: undefined };
  const seconds = Number(options.for ?? LASTS);
  const inPlace = process.stdout.isTTY === true && !options.json;
  const head = `Watching ${placeText(asked.line)} unit ${asked.unit}, ${addressName(asked.table, from)} to ${addressName(asked.table, to)}, for ${seconds} s. Move what you look for; Ctrl-C ends it.`;
  if (options.json) say(head);
  else out(hung(head, '').join('\n'));
  const asker = openAsker(asked, clock);
  const turn = until(seconds);
  const began = clock.now();
  const elapsed = (): number => (clock.now() - began) / 1_000_000;
  let drawn = 0;
  while (!turn.over()) {
    const changed = take(watch, from, await asker.ask(asked.table, from, to - from + 1));
    if (inPlace) {
      const rows = table(asked.table, [...watch.rows.values()]);
      redraw(rows, drawn);
      drawn = rows.length;
    } else if (!options.json && changed.length > 0) {
      const words = changed.map(
        (row) => `${addressName(asked.table, row.address)} ${row.value} (${row.changes})`,
      );
      out(hung(words.join('   '), `  ${elapsed().toFixed(1).padStart(6)} s  `).join('\n'));
    }
    await turn.wait(Number(options.every));
  }
  turn.end();
  await asker.close();
  const rows = [...watch.rows.values()].map((row) => ({
    ...row,
    direction: directionOf(row),
    forms: addressForms(asked.table, row.address),
  }));
  if (options.json)
    json({ ok: true, seconds: elapsed(), polls: watch.polls, silent: watch.silent, addresses: rows });
  else out(['', ...summary(watch, elapsed())].join('\n'));
  return EXIT.ok;
};
