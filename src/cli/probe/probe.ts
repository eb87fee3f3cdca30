import { addressName, TABLE_WORDS } from '../../config/index.ts';
import type { Probed, Window } from '../../field/index.ts';
import { isBits } from '../../signal/index.ts';
import { text } from '../../words/index.ts';
import { clockFrom } from '../clock.ts';
import { hung } from '../hung.ts';
import { EXIT, json, out, Stop } from '../io.ts';
import { type Expected, expectedOf, type Fit, fitsOf } from './expect.ts';
import { expectLines } from './expect-text.ts';
import { rungLines, rungTold } from './rungs.ts';
import { type Asked, askedOf, formsText, type ProbeOptions, placeText, unitsOf } from './target.ts';
import { type ValueTold, valuesLines, valuesTold } from './values.ts';

/** The longest value takes four registers; the display may be about any address close by. */
const LONGEST = 4;

const expectation = (options: ProbeOptions): Expected | undefined => {
  if (options.expect === undefined) return undefined;
  const wanted = expectedOf(options.expect);
  if (wanted !== undefined) return wanted;
  throw new Stop(`--expect "${options.expect}" is no reading of a display: write "96.3 rpm" or 96.3`, {
    exit: EXIT.usage,
  });
};

interface Found {
  readonly asked: Asked;
  readonly count: number;
  /** Neighbours that are shown. */
  readonly around: number;
  readonly probed: Probed;
  readonly wanted: Expected | undefined;
  readonly fits: readonly Fit[];
}

/** How often the addresses are looked at again, to see which of them move, and the rest between, in ms. */
const LOOKS = 4;
const REST = 150;

const movedIn = async (asked: Asked, { table, from, words }: Window): Promise<ReadonlySet<number>> => {
  const { openAsker } = await import('../../field/index.ts');
  const asker = openAsker(asked, clockFrom());
  const moved = new Set<number>();
  // A block with holes would have to be asked in parts: what moves there is not looked for.
  for (let look = 0; look < LOOKS && words.every((word) => word >= 0); look += 1) {
    await new Promise((resolve) => setTimeout(resolve, REST));
    const told = await asker.ask(table, from, words.length);
    if (!('words' in told)) break;
    told.words.forEach((word, index) => {
      if (word !== words[index]) moved.add(from + index);
    });
  }
  await asker.close();
  return moved;
};

const search = async (
  asked: Asked,
  window: Window,
  around: number,
  wanted: Expected,
): Promise<readonly Fit[]> => {
  const { words, from } = window;
  return fitsOf({ words, from, at: asked.at, moved: await movedIn(asked, window) }, around, wanted);
};

const find = async (asked: Asked, options: ProbeOptions): Promise<Found> => {
  const { probeModbus } = await import('../../field/index.ts');
  const wanted = expectation(options);
  const bits = isBits(asked.table);
  const count = Number(options.count ?? (bits ? 8 : 1));
  const around = Number(options.around ?? (wanted === undefined ? 1 : 2));
  const most = bits ? 2_000 : 125;
  if (count < 1 || count + 2 * around > most)
    throw new Stop(`at most ${most} addresses at a time`, { exit: EXIT.usage });
  // The last neighbour may be the first of two words.
  const span = Math.max(count + (bits ? 0 : 1), wanted === undefined ? 0 : LONGEST);
  const probed = await probeModbus({ ...asked, count: span, around }, clockFrom());
  const { window } = probed;
  const searched = window !== undefined && wanted !== undefined && wanted.value !== 0 && !bits;
  const fits = searched ? await search(asked, window, around, wanted) : [];
  return { asked, count, around: wanted === undefined ? around : 1, probed, wanted, fits };
};

const headline = ({ line, unit, table, at }: Asked): string[] => [
  ...hung(`Asking ${placeText(line)}, unit ${unit}`, '', '  '),
  `  ${TABLE_WORDS[table][0]} ${formsText(table, at)}`,
];

/** What is known without a display to compare with. */
const plainLines = ({ table, at, bit }: Asked): string[] => {
  const address = `${addressName(table, at)}${bit === undefined ? '' : `.${bit}`}`;
  const state = bit !== undefined || isBits(table);
  const next = 'To find type, order and scale, ask again with what the display shows: --expect "96.3 rpm".';
  return [
    'For the site file:',
    `  { source: NAME, address: ${address}${state ? '' : ', type: uint16, unit: count'} }`,
    ...(state ? [] : hung(next, '  ')),
  ];
};

const valuesIn = ({ asked, count, around, probed }: Found): readonly ValueTold[] => {
  const all = probed.window === undefined ? [] : valuesTold(probed.window, { at: asked.at, count });
  return all.filter(({ address }) => address >= asked.at - around && address < asked.at + count + around);
};

const print = (found: Found, shown: string): void => {
  const { asked, probed, wanted, fits } = found;
  const { table, at } = asked;
  const rungs = probed.rungs.map((rung) => rungTold(rung, asked));
  out([...headline(asked), '', ...rungLines(rungs)].join('\n'));
  if (probed.window === undefined) return;
  out(['', ...valuesLines(valuesIn(found), table)].join('\n'));
  if (wanted === undefined) {
    out(['', ...plainLines(asked)].join('\n'));
    return;
  }
  const zero =
    wanted.value === 0 ? hung(text({ code: 'probe-zero-fits', params: { shown } }), '') : undefined;
  out(['', ...(zero ?? expectLines(fits, wanted, shown, at, table))].join('\n'));
};

const exitOf = ({ probed, wanted, fits }: Found): number => {
  if (probed.window === undefined) return EXIT.unavailable;
  return wanted !== undefined && fits.length !== 1 ? EXIT.undecided : EXIT.ok;
};

const told = (found: Found) => {
  const { asked, probed, wanted, fits } = found;
  return {
    ok: probed.window !== undefined,
    asked: { ...asked, place: placeText(asked.line), forms: formsText(asked.table, asked.at) },
    steps: probed.rungs.map((rung) => rungTold(rung, asked)),
    ...(probed.window === undefined ? {} : { questions: probed.window.questions, values: valuesIn(found) }),
    ...(wanted === undefined ? {} : { expected: wanted, fits }),
  };
};

const units = async (asked: Asked, options: ProbeOptions): Promise<number> =>
  (await import('./units.ts')).unitsCommand(asked, unitsOf(options.units ?? ''), clockFrom(), options);

/** Asks one address and shows what it can mean; says at which step it ends where nothing answers, and what to try. */
export const probeCommand = async (
  place: string,
  address: string | undefined,
  options: ProbeOptions,
): Promise<number> => {
  if (place.startsWith('opc.tcp://'))
    return (await import('./opcua.ts')).probeOpcUaCommand(place, address, options);
  const asked = askedOf(place, address, options);
  if (options.units !== undefined) return units(asked, options);
  if (options.watch) return (await import('./watch.ts')).watchCommand(asked, options, clockFrom());
  const found = await find(asked, options);
  if (options.json) json(told(found));
  else print(found, options.expect ?? '');
  if (options.siteFile !== undefined && found.probed.window !== undefined) {
    const { writeStartingSite } = await import('./site.ts');
    await writeStartingSite(options.siteFile, asked, found.fits[0]);
  }
  return exitOf(found);
};
