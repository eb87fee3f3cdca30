/** What is drawn of a trial: every reading from a little before it to a little after it, and no others. */
import { expect, test } from 'vitest';
import { readAgain, storedWindow } from '../../../src/daemon/replay.ts';
import { verdictsOf } from '../../../src/daemon/reporting.ts';
import { tracesOf } from '../../../src/daemon/traces.ts';
import { type Reading, SECOND } from '../../../src/measure/index.ts';
import { bundleSource } from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { BUNDLE, LOG } from '../report/evidence-rig.ts';

/** Shown before and after a trial. */
const MARGIN = 4 * SECOND;

test('cause and effects of each trial, from 4 s before it to 4 s behind it, ends included', () => {
  const entries = LOG.lines;
  const stored = storedWindow(bundleSource(sha256, BUNDLE), entries, 'w-1');
  if (stored === undefined) throw new Error('no window');
  const all: Reading[] = [];
  readAgain(
    stored,
    () => true,
    (row) => all.push(row),
  );
  const verdicts = verdictsOf(stored.findings, []);
  const traces = tracesOf(stored, verdicts, 0);
  let drawn = 0;
  for (const [id, verdict] of verdicts) {
    const interlock = stored.book.interlocks[id];
    if (interlock === undefined) throw new Error(`no interlock ${id}`);
    const found = traces(interlock, verdict);
    expect(found.map(({ trial }) => trial)).toEqual(verdict.trials.map(({ trial }) => trial));
    for (const [index, { span }] of verdict.trials.entries()) {
      const trace = found[index];
      for (const { signal, points } of [trace?.cause, ...(trace?.effects ?? [])].flatMap(
        (one) => one ?? [],
      )) {
        const own = all
          .filter((row) => row.signal === signal)
          .filter(({ at }) => at.latest >= span.earliest - MARGIN && at.latest <= span.latest + MARGIN);
        expect(own.length).toBeGreaterThan(0);
        const state = (stored.book.signals[signal]?.states.length ?? 0) > 0;
        // Of a state the first reading, the last, and each beside one that differs.
        const kept = own.filter((row, at) => {
          const [before, after] = [own[at - 1], own[at + 1]];
          const key = (one: Reading): string => `${one.absent} ${one.value?.low} ${one.value?.high}`;
          const same = (one: Reading | undefined): boolean => one !== undefined && key(one) === key(row);
          return !state || !same(before) || !same(after);
        });
        expect(points.map(({ t }) => t)).toEqual(kept.map(({ at }) => at.latest / SECOND));
        drawn += points.length;
      }
    }
  }
  expect(drawn).toBeGreaterThan(20);
});
