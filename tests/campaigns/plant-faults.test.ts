/** A third of the faults of the simulated plant, by TRIPWITNESS_SEED; all of them with TRIPWITNESS_FAULTS=all. */
import { expect, test } from 'vitest';
import { campaign, faultsOf, judge, outlived, tableOf, unexplained } from './plant-faults.ts';
import { PROCEDURES } from './plant-faults-tests.ts';

const seed = Number(process.env['TRIPWITNESS_SEED'] ?? '1');

test.each(PROCEDURES.map((one) => [one.interlocks.join(' and '), one.way, one] as const))(
  'a sound plant does not fail: %s by %s',
  (_interlocks, _way, procedure) => {
    for (const { interlock, verdict } of judge(procedure, seed)) {
      const told = verdict.reasons.map(({ code, params }) => `${code} ${JSON.stringify(params)}`);
      expect([interlock, verdict.outcome, told]).not.toEqual([interlock, 'fail', told]);
      if (procedure.nominal) expect([interlock, verdict.outcome, told]).toEqual([interlock, 'pass', told]);
    }
  },
);

test('nothing passes that a fault makes wrong, but for what is known and told', {
  timeout: 3_600_000,
}, () => {
  const all = process.env['TRIPWITNESS_FAULTS'] === 'all';
  const tally = campaign(seed, faultsOf(seed, all));
  console.log(tableOf(tally));
  expect(tally.silent).toEqual([]);
  expect(unexplained(tally)).toEqual([]);
  if (all) expect(outlived(tally)).toEqual([]);
});
