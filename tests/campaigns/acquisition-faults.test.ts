/**
 * The acquisition campaign: faults between our client and a good peer, whose values are known at every instant. A slice
 * runs with the other tests; the whole of it:
 *
 *     TRIPWITNESS_ACQUISITION=9800 TRIPWITNESS_OPCUA=200 TRIPWITNESS_CAMPAIGN=campaign.json nice \
 *       npx vitest run --config tests/tooling/vitest.config.ts tests/campaigns/acquisition-faults.test.ts
 *
 * TRIPWITNESS_CAMPAIGN names the file that keeps what is done (killed and started again, it goes on) and beside which
 * the summary is written (.txt); TRIPWITNESS_CAMPAIGN_SEED chooses other faults, TRIPWITNESS_KIND one kind of
 * connection; TRIPWITNESS_SEED tells of one fault.
 *
 * Left out, because nobody on the wire could tell: with Modbus TCP a data byte or an address that is altered while
 * every other field is right (there the check sum of TCP is the guard); an answer that carries the transaction of another
 * open question of its shape; a cut answer that the next one fills up. On a line without transactions: an answer of the
 * right shape that comes in the place of another, if no time-out came before it.
 */
import { writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { draw, KINDS } from './acquisition-draw.ts';
import { openLaneOf, runCampaign } from './acquisition-run.ts';
import { summaryOf, wrongsLike } from './acquisition-tally.ts';
import { bar } from './run.ts';

const { env } = process;
const faults = Number(env['TRIPWITNESS_ACQUISITION'] ?? '400');
const opcUa = Number(env['TRIPWITNESS_OPCUA'] ?? '0');
const seed = Number(env['TRIPWITNESS_CAMPAIGN_SEED'] ?? '1000003');
const state = env['TRIPWITNESS_CAMPAIGN'];
const one = env['TRIPWITNESS_SEED'];
const only = KINDS.find((kind) => kind === env['TRIPWITNESS_KIND']);

const tell = async (): Promise<void> => {
  const drawn = draw(Number(one), only);
  const lane = await openLaneOf(drawn.kind);
  const got = await lane.suffer(drawn);
  await lane.stop();
  console.log(JSON.stringify({ ...drawn, ...got }, undefined, 2));
  expect(got.wrongs).toEqual([]);
};

const campaign = async (): Promise<void> => {
  const progress = bar(process.stderr);
  const tally = await runCampaign({
    seed,
    faults,
    opcUa,
    chunk: 400,
    lanes: 16,
    progress,
    ...(only !== undefined && { only }),
    ...(state !== undefined && { state }),
  });
  const again = `TRIPWITNESS_ACQUISITION=${faults} TRIPWITNESS_OPCUA=${opcUa} TRIPWITNESS_CAMPAIGN_SEED=${seed} npx vitest run --config tests/tooling/vitest.config.ts tests/campaigns/acquisition-faults.test.ts`;
  const summary = summaryOf(tally, again);
  if (state !== undefined) writeFileSync(`${state}.txt`, summary);
  console.log(summary);
  expect(wrongsLike(tally, 'value', 'reason', 'needless', 'recovery', 'trouble', 'leak')).toEqual([]);
};

if (one === undefined)
  test('no fault makes a wrong value good, and each is got over', { timeout: 86_400_000 }, campaign);
else test('one fault', tell);
