/** Runs a campaign in chunks. What is done is written after each, so that a run that was killed goes on from there. */
import { compare } from './compare.ts';
import { keep, resumed } from './kept.ts';
import { add, newTally, type Tally } from './tally.ts';

const CHUNK = 200;

export interface Campaign {
  readonly seed: number;
  readonly plants: number;
  /** Where to keep what is done; none: not kept. */
  readonly state?: string;
  /** Told after each chunk: plants done, plants asked for. */
  readonly progress?: (done: number, of: number) => void;
}

export const runCampaign = (campaign: Campaign): Tally => {
  const tally = resumed(campaign.state, newTally(campaign.seed));
  while (tally.done < campaign.plants) {
    const until = Math.min(campaign.plants, tally.done + CHUNK);
    while (tally.done < until) add(tally, compare(campaign.seed + tally.done));
    keep(campaign.state, tally);
    campaign.progress?.(tally.done, campaign.plants);
  }
  return tally;
};

/** A bar on a terminal; silent elsewhere. */
export const bar = (out: { isTTY?: boolean; write(text: string): unknown }) => {
  const began = performance.now();
  let first: number | undefined;
  return (done: number, of: number): void => {
    if (out.isTTY !== true) return;
    first ??= done;
    const minutes = (performance.now() - began) / 60_000;
    const rate = done > first ? Math.round((done - first) / minutes) : 0;
    const width = 40;
    const full = Math.round((done / of) * width);
    out.write(`\r[${'='.repeat(full)}${' '.repeat(width - full)}] ${done}/${of} ${rate}/min `);
    if (done >= of) out.write('\n');
  };
};
