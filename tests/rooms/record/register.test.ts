/** The register: what must be said at an opening, what may close an item, and what becomes overdue. */
import { describe, expect, test } from 'vitest';
import {
  attemptsOf,
  bodySchemas,
  bypassesSeen,
  createNames,
  type ItemOpening,
  itemOpening,
  itemStep,
  overBy,
  provingsOf,
  registerOf,
} from '../../../src/record/index.ts';
import { text as sentenceOf } from '../../../src/words/index.ts';
import { type LogMaker, newMaker, putWindow, trial } from './window-log.ts';

const NOW = '2026-11-25T10:00:00.000000Z';
const WHOLE: Record<ItemOpening['item'], ItemOpening> = {
  deferral: {
    item: 'deferral',
    on: 'E1.stop',
    text: 'no shutdown this week',
    reason: 'harvest',
    risk: 'daily look',
    approver: 'Cleo Weir',
    until: '2026-12-24',
  },
  impairment: {
    item: 'impairment',
    on: 'E1',
    text: 'sensor gone',
    precautions: 'man at the leg',
    notified: ['insurer'],
    until: '2026-11-26',
  },
  punch: {
    item: 'punch',
    on: 'E1.stop',
    text: 'cable loose',
    category: 'A',
    owner: 'Ada Post',
    due: '2026-11-26',
  },
  bypass: {
    item: 'bypass',
    on: 'E1.stop',
    text: 'jumper 4-5',
    reason: 'commissioning',
    approver: 'Cleo Weir',
    hours: 4,
  },
};

const namesOf = (log: LogMaker) => {
  const names = createNames();
  for (const entry of log.entries) names.take(entry);
  return names;
};
const open = (log: LogMaker, opening: ItemOpening, utc = NOW) =>
  itemOpening(registerOf(log.entries), namesOf(log), opening, utc);
const put = (log: LogMaker, opening: ItemOpening): void => {
  const found = open(log, opening);
  if ('refused' in found) throw new Error(found.refused.code);
  expect(bodySchemas.register.safeParse(found.body).success).toBe(true);
  log.put('register', found.subject, found.body, 'Ada Post');
};
const step = (log: LogMaker, id: string, action: 'noted' | 'closed', window?: string, text = 'done') =>
  itemStep(registerOf(log.entries), provingsOf(log.entries), { id, action, text, ...(window && { window }) });

describe('an opening', () => {
  test.each(
    Object.values(WHOLE).flatMap((whole) =>
      Object.keys(whole)
        .filter((field) => !['item', 'on', 'text'].includes(field))
        .map((field) => ({
          item: whole.item,
          field,
          opening: Object.fromEntries(
            Object.entries(whole).filter(([key]) => key !== field),
          ) as unknown as ItemOpening,
        })),
    ),
  )('$item without $field is refused, and says so', ({ field, opening }) => {
    const found = open(newMaker(), opening);
    expect(found).toMatchObject({ refused: { code: 'register-missing' } });
    expect('refused' in found && sentenceOf(found.refused)).toMatch(new RegExp(`without: .*\\b${field}\\b`));
  });

  test('whole it is accepted; ids count up by kind and are not given twice', () => {
    const log = newMaker();
    for (const whole of Object.values(WHOLE)) put(log, whole);
    put(log, WHOLE.punch);
    expect(step(log, 'punch-2', 'closed')).toMatchObject({ refused: { code: 'register-needs-window' } });
    const closed = step(log, 'bypass-1', 'closed');
    if ('body' in closed) log.put('register', closed.subject, closed.body);
    put(log, WHOLE.bypass);
    put(log, { ...WHOLE.punch, category: 'C' });
    expect(registerOf(log.entries).map(({ id }) => id)).toEqual([
      'deferral-1',
      'impairment-1',
      'punch-1',
      'bypass-1',
      'punch-2',
      'bypass-2',
      'punch-3',
    ]);
  });

  test.each([
    [{ on: 'E9' }, 'register-unknown-on'],
    [{ text: ' ' }, 'register-text'],
    [{ due: '2026-02-30' }, 'register-day'],
    [{ due: '2026-11-24' }, 'register-day-past'],
    [{ since: '2026-11-25T10:00:01Z' }, 'register-since-future'],
  ])('%j: %s', (change, code) => {
    expect(open(newMaker(), { ...WHOLE.punch, ...change })).toMatchObject({ refused: { code } });
  });

  test('an impairment has begun when it is said to have', () => {
    const log = newMaker();
    put(log, { ...WHOLE.impairment, since: '2026-11-25T06:00:00Z' });
    expect(registerOf(log.entries)[0]?.opened).toBe('2026-11-25T06:00:00Z');
  });
});

