import { ABSENCES, type Absence, FLAGS, type Reading } from '../measure/index.ts';

/** Words of the quality column that stand beside a value. */
const BESIDE: readonly (readonly [word: string, flag: number])[] = [
  ['forced', FLAGS.forced],
  ['uncertain', FLAGS.uncertain],
  ['lost-before', FLAGS.overflow],
];

const WHY: readonly string[] = ABSENCES.filter((absence) => absence !== '');
export const QUALITIES: readonly string[] = ['good', ...BESIDE.map(([word]) => word), ...WHY];

export interface Quality {
  readonly flags: number;
  readonly absent?: Absence;
}

/** `good`, `forced`, `uncertain+lost-before`, `timed-out`; undefined for anything else. An empty cell is good. */
export const parseQuality = (text: string): Quality | undefined => {
  let flags = 0;
  let absent: Absence | undefined;
  for (const word of text === '' ? ['good'] : text.split('+')) {
    const flag = BESIDE.find(([name]) => name === word)?.[1];
    if (flag !== undefined) flags |= flag;
    else if (WHY.includes(word)) absent = word as Absence;
    else if (word !== 'good') return undefined;
  }
  return absent === undefined ? { flags } : { flags, absent };
};

export const formatQuality = (reading: Pick<Reading, 'flags' | 'absent'>): string => {
  const beside = BESIDE.filter(([, flag]) => (reading.flags & flag) !== 0).map(([word]) => word);
  const words = reading.absent === undefined ? beside : [reading.absent, ...beside];
  return words.length === 0 ? 'good' : words.join('+');
};
