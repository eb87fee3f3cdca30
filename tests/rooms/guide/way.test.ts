/** The way through a guided window: which stage comes when, what is open, and which step is taken when. */
import { expect, test } from 'vitest';
import {
  type GuideEntry,
  type GuideLive,
  type GuideState,
  guideOf,
  NOTHING_LIVE,
  newWalk,
  openingFault,
  PRECAUTIONS,
  RESTORATIONS,
  type Step,
  stepFault,
  walkOn,
} from '../../../src/guide/index.ts';
import type { Finding, Mark, TrialVerdict, WindowVerdict } from '../../../src/judge/index.ts';
import { formatUtc } from '../../../src/measure/index.ts';
import { at, book } from '../daemon/leg.ts';

const [ALARM, STOP] = ['E1.misalignment-alarm', 'E1.misalignment-stop'].map((name) => {
  const found = book.interlocks.find((one) => one.name === name);
  if (found === undefined) throw new Error(name);
  return found;
});
if (ALARM === undefined || STOP === undefined) throw new Error('the leg has changed');
const stimuli = [ALARM, STOP].map(({ id }) => ({ interlock: id, method: 'displaced' as const }));
const OPENING = {
  window: 'w',
  opened: formatUtc(at(0)),
  stimuli,
  people: [
    { name: 'one', role: 'sensor' },
    { name: 'two', role: 'screen' },
  ],
  permit: 'permit 7',
  precautions: PRECAUTIONS,
};

const utcAt = (seconds: number): string => formatUtc(at(seconds));
const step = (seconds: number, one: Step): GuideEntry => ({ utc: utcAt(seconds), step: one });
const said = { by: 'two', interlock: STOP.name };
const identified = (seconds: number, matches = true): GuideEntry =>
  step(seconds, { do: 'identified', ...said, typed: 'E1.alignment', how: 'scanned', matches });
const event = (code: string, trial = 1): GuideEntry => ({
  utc: utcAt(30),
  finding: { at: at(30), interlock: STOP.id, trial, kind: 'event', reason: { code, params: {} } },
});
const trialOf = (outcome: TrialVerdict['outcome'], trial = 1): GuideEntry => ({
  utc: utcAt(40),
  finding: {
    at: at(40),
    interlock: STOP.id,
    trial,
    kind: 'trial',
    verdict: { outcome, trial, reasons: [], proved: [] } as unknown as TrialVerdict,
  } as Finding,
});
const mark = (seconds: number, one: Partial<Mark>): GuideEntry => ({
  utc: utcAt(seconds),
  mark: { at: at(seconds), by: 'one', ...one } as Mark,
});

const liveOf = (ready: boolean, outcome?: WindowVerdict['outcome'], trial = 0): GuideLive => ({
  ...NOTHING_LIVE,
  waits: new Map([[STOP.id, { ready, waits: [], trial }]]),
  verdicts: new Map(outcome ? [[STOP.id, { outcome, reasons: [] } as unknown as WindowVerdict]] : []),
});

const stateOf = (entries: readonly GuideEntry[], live: GuideLive = liveOf(true)): GuideState => {
  const walk = newWalk([ALARM, STOP]);
  for (const entry of entries) walkOn(walk, entry);
  return guideOf(book, OPENING, walk, live, { standing: 'open' });
};
const ownOf = (state: GuideState) => {
  const found = state.interlocks.find(({ name }) => name === STOP.name);
  if (found === undefined) throw new Error('gone');
  return found;
};
const stage = (entries: readonly GuideEntry[], live?: GuideLive) => ownOf(stateOf(entries, live)).stage;

const COUNTDOWN = step(4, { do: 'countdown', ...said, at: utcAt(9) });
const CALL = [
  step(2, { do: 'called', ...said }),
  step(3, { do: 'repeated-back', ...said, by: 'one' }),
  COUNTDOWN,
];
const NOW = mark(9, { code: 'now', text: STOP.name, interlock: STOP.id });

