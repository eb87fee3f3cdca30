import { type Field, NOT_STATED } from '../report/index.ts';
import { baseline, lineHeight, table } from './blocks.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

const SIZE = 7.9;
const GAP = 22;
/** Share of a column that the names take. */
const NAMES = 0.34;

interface Laid {
  readonly names: readonly string[];
  readonly values: readonly string[];
  readonly blank: boolean;
}

const heightOf = ({ names, values }: Laid): number =>
  Math.max(names.length, values.length) * lineHeight(SIZE) + 2.4;

const sum = (laid: readonly Laid[]): number => laid.reduce((all, one) => all + heightOf(one), 0);

const shownValue = ({ value }: Field): string => value ?? NOT_STATED;

const drawColumn = (press: Press, laid: readonly Laid[], left: number, width: number): void => {
  let y = press.y;
  for (const one of laid) {
    const put = (lines: readonly string[], x: number, colour: string): void => {
      lines.forEach((line, index) => {
        press.put(line, x, y + index * lineHeight(SIZE) + baseline(SIZE), { size: SIZE, colour });
      });
    };
    press.tagged('P', () => {
      put(one.names, left, INK.soft);
      put(one.values, left + width * NAMES, one.blank ? INK.soft : INK.ink);
    });
    y += heightOf(one);
  }
};

/** Two lists of fields side by side; as one table over pages where they are longer than what is left of the page. */
export const fieldColumns = (press: Press, columns: readonly [readonly Field[], readonly Field[]]): void => {
  const width = (press.width - GAP) / 2;
  const laid = columns.map((fields) =>
    fields.map(
      (field): Laid => ({
        names: press.lines(field.name, width * NAMES - 6, { size: SIZE }),
        values: press.lines(shownValue(field), width * (1 - NAMES), { size: SIZE }),
        blank: field.value === undefined,
      }),
    ),
  );
  const height = Math.max(...laid.map(sum));
  if (press.y + height <= press.bottom) {
    laid.forEach((column, at) => {
      drawColumn(press, column, press.left + at * (width + GAP), width);
    });
    press.y += height + 4;
    return;
  }
  table(
    press,
    [
      { title: 'Field', share: 26 },
      { title: 'As stated', share: 74 },
    ],
    columns.flat().map((field) => [
      { text: field.name, style: { colour: INK.soft } },
      { text: shownValue(field), style: field.value === undefined ? { colour: INK.soft } : {} },
    ]),
  );
};
