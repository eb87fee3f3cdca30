import { convert, type Micros, parseQuantity, SECOND } from '../measure/index.ts';

/** A checked time in whole microseconds; `otherwise` where nothing was said. */
export const micros = <T extends Micros | undefined>(text: string | undefined, otherwise: T): Micros | T => {
  const read = text === undefined ? undefined : parseQuantity(text);
  const seconds = read === undefined ? undefined : convert(read.value, read.unit, 's');
  return seconds === undefined ? otherwise : Math.round(seconds * SECOND);
};

/** A checked quantity in `unit`; undefined where nothing was said or the units do not measure the same. */
export const inUnit = (text: string | undefined, unit: string, difference = false): number | undefined => {
  const read = text === undefined ? undefined : parseQuantity(text);
  return read === undefined ? undefined : convert(read.value, read.unit, unit, difference);
};

/** A checked percentage as a fraction. */
export const fraction = (text: string | undefined, otherwise: number): number => {
  const percent = inUnit(text, '%');
  return percent === undefined ? otherwise : percent / 100;
};
