import { addressName, TABLE_WORDS } from '../../config/index.ts';
import type { Rung } from '../../field/index.ts';
import type { Reason } from '../../measure/index.ts';
import type { Table } from '../../signal/index.ts';
import { text } from '../../words/index.ts';
import { hung } from '../hung.ts';

/** `holding 9, input 10` as `hr:9 and ir:10`. */
const named = (list: string): string =>
  list
    .split(', ')
    .filter((one) => one !== '')
    .map((one) => {
      const [table = '', at = ''] = one.split(' ');
      return addressName(table as Table, Number(at));
    })
    .join(' and ');

const milliseconds = (value: number): string => (value < 10 ? value.toFixed(1) : value.toFixed(0));

/** The parameters of a rung as its sentences want them: addresses by name, tables in words. */
const paramsOf = (
  rung: Rung,
  asked: { readonly table: Table; readonly at: number },
): NonNullable<Reason['params']> => {
  const { params } = rung;
  const { table, at } = asked;
  const word = TABLE_WORDS[table][1];
  return {
    ...params,
    ms: milliseconds(rung.milliseconds),
    address: addressName(table, at),
    table: word,
    function: { coil: 1, 'discrete-input': 2, holding: 3, input: 4 }[table],
    near: named(String(params['near'] ?? '')),
    ...(params['other'] === undefined
      ? {}
      : { other: addressName(params['table'] as Table, Number(params['other'])) }),
    ...(params['from'] === undefined
      ? {}
      : {
          first: addressName(table, Number(params['from'])),
          last: addressName(table, Number(params['to'])),
        }),
  };
};

export interface RungTold {
  readonly step: Rung['step'];
  readonly ok: boolean;
  readonly code: string;
  readonly milliseconds: number;
  readonly came: string;
  readonly means?: string;
  readonly next?: string;
}

/** A rung in words; what does not hold also says what it means and what to try. */
export const rungTold = (rung: Rung, asked: { readonly table: Table; readonly at: number }): RungTold => {
  const params = paramsOf(rung, asked);
  const say = (suffix: string): string => text({ code: `${rung.code}${suffix}`, params });
  const { step, ok, code } = rung;
  const told = { step, ok, code, milliseconds: rung.milliseconds, came: say('') };
  return ok ? told : { ...told, means: say('-means'), next: say('-next') };
};

const WIDTH = 16;

export const rungLines = (rungs: readonly RungTold[]): string[] =>
  rungs.flatMap((rung, index) => {
    const head = `${index + 1}  ${rung.ok ? 'ok' : 'NO'}  ${rung.step}`.padEnd(WIDTH + 3);
    const came = hung(rung.came, `  ${head}`);
    if (rung.means === undefined || rung.next === undefined) return came;
    return [...came, '', ...hung(rung.means, '  It means:  '), ...hung(rung.next, '  Try next:  ')];
  });
