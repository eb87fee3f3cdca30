/**
 * The daemon is away in the midst of a window, at a random point, for 1 to 120 s, in which whatever the plant does goes
 * unseen: trips, resets, restarts. The clock may have been set meanwhile. A law holds the judge against itself: what it
 * says behind the gap it would say of a window that was opened there, with nothing known. And against the truth by
 * construction: no false pass, no false fail. `TRIPWITNESS_RESTARTS=n` for more plants.
 */
import { expect, test } from 'vitest';
import { type Finding, start, step, type TrialVerdict } from '../../src/judge/index.ts';
import { columnsOf, type Instant, instant, type Reading, SECOND } from '../../src/measure/index.ts';
import { bookOf } from './books.ts';
import { METHODS } from './compare.ts';
import { type Drawn, draw } from './plants.ts';
import { poll } from './polling.ts';
import { seeded } from './random.ts';
import { truthOf } from './truth.ts';

const PLANTS = Number(process.env['TRIPWITNESS_RESTARTS'] ?? '150');
const SEED = 7_310_000;

interface Cut {
  readonly before: readonly Reading[];
  readonly after: readonly Reading[];
  readonly from: Instant;
  readonly at: Instant;
}

const shifted = (row: Reading, by: number): Reading => ({
  ...row,
  at: { earliest: instant(row.at.earliest + by), latest: instant(row.at.latest + by) },
});

/** What is left when nobody read for a while; every third time the clock was set, so that the gap looks like half a second. */
const cutOf = (rows: readonly Reading[], seed: number): Cut | undefined => {
  const { next } = seeded(seed);
  const [first, last] = [rows[0]?.at.latest ?? 0, rows.at(-1)?.at.latest ?? 0];
  // Sooner rather than later, so that something is left behind it.
  const left = first + next() * next() * (last - first);
  const gap = Math.min((1 + next() * 119) * SECOND, (last - left) * next());
  const before = rows.filter(({ at }) => at.latest <= left);
  const from = before.at(-1)?.at.latest;
  const after = rows.filter(({ at }) => at.earliest > left + gap);
  const [resumed] = after;
  if (from === undefined || resumed === undefined) return undefined;
  const away = resumed.at.earliest - 1 - from;
  const by = next() < 1 / 3 ? -Math.max(0, away - SECOND / 2) : 0;
  return {
    before,
    after: after.map((row) => shifted(row, by)),
    from,
    at: instant(resumed.at.earliest - 1 + by),
  };
};

const judge = (drawn: Drawn, before: readonly Reading[], gap: Cut | undefined, after: readonly Reading[]) => {
  const state = start(bookOf(drawn));
  const found: Finding[] = [];
  const take = (input: Parameters<typeof step>[1]): void => {
    found.push(...step(state, input));
  };
  const rows = [...before, ...after];
  const stimuli = [{ interlock: 0 as never, method: METHODS[drawn.design.kind] }];
  const opened = instant((rows[0]?.at.earliest ?? 0) - 1);
  take({ mark: { code: 'window-opened', at: opened, window: 'w', stimuli } });
  if (before.length > 0) take({ readings: columnsOf(before) });
  // What the last instant tells is judged before the gap.
  if (gap !== undefined) take({ until: gap.from });
  const length = found.length;
  if (gap !== undefined) take({ mark: { code: 'interrupted', at: gap.at, from: gap.from, restarted: true } });
  const interrupted = found.length;
  if (after.length > 0) take({ readings: columnsOf(after) });
  take({ mark: { code: 'window-closed', at: instant((rows.at(-1)?.at.latest ?? 0) + 1) } });
  return { before: found.slice(0, length), at: found.slice(length, interrupted), found };
};

const trialsOf = (findings: readonly Finding[]): TrialVerdict[] =>
  findings.flatMap((one) => (one.kind === 'trial' && one.demand !== true ? [one.verdict] : []));

const windowOf = (findings: readonly Finding[]) =>
  findings.flatMap((one) => (one.kind === 'window' ? [one.verdict] : []))[0];

test(`${PLANTS} plants, cut once each`, { timeout: 600_000 }, () => {
  const wrong: string[] = [];
  const seen = { interrupted: 0, passedBehind: 0, passed: 0, failed: 0, cuts: 0 };
  for (let seed = SEED; seed < SEED + PLANTS; seed += 1) {
    const drawn = draw(seed);
    const rows = poll(drawn);
    const cut = cutOf(rows, seed);
    if (cut === undefined) continue;
    seen.cuts += 1;
    const say = (text: string): void => {
      wrong.push(`seed ${seed}: ${text}`);
    };
    const whole = judge(drawn, rows, undefined, []);
    const torn = judge(drawn, cut.before, cut, cut.after);
    const fresh = judge(drawn, [], undefined, cut.after);

    // What was found before stands, word by word.
    const same = JSON.stringify(whole.found.slice(0, torn.before.length)) === JSON.stringify(torn.before);
    if (!same) say('what was found before the gap is not what an unbroken window finds');

    // A trial that ran when the daemon ended is over, and proves nothing.
    const broken = trialsOf(torn.at);
    seen.interrupted += broken.length;
    for (const one of broken)
      if (one.standing !== 'interrupted' || one.outcome === 'pass' || one.proved.length > 0)
        say(`the trial in the gap is ${one.standing}, ${one.outcome}`);
    for (const one of trialsOf(torn.found))
      if (one.span.earliest < cut.from && one.span.latest >= cut.at && one.outcome === 'pass')
        say('a trial over the gap passed');

    // Behind the gap: as if the window had been opened there; a normal that was learned before can only add doubt.
    const behind = trialsOf(torn.found).slice(trialsOf(torn.before).length + broken.length);
    const anew = trialsOf(fresh.found);
    if (behind.length !== anew.length) say(`${behind.length} trials behind the gap, ${anew.length} anew`);
    behind.forEach((one, index) => {
      const other = new Map(anew[index]?.aspects.map((each) => [each.name, each.outcome]));
      for (const { name, outcome: found } of one.aspects) {
        if (found !== 'pass' && found !== 'fail') continue;
        if (found === 'pass') seen.passedBehind += 1;
        const said = String(other.get(name));
        if (said !== found) say(`${name} of trial ${one.trial} is ${found}, anew ${said}`);
      }
    });

    const outcome = windowOf(torn.found)?.outcome;
    const truth = truthOf(drawn);
    if (outcome === 'pass') seen.passed += 1;
    if (outcome === 'fail') seen.failed += 1;
    if (outcome === 'pass' && truth === 'bad') say('false pass');
    if (outcome === 'fail' && truth === 'good') say('false fail');
    // The union over both sides needs its parts: somewhere each aspect that passes was passed.
    if (outcome === 'pass' && trialsOf(torn.found).length === broken.length) say('passed without a trial');
  }
  expect(wrong, JSON.stringify(seen)).toEqual([]);
  // The slice reaches what it is about.
  expect(seen.cuts).toBeGreaterThan(0.9 * PLANTS);
  expect(seen.interrupted).toBeGreaterThan(0);
  expect(seen.passedBehind).toBeGreaterThan(0);
  expect(seen.passed).toBeGreaterThan(0);
  expect(seen.failed).toBeGreaterThan(0);
});
