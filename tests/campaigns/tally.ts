/** Counts of a campaign: plain data, added up plant by plant, written to a file and read back. */
import { type Compared, WRONGS } from './compare.ts';

interface Count {
  plants: number;
  pass: number;
  fail: number;
  /** Inconclusive or not tested. */
  open: number;
  /** Undisturbed plants that the judge, and that the reference, leave open. */
  judged: number;
  referred: number;
}

export interface Tally {
  readonly seed: number;
  /** Plants done; plant n has seed `seed + n`. */
  done: number;
  readonly kinds: Record<string, Count>;
  readonly truths: Record<string, number>;
  /** Reasons of what was left open, by the first code of each. */
  readonly reasons: Record<string, number>;
  /** How often the reference was asked about a decided verdict. */
  checked: number;
  /** Everything that is wrong, one line each. */
  readonly wrongs: { readonly wrong: string; readonly seed: number; readonly detail: string }[];
}

export const newTally = (seed: number): Tally => ({
  seed,
  done: 0,
  kinds: {},
  truths: {},
  reasons: {},
  checked: 0,
  wrongs: [],
});

const newCount = (): Count => ({ plants: 0, pass: 0, fail: 0, open: 0, judged: 0, referred: 0 });

const bump = (into: Record<string, number>, key: string): void => {
  into[key] = (into[key] ?? 0) + 1;
};

export const add = (tally: Tally, one: Compared): void => {
  const { outcome } = one;
  const open = outcome === 'inconclusive' || outcome === 'not-tested';
  tally.kinds[one.plan] ??= newCount();
  const kind = tally.kinds[one.plan]!;
  kind.plants += 1;
  if (open) kind.open += 1;
  else kind[outcome] += 1;
  if (open && !one.disturbed) {
    kind.judged += 1;
    if (one.reference === 'undecidable') kind.referred += 1;
    bump(tally.reasons, one.codes[0] ?? '');
  }
  if (!open && one.reference !== undefined) tally.checked += 1;
  bump(tally.truths, `${one.truth} ${outcome}`);
  if (one.wrong !== undefined) tally.wrongs.push({ wrong: one.wrong, seed: one.seed, detail: one.detail });
  tally.done += 1;
};

/** How many times as many plants the judge leaves open as the reference does. */
export const ratioOf = (counts: readonly Count[]): number => {
  const judge = counts.reduce((sum, one) => sum + one.judged, 0);
  const reference = counts.reduce((sum, one) => sum + one.referred, 0);
  return reference === 0 ? Number(judge > 0) + 1 : judge / reference;
};

export const wrongsOf = (tally: Tally, ...which: readonly string[]): Tally['wrongs'] =>
  tally.wrongs.filter((one) => which.includes(one.wrong));

const line = (name: string, count: Count): string =>
  [name.padEnd(28), count.plants, count.pass, count.fail, count.open, ratioOf([count]).toFixed(2)].join('\t');

const sorted = (counts: Readonly<Record<string, number>>): string[] =>
  Object.entries(counts)
    .sort((a, b) => b[1] - a[1])
    .map(([name, count]) => `  ${String(count).padStart(7)}  ${name}`);

/** The summary as text. `command` repeats the campaign. */
export const summaryOf = (tally: Tally, command: string): string => {
  const kinds = Object.entries(tally.kinds).sort((a, b) => (a[0] < b[0] ? -1 : 1));
  const all = kinds.map(([, count]) => count);
  const wrongs = WRONGS.map((wrong) => `  ${String(wrongsOf(tally, wrong).length).padStart(7)}  ${wrong}`);
  return [
    `${tally.done} plants, seed ${tally.seed}`,
    `Repeat: ${command}`,
    `One plant: TRIPWITNESS_SEED=<its seed> in place of the number of plants`,
    '',
    'Wrong (unsupported: the reference does not come to it; needless: the reference decides, the judge does not)',
    ...wrongs,
    `Left open by the judge / by the reference, undisturbed plants: ${ratioOf(all).toFixed(3)}`,
    `Decided verdicts that the reference was asked about too: ${tally.checked}`,
    '',
    'Truth and outcome',
    ...sorted(tally.truths),
    '',
    ['kind of cause and excursions'.padEnd(28), 'plants', 'pass', 'fail', 'open', 'ratio'].join('\t'),
    ...kinds.map(([name, count]) => line(name, count)),
    '',
    'First reason of what was left open',
    ...sorted(tally.reasons),
    '',
    'Every wrong verdict',
    ...WRONGS.flatMap((wrong) =>
      wrongsOf(tally, wrong).map((one) => `  ${wrong} seed ${one.seed}: ${one.detail}`),
    ),
    '',
  ].join('\n');
};
