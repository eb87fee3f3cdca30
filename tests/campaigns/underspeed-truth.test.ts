/**
 * The truth campaign. A slice runs with the other tests; the whole of it:
 *
 *     TRIPWITNESS_PLANTS=100000 TRIPWITNESS_CAMPAIGN=campaign.json nice \
 *       npx vitest run --config tests/tooling/vitest.config.ts tests/campaigns/underspeed-truth.test.ts
 *
 * TRIPWITNESS_CAMPAIGN names the file that keeps what is done (killed and started again, it goes on) and beside which
 * the summary is written (.txt); TRIPWITNESS_CAMPAIGN_SEED chooses other plants; TRIPWITNESS_SEED tells of one plant.
 */
import { writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { compare, trialsOf } from './compare.ts';
import { bar, runCampaign } from './run.ts';
import { ratioOf, summaryOf, wrongsOf } from './tally.ts';

const { env } = process;
const plants = Number(env['TRIPWITNESS_PLANTS'] ?? '150');
const seed = Number(env['TRIPWITNESS_CAMPAIGN_SEED'] ?? '1000003');
const state = env['TRIPWITNESS_CAMPAIGN'];
const one = env['TRIPWITNESS_SEED'];

/** One plant, trial by trial. */
const tell = (): void => {
  const { wrong, detail } = compare(Number(one), true);
  console.log([`${wrong ?? 'right'}: ${detail}`, ...trialsOf(Number(one))].join('\n'));
  expect(wrong).toBeUndefined();
};

const campaign = (): void => {
  const progress = bar(process.stderr);
  const tally = runCampaign({ seed, plants, progress, ...(state !== undefined && { state }) });
  const again = `TRIPWITNESS_PLANTS=${plants} TRIPWITNESS_CAMPAIGN_SEED=${seed} npx vitest run --config tests/tooling/vitest.config.ts tests/campaigns/underspeed-truth.test.ts`;
  const summary = summaryOf(tally, again);
  if (state !== undefined) writeFileSync(`${state}.txt`, summary);
  console.log(summary);
  expect(wrongsOf(tally, 'false-pass', 'false-fail', 'unsupported-pass', 'unsupported-fail')).toEqual([]);
  expect(tally.truths['good pass'] ?? 0).toBeGreaterThan(0);
  expect(tally.truths['bad fail'] ?? 0).toBeGreaterThan(0);
  expect(ratioOf(Object.values(tally.kinds))).toBeLessThanOrEqual(1.1);
};

if (one === undefined) {
  test(
    'over random plants no false pass, no false fail, hardly a needless doubt',
    { timeout: 86_400_000 },
    campaign,
  );
} else test('one plant', tell);
