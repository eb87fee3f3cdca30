/**
 * Runs the acquisition campaign in chunks, several clients at once. After each chunk everything is stopped, what is
 * left behind is counted, and what is done is written: a run that was killed goes on from there.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { handles, leftBehind } from '../servers/handles.ts';
import { type Drawn, draw, type Kind, OPC_UA } from './acquisition-draw.ts';
import { openLane } from './acquisition-lane.ts';
import { openOpcUaLane } from './acquisition-opcua.ts';
import { add, newTally, type Tally } from './acquisition-tally.ts';
import type { Lane } from './acquisition-watch.ts';
import { keep, resumed } from './kept.ts';

export interface Campaign {
  readonly seed: number;
  /** Modbus first, then OPC UA: those take seconds each. */
  readonly faults: number;
  readonly opcUa: number;
  readonly chunk: number;
  /** Of this kind only. */
  readonly only?: Kind;
  /** Clients at once. */
  readonly lanes: number;
  /** Where to keep what is done; none: not kept. */
  readonly state?: string;
  readonly progress?: (done: number, of: number) => void;
}

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

interface Job {
  readonly seed: number;
  readonly drawn: Drawn;
}

/** The lane of one kind. */
export const openLaneOf = (kind: Kind): Promise<Lane> =>
  kind.startsWith('opc ua') ? openOpcUaLane(kind) : openLane(kind);

/** The seed of the n-th fault. */
const seedOf = ({ seed, faults }: Campaign, index: number): number =>
  index < faults ? seed + index : OPC_UA + (seed % 1_000_000_000) + index - faults;

/** One lane takes jobs of its kind until none is left; a lane in trouble is replaced. */
const work = async (
  kind: Kind,
  jobs: Job[],
  done: (job: Job, got: Awaited<ReturnType<Lane['suffer']>>) => void,
) => {
  let lane = await openLaneOf(kind);
  for (let job = jobs.shift(); job !== undefined; job = jobs.shift()) {
    const got = await lane.suffer(job.drawn);
    done(job, got);
    // What a device refused is asked in parts for a while, and left out in the end: the next fault finds it whole.
    if (got.trouble === undefined && got.absences['refused'] === undefined) continue;
    await lane.stop();
    lane = await openLaneOf(kind);
  }
  await lane.stop();
};

const runChunk = async (campaign: Campaign, tally: Tally, until: number, told: () => void): Promise<void> => {
  const jobs = new Map<Kind, Job[]>();
  for (let index = tally.done; index < until; index += 1) {
    const seed = seedOf(campaign, index);
    const drawn = draw(seed, campaign.only);
    const own = jobs.get(drawn.kind) ?? [];
    own.push({ seed, drawn });
    jobs.set(drawn.kind, own);
  }
  const all = until - tally.done;
  const working: Promise<void>[] = [];
  for (const [kind, own] of jobs) {
    // A kind gets lanes by its share, and one at least.
    const count = Math.min(own.length, Math.max(1, Math.round((campaign.lanes * own.length) / all)));
    for (let lane = 0; lane < count; lane += 1)
      working.push(
        work(kind, own, ({ seed, drawn }, got) => {
          add(tally, seed, drawn, got);
          tally.done += 1;
          told();
        }),
      );
  }
  await Promise.all(working);
};

export const runCampaign = async (campaign: Campaign): Promise<Tally> => {
  const tally = resumed(campaign.state, newTally(campaign.seed));
  const all = campaign.faults + campaign.opcUa;
  const told = (): void => campaign.progress?.(tally.done, all);
  while (tally.done < all) {
    const until = Math.min(tally.done < campaign.faults ? campaign.faults : all, tally.done + campaign.chunk);
    const before = handles();
    await runChunk(campaign, tally, until, told);
    const left = await leftBehind(before);
    if (left.length > 0)
      tally.wrongs.push({ what: 'leak', seed: seedOf(campaign, until - 1), detail: left.join(', ') });
    collect();
    tally.heap.push(process.memoryUsage().heapUsed);
    keep(campaign.state, tally);
  }
  return tally;
};
