/** Corrections: the old text stays to be seen (21 CFR 11.10(e)), and evidence is never corrected. */
import { expect, test } from 'vitest';
import {
  amendable,
  amendedBody,
  amendmentFor,
  amendmentsOf,
  entryText,
  leafOfText,
  verifyLog,
} from '../../../src/record/index.ts';
import { sha256, verifySignature } from './vectors.ts';
import { type LogMaker, newMaker, putWindow } from './window-log.ts';

const closed = (): LogMaker => {
  const log = newMaker();
  putWindow(log, 'w1');
  return log;
};
const seqOf = (log: LogMaker, kind: string, code?: string): number =>
  log.entries.find(
    (entry) =>
      entry.kind === kind && (code === undefined || (entry.body['mark'] as { code?: string }).code === code),
  )?.seq ?? -1;
const ask = (log: LogMaker, entry: number, field: string, becomes = 'better') =>
  amendmentFor(log.own('w1'), { entry, field, becomes, reason: 'slip of the pen' });

test.each([
  ['window-opened', undefined, 'body.note', 'permit 118'],
  ['window-opened', undefined, 'body.people.0.name', 'Ada Post'],
  ['window-opened', undefined, 'body.revisions.E1', '41'],
  ['mark', 'attested', 'body.mark.where', 'head house'],
  ['mark', 'bypassed', 'body.mark.text', 'jumper'],
] as const)('%s %s %s is a text of people: the old one is shown', (kind, code, field, was) => {
  const log = closed();
  const found = ask(log, seqOf(log, kind, code), field);
  expect(found).toMatchObject({ body: { field, was, becomes: 'better' } });
});

test.each([
  ['trace', undefined, 'body.block', 'amend-evidence'],
  ['finding', undefined, 'body.finding.kind', 'amend-evidence'],
  ['verdict', undefined, 'body.finding.verdict.outcome', 'amend-evidence'],
  ['mark', 'revision', 'body.mark.text', 'amend-not-text'],
  ['mark', 'attested', 'body.mark.what', 'amend-not-text'],
  ['window-opened', undefined, 'body.stimuli.0.method', 'amend-not-text'],
  ['window-opened', undefined, 'body.book', 'amend-not-text'],
  ['window-opened', undefined, 'utc', 'amend-not-text'],
  ['window-opened', undefined, 'body.note.length', 'amend-not-text'],
  ['window-opened', undefined, 'body.__proto__', 'amend-not-text'],
] as const)('%s %s %s is never corrected', (kind, code, field, why) => {
  const log = closed();
  expect(ask(log, seqOf(log, kind, code), field)).toMatchObject({ refused: { code: why } });
});

test('another window, an entry that is not there, the same text: refused', () => {
  const log = closed();
  putWindow(log, 'w2');
  const other = log.own('w2')[0]?.seq ?? 0;
  expect(ask(log, other, 'body.note')).toMatchObject({ refused: { code: 'amend-no-entry' } });
  expect(ask(log, 2, 'body.note', 'permit 118')).toMatchObject({ refused: { code: 'amend-same' } });
});

test('a second correction shows what the first one made of it; the entry itself stays', () => {
  const log = closed();
  const put = (becomes: string) => {
    const found = ask(log, 2, 'body.note', becomes);
    if ('body' in found) log.put('amendment', 'w1', found.body, 'Cleo Weir');
  };
  put('permit 119');
  put('permit 120');
  const amendments = amendmentsOf(log.own('w1'));
  expect(amendments.map(({ was, becomes, fits, by }) => [was, becomes, fits, by])).toEqual([
    ['permit 118', 'permit 119', true, 'Cleo Weir'],
    ['permit 119', 'permit 120', true, 'Cleo Weir'],
  ]);
  expect(log.entries[2]?.body['note']).toBe('permit 118');
  expect(amendedBody(log.entries[2]!, amendments)['note']).toBe('permit 120');
  expect(amendable(log.entries[2]!)).toContain('body.people.1.role');
});

test('a key that holds dots is found', () => {
  const log = newMaker();
  log.put('window-opened', 'w1', { revisions: { 'line.2': '7' } });
  expect(ask(log, 2, 'body.revisions.line.2')).toMatchObject({ body: { was: '7' } });
});

test('a correction that shows an old text which never stood there is damage, and changes nothing', () => {
  const log = closed();
  const body = { of: 2, field: 'body.note', was: 'permit 7', becomes: 'permit 8', reason: 'x' };
  const { seq } = log.put('amendment', 'w1', body);
  log.put('amendment', 'w1', {
    ...body,
    of: seqOf(log, 'verdict'),
    field: 'body.finding.kind',
    was: 'window',
  });
  expect(amendedBody(log.entries[2]!, amendmentsOf(log.own('w1')))['note']).toBe('permit 118');
  const source = {
    *entries() {
      for (const entry of log.entries) {
        const text = entryText(entry);
        yield { seq: entry.seq, text, leaf: leafOfText(sha256, text) };
      }
    },
    checkpoints: () => [],
    block: () => undefined,
  };
  const told = verifyLog(source, sha256, verifySignature).damage.map(
    ({ reason, entry }) => `${entry} ${reason.code}`,
  );
  expect(told).toEqual(
    expect.arrayContaining([`${seq} amendment-misquotes`, `${seq + 1} amendment-misquotes`]),
  );
});
