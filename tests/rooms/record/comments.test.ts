/** Comments on a window: whom they are told by, what they may name, and that no signature falls by them. */
import { expect, test } from 'vitest';
import {
  type Comment,
  commentFault,
  commentsOf,
  coverOf,
  type Entry,
  signaturesOf,
  windowSigning,
} from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { type LogMaker, newMaker, putWindow } from './window-log.ts';

const DEMANDS = { independentReviewer: false, signatures: ['reviewed'] } as const;
const sign = (log: LogMaker): Entry =>
  log.put('signature', 'w1', {
    meaning: 'reviewed',
    person: { id: 'cleo', name: 'Cleo' },
    role: 'reviewer',
    assurance: 'password',
    covers: coverOf(log.own('w1'), sha256),
  });
const comment = (log: LogMaker, body: object = {}): Entry =>
  log.put('comment', 'w1', { text: 'late by a scan', ...body }, 'Ada');
const states = (log: LogMaker) => signaturesOf(log.own('w1'), sha256).map(({ state }) => state);

test('a comment behind a signature leaves it whole; anything else does not', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  sign(log);
  comment(log);
  expect(states(log)).toEqual(['whole']);
  expect(windowSigning(log.own('w1'), DEMANDS, sha256).missing).toEqual([]);
  log.put('amendment', 'w1', { of: 2, field: 'body.note', was: 'permit 118', becomes: 'x', reason: 'slip' });
  expect(states(log)).toEqual(['since']);
  expect(windowSigning(log.own('w1'), DEMANDS, sha256).missing).toEqual(['reviewed']);
});

test('a signature covers the comments before it: one that is changed afterwards is seen', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  const made = comment(log);
  sign(log);
  expect(states(log)).toEqual(['whole']);
  const forged = log
    .own('w1')
    .map((entry) => (entry === made ? { ...entry, body: { text: 'in time' } } : entry));
  expect(signaturesOf(forged, sha256).map(({ state }) => state)).toEqual(['differs']);
});

test('comments are told in their order, with what they speak of; what is none is left to the audit', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  comment(log, { interlock: 'E1.stop', trial: 2, at: 12.5 });
  log.put('comment', 'w1', { text: '' }, 'Ben');
  comment(log);
  expect(commentsOf(log.own('w1')).map(({ utc: _utc, entry: _entry, ...told }) => told)).toEqual([
    { by: 'Ada', text: 'late by a scan', interlock: 'E1.stop', trial: 2, at: 12.5 },
    { by: 'Ada', text: 'late by a scan' },
  ]);
});

test('it is on a window of the log, and on what that window knows', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  const fault = (on: Partial<Comment>, window = 'w1') =>
    commentFault(log.own(window), window, { text: 'x', ...on }, ['E1.stop'])?.code;
  expect(fault({ interlock: 'E1.stop', trial: 1 })).toBeUndefined();
  expect(fault({})).toBeUndefined();
  expect(fault({}, 'w2')).toBe('comment-no-window');
  expect(fault({ interlock: 'C9.stop' })).toBe('comment-no-interlock');
  expect(fault({ trial: 1 })).toBe('comment-trial-of-none');
});
