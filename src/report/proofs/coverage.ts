import { type Instant, type Reason, SEGMENTS, type Segment } from '../../measure/index.ts';
import { type Book, type Interlock, isHorn } from '../../rulebook/index.ts';
import { type Evidence, endOf, isPass } from './past-evidence.ts';
import type { Known } from './proofs.ts';
import { staleReasons } from './stale.ts';

/** What is known of one part of an interlock's chain, over all tests that passed. */
export interface Covered {
  readonly segment: Segment;
  /** `old`: longer ago than its interval. `stale`: what was proved is not what runs. */
  readonly standing: 'proved' | 'stale' | 'old' | 'never';
  /** The newest test that proved it. */
  readonly window?: string;
  readonly at?: Instant;
  readonly method?: string;
}

/** Parts that a change of the program bears on; it turns no sensor, pulls no cable and welds no contact. */
const OF_THE_PROGRAM: ReadonlySet<Segment> = new Set(['input', 'logic', 'output']);

/**
 * The parts of the chain that an interlock has: from the sensor to the logic always, and what its effects stand for. Of
 * the horn only where it sounds one. That people are informed no signal and no attestation shows.
 */
export const segmentsNeeded = (book: Book, { effects }: Interlock): readonly Segment[] => {
  const classes = new Set(effects.map((effect) => effect.class));
  const needed = new Set<Segment>(['sensor', 'wiring', 'input', 'logic']);
  if ([...classes].some((one) => one !== 'trip')) needed.add('output');
  if (classes.has('feedback') || classes.has('motion')) needed.add('relay');
  if (classes.has('motion')) needed.add('motion');
  if (classes.has('feed')) needed.add('feed');
  if (effects.some(({ signal }) => isHorn(book, signal))) needed.add('horn');
  return SEGMENTS.filter((segment) => needed.has(segment));
};

const standingOf = (
  known: Known,
  interlock: Interlock,
  segment: Segment,
  pass: Evidence,
): Covered['standing'] => {
  const stale = staleReasons(known.changes, pass, interlock).some(
    ({ code }) => code !== 'stale-revision' || OF_THE_PROGRAM.has(segment),
  );
  if (stale) return 'stale';
  const proof = interlock.upkeep?.proof;
  const latest = endOf(pass.window) + (proof === undefined ? 0 : proof.every * (1 + proof.grace));
  return proof !== undefined && known.on > latest ? 'old' : 'proved';
};

/** The union over all tests that passed, segment by segment; the newest counts. */
export const coverageOf = (known: Known, interlock: Interlock): readonly Covered[] => {
  const passes = (known.evidence.get(interlock.name) ?? []).filter(isPass);
  return segmentsNeeded(known.book, interlock).map((segment): Covered => {
    const pass = passes.findLast(({ past }) => past.verdict.proved.includes(segment));
    if (pass === undefined) return { segment, standing: 'never' };
    return {
      segment,
      standing: standingOf(known, interlock, segment, pass),
      window: pass.window.id,
      at: endOf(pass.window),
      method: pass.past.method,
    };
  });
};

const NEVER = 0 as Instant;

const GAPS = { never: 'gap-never', old: 'gap-old', stale: 'gap-stale' } as const;

const sensorGap = (interlock: string, { standing, at = NEVER, window = '' }: Covered): readonly Reason[] => {
  if (standing === 'never') return [{ code: 'gap-sensor-never', params: { interlock } }];
  return standing === 'old' ? [{ code: 'gap-sensor-old', params: { interlock, at, window } }] : [];
};

/** What nobody has proved, or not for long, or not as it runs now; parts that stand alike are named together. */
export const gapsOf = (interlock: string, covered: readonly Covered[]): readonly Reason[] => {
  if (covered.every(({ standing }) => standing === 'never'))
    return [{ code: 'gap-all', params: { interlock } }];
  const groups = new Map<string, { code: string; at: Instant; window: string; segments: string[] }>();
  const sensor = covered
    .filter(({ segment }) => segment === 'sensor')
    .flatMap((one) => sensorGap(interlock, one));
  for (const { segment, standing, at = NEVER, window = '' } of covered) {
    if (standing === 'proved' || (segment === 'sensor' && standing !== 'stale')) continue;
    const key = `${standing} ${window}`;
    const group = groups.get(key) ?? { code: GAPS[standing], at, window, segments: [] };
    group.segments.push(segment);
    groups.set(key, group);
  }
  const others = [...groups.values()].map(
    ({ code, ...params }): Reason => ({ code, params: { interlock, ...params } }),
  );
  return [...sensor, ...others];
};
