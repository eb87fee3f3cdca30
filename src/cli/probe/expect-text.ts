import { addressName } from '../../config/index.ts';
import { kindOfUnit } from '../../measure/index.ts';
import type { Table } from '../../signal/index.ts';
import { text } from '../../words/index.ts';
import { hung } from '../hung.ts';
import type { Expected, Fit, Way } from './expect.ts';
import { formsText } from './target.ts';
import { numberShown } from './values.ts';

/** What a tag of the site file has to say, behind its source. */
export const tagText = (table: Table, fit: Pick<Fit, 'at' | 'type' | 'order' | 'scale' | 'unit'>): string =>
  [
    `address: ${addressName(table, fit.at)}`,
    `type: ${fit.type}`,
    ...(fit.order === 'ABCD' ? [] : [`order: ${fit.order}`]),
    ...(fit.scale === 1 ? [] : [`scale: ${fit.scale}`]),
    // A unit that no file can have is left to whoever writes it.
    `unit: ${kindOfUnit(fit.unit) === undefined ? 'count' : fit.unit}`,
  ].join(', ');

const DIFFERENCE: Readonly<Record<number, string>> = {
  '-2': 'two lower than asked',
  '-1': 'one lower than asked',
  0: 'as asked',
  1: 'one higher than asked',
  2: 'two higher than asked',
};

const place = (at: number, asked: number): string =>
  DIFFERENCE[at - asked] ?? `${Math.abs(at - asked)} away from asked`;

const ORDER_SENTENCES: Readonly<Record<string, string>> = {
  CDAB: 'probe-order-words',
  BADC: 'probe-order-bytes',
  DCBA: 'probe-order-both',
};

const sentences = (fit: Fit, asked: number, table: Table): readonly string[] => {
  const { order, unit } = fit;
  const params = { address: addressName(table, fit.at), asked: addressName(table, asked), order, unit };
  const codes = [
    ...(fit.at === asked - 1 ? ['probe-one-lower'] : []),
    ...(fit.at === asked + 1 ? ['probe-one-higher'] : []),
    ORDER_SENTENCES[order] ?? '',
    fit.alive ? 'probe-lowest-moves' : '',
  ].filter((code) => code !== '');
  return codes.map((code) => text({ code, params }));
};

const alike = (ways: readonly Way[], fit: Fit, table: Table): string => {
  const own = ways.filter((way) => way.at === fit.at && way.order === fit.order).map(({ type }) => type);
  const others = ways
    .filter((way) => way.at !== fit.at || way.order !== fit.order)
    .map((way) => `${addressName(table, way.at)} ${way.type} ${way.order}`);
  return [...own, ...others].slice(0, 4).join(', ');
};

const fitLines = (fit: Fit, index: number, asked: number, table: Table, wanted: Expected): string[] => {
  const unit = fit.unit === '' ? '' : ` ${fit.unit}`;
  const scale = fit.scale === 1 ? '' : ` x ${fit.scale}`;
  const where = `${addressName(table, fit.at)}  ${fit.type} ${fit.order}${scale}`;
  const value = `${numberShown(fit.value)}${unit}`;
  const other = wanted.unit === fit.unit ? '' : `, in ${fit.unit}`;
  return [
    ...hung(`${where.padEnd(30)} ${value.padEnd(18)} ${place(fit.at, asked)}${other}`, `  ${index + 1}  `),
    ...(fit.same.length === 0 ? [] : hung(`reads the same now: ${alike(fit.same, fit, table)}`, '       ')),
  ];
};

/** So many are shown. */
const MOST = 8;

/** Which ways to read give what a person sees on the display; several are told as several. */
export const expectLines = (
  fits: readonly Fit[],
  wanted: Expected,
  shown: string,
  asked: number,
  table: Table,
): string[] => {
  const [best] = fits;
  if (best === undefined) return hung(text({ code: 'probe-nothing-fits', params: { shown } }), '');
  const several = fits.length > 1 || best.same.length > 0;
  const head = text({
    code: several ? 'probe-several-fit' : 'probe-one-fits',
    params: { shown, count: fits.length },
  });
  return [
    ...hung(head, ''),
    ...fits.slice(0, MOST).flatMap((fit, index) => fitLines(fit, index, asked, table, wanted)),
    ...(fits.length > MOST ? [`     and ${fits.length - MOST} more, which need more assumptions`] : []),
    '',
    ...sentences(best, asked, table).flatMap((one) => hung(one, '  ')),
    `  ${fits.length > 1 ? 'The first' : 'It'}: ${formsText(table, best.at)}`,
    ...(several ? hung(text({ code: 'probe-tell-apart', params: {} }), '  ') : []),
    '',
    `For the site file${fits.length > 1 ? ', if it is the first' : ''}:`,
    ...hung(`{ source: NAME, ${tagText(table, best)} }`, '  ', '    '),
  ];
};
