/** Colours of a plot, taken from the tokens of the look that is shown. */
export interface Palette {
  readonly card: string;
  readonly ink: string;
  readonly soft: string;
  readonly rule: string;
  readonly band: string;
  readonly trip: string;
  readonly limit: string;
  readonly acted: string;
  readonly onActed: string;
  readonly rest: string;
  readonly accent: string;
  readonly lines: readonly string[];
  readonly sans: string;
}

/** Reads them where they stand now; on paper the style sheet has others. */
export const readPalette = (host: Element): Palette => {
  const style = getComputedStyle(host);
  const token = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    card: token('card'),
    ink: token('ink'),
    soft: token('soft'),
    rule: token('rule'),
    band: token('band'),
    trip: token('trip'),
    limit: token('limit'),
    acted: token('acted'),
    onActed: token('on-acted'),
    rest: token('rest'),
    accent: token('accent'),
    lines: [1, 2, 3, 4].map((number) => token(`line-${number}`)),
    sans: token('sans'),
  };
};

/** Lines are told apart by what they are broken into first, by colour second, and by the number at their end. */
const DASHES: readonly (readonly number[])[] = [[], [9, 4], [2, 3], [12, 3, 2, 3], [18, 6]];
const SECOND: readonly number[] = [4, 6];

export const dashOf = (place: number, second: boolean): readonly number[] =>
  second ? SECOND : (DASHES[place % DASHES.length] ?? []);

/** Of the four colours; with five kinds of dashes, 20 lines differ. */
export const colourPlace = (place: number): number => place % 4;
