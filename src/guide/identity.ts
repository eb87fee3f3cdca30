import { type Book, causeSignals, type Interlock } from '../rulebook/index.ts';

/** What is forgiven: case, blanks, hyphens of any kind. Nothing else: `LEG1` and `LEG-1` are one tag, `LEG-7` is another. */
const folded = (text: string): string => text.toUpperCase().replaceAll(/[\s\u00ad\u2010-\u2015\u2212-]/g, '');

/** Texts that identify the sensor of an interlock: the tag of its device where the site names one, and its signals. */
export const expectedOf = (book: Book, { cause, upkeep }: Interlock): readonly string[] => {
  const tag = upkeep?.device?.tag;
  const signals = causeSignals(cause).flatMap((id) => book.signals[id]?.name ?? []);
  return tag === undefined ? signals : [tag, ...signals];
};

/** What was typed or scanned names one of these. */
export const names = (typed: string, expected: readonly string[]): boolean => {
  const said = folded(typed);
  return said !== '' && expected.some((one) => folded(one) === said);
};
