/** Sizes in points of 1/72 inch: A4 after ISO 216 (210 × 297 mm), Letter after ANSI/ASME Y14.1 (8.5 × 11 in). */
export const PAPERS = {
  a4: { width: 595.28, height: 841.89 },
  letter: { width: 612, height: 792 },
} as const;

export type Paper = keyof typeof PAPERS;

/** Left for two holes: 20 mm. The foot carries page number and fingerprints. */
export const MARGIN = { left: 57, right: 40, top: 40, bottom: 62 } as const;

/** Dark enough for every printer; nothing is told by these alone. */
export const INK = {
  ink: '#111111',
  soft: '#4a525a',
  rule: '#b9b4a9',
  faint: '#efece5',
  card: '#ffffff',
  signal: '#1f5f8b',
  trip: '#b0301f',
  band: '#2f6b4a',
  pass: '#1b6b45',
  fail: '#a3261d',
  open: '#7a5000',
} as const;
