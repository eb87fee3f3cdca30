import type { Book } from '../../rulebook/index.ts';
import { hung } from '../hung.ts';
import { EXIT, json, out } from '../io.ts';
import { gather } from './gather.ts';
import { neighbourOddities } from './neighbours.ts';
import { odditiesOf, seenOf } from './odd.ts';
import { type SourceTold, sourcesTold, type TagTold, valueText } from './told.ts';

const NAME = 34;
const VALUE = 30;

const isOdd = ({ odd, absent }: TagTold): boolean =>
  absent !== undefined || odd.some(({ weight }) => weight === 'odd');

const tagLines = (told: TagTold): string[] => {
  const quiet = told.odd.length > 0 ? '?' : ' ';
  const mark = isOdd(told) ? '!' : quiet;
  const age = told.age === undefined ? '' : `${told.age} ms`;
  const name = told.tag.length < NAME ? told.tag.padEnd(NAME) : `${told.tag}  `;
  const head = `${mark} ${name}${valueText(told).padEnd(VALUE)}${age.padStart(9)}`.trimEnd();
  if (told.odd.length === 0) return [head];
  const needed =
    told.interlocks.length === 0 ? 'No interlock needs it.' : `Needed by ${told.interlocks.join(', ')}.`;
  return [
    head,
    ...told.odd.flatMap(({ text }) => hung(text, '      ')),
    ...(isOdd(told)
      ? [...hung(told.address, '      ', '        '), ...hung(needed, '      ', '        ')]
      : []),
  ];
};

const sourceLines = (told: SourceTold): string[] => {
  const head = hung(`${told.source}  ${told.place}`, '', '  ');
  const about = [...told.troubles, ...(told.clock === undefined ? [] : [told.clock])].flatMap((one) =>
    hung(one, '  '),
  );
  if (told.reached) return ['', ...head, ...about, ...told.tags.flatMap(tagLines)];
  const interlocks = [...new Set(told.tags.flatMap((tag) => tag.interlocks))];
  const needed = interlocks.length === 0 ? 'no interlock' : interlocks.join(', ');
  const without = `NOT REACHED: nothing was read of its tags (${told.tags.length}). They are needed by ${needed}.`;
  return ['', ...head, ...hung(without, '! ', '  '), ...about];
};

const LEGEND = [
  '! odd or absent   ? worth a look   age: the value may be so old at most',
  `  ${'tag'.padEnd(NAME)}${'value'.padEnd(VALUE)}${'age'.padStart(9)}`,
].join('\n');

const exitOf = (sources: readonly SourceTold[]): number => {
  if (sources.some(({ reached }) => !reached)) return EXIT.unavailable;
  return sources.some(({ tags }) => tags.some(isOdd)) ? EXIT.undecided : EXIT.ok;
};

/** Reads every tag of a site once, as `run` would, and says what is odd about what came. */
export const connectCommand = async (
  book: Book,
  options: { readonly json: boolean; readonly pki: string },
): Promise<number> => {
  const gathered = await gather(book, options.pki);
  const seen = seenOf(book, gathered);
  const neighbours = await neighbourOddities(book, seen);
  const sources = sourcesTold(book, gathered, seen, (one) => [
    ...odditiesOf(one, gathered.elapsed),
    ...(neighbours.get(one.def.id) ?? []),
  ]);
  const exit = exitOf(sources);
  const tags = sources.filter(({ reached }) => reached).flatMap((source) => source.tags);
  const absent = tags.filter((tag) => tag.absent !== undefined).length;
  const odd = tags.filter(isOdd).length - absent;
  const look = tags.filter((tag) => tag.odd.length > 0 && !isOdd(tag)).length;
  const unread = sources
    .filter(({ reached }) => !reached)
    .reduce((count, source) => count + source.tags.length, 0);
  if (options.json) {
    json({
      ok: exit === EXIT.ok,
      site: book.site,
      seconds: gathered.elapsed / 1e6,
      odd,
      look,
      absent,
      unread,
      sources,
    });
    return exit;
  }
  out(
    `${book.title || book.site}: every tag read a few times within ${(gathered.elapsed / 1e6).toFixed(1)} s`,
  );
  out(LEGEND);
  for (const source of sources) out(sourceLines(source).join('\n'));
  const left = unread === 0 ? '' : `, ${unread} not read because their source was not reached`;
  const all = tags.length + unread;
  const good = tags.length - odd - look - absent;
  out(
    [
      '',
      ...hung(
        `${all} tags: ${good} good, ${look} worth a look, ${odd} odd, ${absent} without a value${left}.`,
        '',
      ),
    ].join('\n'),
  );
  return exit;
};