test('over its limit: a day lasts to its end, hours to the second, a closed item never', () => {
  const log = newMaker();
  put(log, WHOLE.punch);
  put(log, WHOLE.bypass);
  const [punch, bypass] = registerOf(log.entries);
  expect(overBy(punch!, '2026-11-26T23:59:59Z')).toBe(0);
  expect(overBy(punch!, '2026-11-27T00:00:09.999999Z')).toBe(10);
  expect(overBy(bypass!, '2026-11-25T14:00:00Z')).toBe(0);
  expect(overBy(bypass!, '2026-11-25T14:00:01Z')).toBe(1);
  const closed = step(log, 'bypass-1', 'closed');
  if ('body' in closed) log.put('register', 'E1.stop', closed.body);
  expect(overBy(registerOf(log.entries)[1]!, '2027-01-01T00:00:00Z')).toBe(0);
});

describe('a punch item of category A', () => {
  const begun = (): LogMaker => {
    const log = newMaker();
    putWindow(log, 'w0');
    put(log, WHOLE.punch);
    return log;
  };
  test.each([
    ['fail', 'register-not-passed'],
    ['inconclusive', 'register-not-passed'],
    ['not-tested', 'register-not-passed'],
  ])('%s: it stays open', (outcome, code) => {
    const log = begun();
    putWindow(log, 'w1', outcome);
    expect(step(log, 'punch-1', 'closed', 'w1')).toMatchObject({ refused: { code } });
  });
  test('a window from before, one that is open, one of something else, none: it stays open', () => {
    const log = begun();
    putWindow(log, 'w2', 'pass', false);
    expect(step(log, 'punch-1', 'closed', 'w0')).toMatchObject({
      refused: { code: 'register-window-before' },
    });
    expect(step(log, 'punch-1', 'closed', 'w2')).toMatchObject({
      refused: { code: 'register-window-standing' },
    });
    expect(step(log, 'punch-1', 'closed', 'w9')).toMatchObject({ refused: { code: 'register-no-window' } });
    put(log, { ...WHOLE.punch, on: 'C2.stop' });
    putWindow(log, 'w3');
    expect(step(log, 'punch-2', 'closed', 'w3')).toMatchObject({ refused: { code: 'register-not-proved' } });
  });
  test('a window that passed closes it, of an interlock as of its machine, and once only', () => {
    const log = begun();
    put(log, { ...WHOLE.punch, on: 'E1' });
    putWindow(log, 'w1');
    for (const id of ['punch-1', 'punch-2']) {
      const found = step(log, id, 'closed', 'w1');
      if ('refused' in found) throw new Error(found.refused.code);
      log.put('register', found.subject, found.body, 'Ada Post');
      expect(step(log, id, 'noted')).toMatchObject({ refused: { code: 'register-closed' } });
    }
    expect(registerOf(log.entries).map(({ standing, steps }) => [standing, steps.at(-1)?.window])).toEqual([
      ['closed', 'w1'],
      ['closed', 'w1'],
    ]);
  });
});

test('bypasses that people or signals told of stand beside the register', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  log.put(
    'finding',
    'w1',
    trial(1, 'inconclusive', { reasons: [{ code: 'bypass-during-trial', params: { signal: 'E1.bypass' } }] }),
  );
  log.put('contradiction', 'E1', {
    finding: {
      kind: 'contradiction',
      at: 1,
      interlock: -1,
      trial: 0,
      machine: 0,
      dangerous: true,
      reason: { code: 'bypass-too-long', params: { signal: 'E1.bypass', hours: 8 } },
    },
  });
  expect(bypassesSeen(log.entries).map(({ how, on, window, text }) => [how, on, window, text])).toEqual([
    ['attested', 'E1.stop', 'w1', 'Ada Post: jumper'],
    ['seen', 'E1.alarm', 'w1', 'E1.bypass'],
    ['too-long', 'E1', '', 'E1.bypass'],
  ]);
});

test('attempts are counted over windows; none is left out', () => {
  const log = newMaker();
  putWindow(log, 'w1', 'fail');
  putWindow(log, 'w2', 'pass');
  log.put('window-opened', 'd3', { book: 'b'.repeat(64), stimuli: [], demand: true });
  log.put('finding', 'd3', trial(0, 'pass', { standing: 'unfinished' }));
  expect(
    attemptsOf(log.entries)
      .get('E1.stop')
      ?.map(({ attempt, window, outcome, standing, demand }) => [attempt, window, outcome, standing, demand]),
  ).toEqual([
    [1, 'w1', 'fail', 'complete', false],
    [2, 'w2', 'pass', 'complete', false],
    [3, 'd3', 'pass', 'unfinished', true],
  ]);
});