test('stage by stage, to a pass', () => {
  const all: GuideEntry[] = [];
  const on = (expected: string, live: GuideLive, ...more: GuideEntry[]): void => {
    all.push(...more);
    expect([expected, stage(all, live)]).toEqual([expected, expected]);
  };
  on('identify', liveOf(true));
  on('identify', liveOf(true), identified(1, false));
  on('baseline', liveOf(false), identified(1));
  on('call', liveOf(true), ...CALL);
  on('move', liveOf(true), NOW);
  on('move', liveOf(false, undefined, 1), event('trial-began'));
  on('done', liveOf(false, 'pass'), event('effect-came'), trialOf('pass'));
  expect(stateOf(all, liveOf(true, 'pass')).current).toBe(ALARM.name);
});

test('an inconclusive trial leads back to the baseline, with a new call', () => {
  const all = [identified(1), ...CALL, NOW, event('trial-began'), trialOf('inconclusive')];
  expect(stage(all, liveOf(false, 'inconclusive'))).toBe('baseline');
  expect(stage(all, liveOf(true, 'inconclusive'))).toBe('call');
  expect(ownOf(stateOf(all)).called).toBeUndefined();
});

test('after a fail it is taken up again, and ends only with another trial', () => {
  const all = [identified(1), event('trial-began'), trialOf('fail')];
  expect(stage(all, liveOf(true, 'fail'))).toBe('done');
  all.push(step(50, { do: 'taken-up', ...said }));
  expect(stage(all, liveOf(true, 'fail'))).toBe('call');
  all.push(event('trial-began', 2), trialOf('pass', 2));
  expect(stage(all, liveOf(true, 'fail'))).toBe('done');
});

test('a watch in which another signal moved holds it; naming the sensor anew, or a better watch, frees it', () => {
  const ended = (moved: string[], alone: boolean): GuideEntry =>
    step(3, { do: 'watch-ended', ...said, moved, alone });
  const began = step(2, { do: 'watch-began', ...said });
  expect(stage([identified(1), began])).toBe('identify');
  expect(stage([identified(1), began, ended(['C2.alignment'], false)])).toBe('identify');
  expect(stage([identified(1), began, ended([], false)])).toBe('identify');
  expect(stage([identified(1), began, ended([], false), began, ended(['E1.alignment'], true)])).toBe('call');
  expect(stage([identified(1), began, ended([], false), identified(4)])).toBe('call');
});

test('the horn is asked for once the interlock has acted; what is said without a trial does not count', () => {
  const live = { ...NOTHING_LIVE, waits: new Map([[ALARM.id, { ready: false, waits: [], trial: 1 }]]) };
  const of = (code: string): GuideEntry => ({
    utc: utcAt(30),
    finding: { at: at(30), interlock: ALARM.id, trial: 1, kind: 'event', reason: { code, params: {} } },
  });
  const heard = mark(31, { code: 'attested', machine: ALARM.machine, what: 'horn-heard' });
  const first = (entries: readonly GuideEntry[]) => stateOf(entries, live).interlocks[0];
  expect(first([of('trial-began')])?.stage).toBe('move');
  expect(first([of('trial-began'), of('effect-came')])?.stage).toBe('attest');
  expect(first([heard, of('trial-began'), of('effect-came')])?.stage).toBe('attest');
  const given = first([of('trial-began'), of('effect-came'), heard]);
  expect(given?.stage).toBe('move');
  expect(given?.attestations).toMatchObject([{ what: 'horn-heard', given: { by: 'one' } }]);
});

