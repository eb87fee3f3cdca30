/** In French a space stands before `: ; ? ! »` and behind `«`; no line may be broken there (U+00A0). */
export const spaced = <Texts extends Readonly<Record<string, string>>>(texts: Texts): Texts =>
  Object.fromEntries(
    Object.entries(texts).map(([code, text]) => [
      code,
      text.replace(/ (?=[:;?!»])/g, '\u00a0').replace(/« /g, '«\u00a0'),
    ]),
  ) as Texts;