test('what stands against closing', () => {
  const codes = (state: GuideState): string[] =>
    state.open.filter(({ code }) => code !== 'guide-not-restored').map(({ code }) => code);
  expect(codes(stateOf([]))).toEqual(['guide-no-trial', 'guide-no-trial']);
  expect(stateOf([]).open.length).toBe(2 + RESTORATIONS.length);
  const left = step(5, { do: 'left', by: 'two', interlock: ALARM.name, why: 'no ladder' });
  expect(codes(stateOf([left, event('trial-began')], liveOf(false, undefined, 1)))).toEqual([
    'guide-trial-runs',
  ]);
  const tried = [left, event('trial-began'), trialOf('inconclusive')];
  expect(codes(stateOf(tried, liveOf(true, 'inconclusive')))).toEqual([
    'guide-undecided',
    'guide-not-identified',
  ]);
  const restored = RESTORATIONS.map((item) => step(6, { do: 'restored', by: 'one', item, note: '' }));
  const whole = [left, identified(1), event('trial-began'), trialOf('pass'), ...restored];
  expect(stateOf(whole, liveOf(true, 'pass')).open).toEqual([]);
});

test('a running trial is current, then what somebody turned to, then the first that is open', () => {
  expect(stateOf([]).current).toBe(ALARM.name);
  expect(stateOf([identified(1)]).current).toBe(STOP.name);
  const both = [identified(1), step(2, { do: 'called', by: 'two', interlock: ALARM.name })];
  expect(stateOf(both, liveOf(false, undefined, 1)).current).toBe(STOP.name);
});

test('a gap is told, and what was counted down before it is over', () => {
  const gap = mark(20, { code: 'interrupted', from: at(12), restarted: true });
  const away = mark(21, { code: 'interrupted', from: at(20) });
  const state = stateOf([identified(1), gap, away]);
  expect(state.gaps).toEqual([{ from: utcAt(12), to: utcAt(20) }]);
});

const fault = (entries: readonly GuideEntry[], what: Step['do'], live?: GuideLive, seconds = 5) =>
  stepFault(stateOf(entries, live), { do: what, interlock: STOP.name }, utcAt(seconds))?.code;

test('steps are taken in their order, and each refusal says what comes first', () => {
  expect(fault([], 'called')).toBe('guide-identify-first');
  expect(fault([identified(1)], 'called', liveOf(false))).toBe('guide-wait-first');
  expect(fault([identified(1)], 'called', liveOf(false, undefined, 1))).toBe('guide-in-trial');
  expect(fault([identified(1)], 'called')).toBeUndefined();
  expect(fault([identified(1)], 'countdown')).toBe('guide-call-first');
  expect(fault([identified(1), ...CALL.slice(0, 1)], 'countdown')).toBe('guide-repeat-first');
  expect(fault([identified(1), ...CALL.slice(0, 2)], 'countdown')).toBeUndefined();
  expect(fault([identified(1), ...CALL], 'countdown')).toBe('guide-counting');
  expect(fault([identified(1), ...CALL], 'countdown-stopped')).toBeUndefined();
  expect(fault([identified(1), ...CALL], 'countdown-stopped', undefined, 10)).toBe('guide-not-counting');
  expect(fault([], 'watch-ended')).toBe('guide-not-watching');
  expect(fault([], 'taken-up')).toBe('guide-not-left');
  expect(fault([step(5, { do: 'left', ...said, why: 'x' })], 'called')).toBe('guide-is-left');
  expect(stepFault(stateOf([]), { do: 'called', interlock: 'C2.bearing-stop' }, utcAt(1))?.code).toBe(
    'guide-not-in-window',
  );
});

test.each([
  [{ people: [] }, 'guide-people'],
  [{ permit: ' ' }, 'guide-permit'],
  [{ permit: 'none needed' }, 'guide-permit-why'],
  [{ permit: 'None needed:  ' }, 'guide-permit-why'],
  [{ precautions: PRECAUTIONS.slice(1) }, 'guide-precautions'],
  [{ permit: 'none needed: no product, no dust, guards stay on' }, undefined],
  [{}, undefined],
])('opening with %j', (more, code) => {
  expect(openingFault({ ...OPENING, ...more })?.code).toBe(code);
});
