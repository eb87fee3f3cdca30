/** Signatures: bound to their record (21 CFR 11.70), with name, time and meaning (11.50). */
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import {
  coverOf,
  type Entry,
  entryText,
  leafOfText,
  type Meaning,
  signatureFault,
  signaturesOf,
  verifyLog,
  windowSigning,
} from '../../../src/record/index.ts';
import { sha256, verifySignature } from './vectors.ts';
import { type LogMaker, newMaker, putWindow } from './window-log.ts';

const ADA = { id: 'ada', name: 'Ada Post' };
const CLEO = { id: 'cleo', name: 'Cleo Weir' };

const sign = (log: LogMaker, person = CLEO, meaning: Meaning = 'reviewed', window = 'w1') =>
  log.put(
    'signature',
    window,
    { meaning, person, role: 'reviewer', assurance: 'password', covers: coverOf(log.own(window), sha256) },
    person.name,
  );

const closed = (): LogMaker => {
  const log = newMaker();
  putWindow(log, 'w1');
  return log;
};

const damageOf = (log: LogMaker) =>
  verifyLog(
    {
      *entries() {
        for (const entry of log.entries) {
          const text = entryText(entry);
          yield { seq: entry.seq, text, leaf: leafOfText(sha256, text) };
        }
      },
      checkpoints: () => [],
      block: () => undefined,
    },
    sha256,
    verifySignature,
  ).damage.map(({ reason, entry }) => `${entry} ${reason.code}`);

test('the digest is SHA-256 over the leaf hashes of the window, one behind the other as bytes', () => {
  const log = closed();
  log.put('source-lost', 'plc1');
  const own = log.own('w1');
  const leaves = own.map((entry) =>
    createHash('sha256')
      .update(Buffer.concat([Buffer.of(0), Buffer.from(entryText(entry))]))
      .digest(),
  );
  const digest = createHash('sha256').update(Buffer.concat(leaves)).digest('hex');
  expect(coverOf(own, sha256)).toEqual({ last: own.at(-1)?.seq, entries: own.length, digest });
});

describe('what becomes of a signature', () => {
  test('it covers all that stood there; other windows and other signatures change nothing', () => {
    const log = closed();
    sign(log, ADA, 'performed');
    sign(log);
    putWindow(log, 'w2');
    log.put('source-lost', 'plc1');
    expect(signaturesOf(log.entries, sha256).map(({ state, since }) => [state, since])).toEqual([
      ['whole', {}],
      ['whole', {}],
    ]);
  });

  test('what is entered later is told by its kind, and needs a new signature', () => {
    const log = closed();
    sign(log);
    log.put('amendment', 'w1', {
      of: 2,
      field: 'body.note',
      was: 'permit 118',
      becomes: 'permit 119',
      reason: 'typing',
    });
    log.put('transcribed', 'w1', { sheet: 's', by: 'x', on: 'y', values: {} });
    sign(log);
    expect(signaturesOf(log.entries, sha256).map(({ state, since }) => [state, since])).toEqual([
      ['since', { amendment: 1, transcribed: 1 }],
      ['whole', {}],
    ]);
  });

  test('what came between the look and the entry is not signed for', () => {
    const log = closed();
    const covers = coverOf(log.own('w1'), sha256);
    log.put('mark', 'w1', { mark: { code: 'now' }, position: 1 });
    log.put('signature', 'w1', {
      meaning: 'reviewed',
      person: CLEO,
      role: 'reviewer',
      assurance: 'password',
      covers,
    });
    expect(signaturesOf(log.entries, sha256)[0]).toMatchObject({ state: 'since', since: { mark: 1 } });
  });

  test('an entry that was changed, taken away or put in: every signature over it differs, and audit names it', () => {
    const forge: ((entries: Entry[]) => void)[] = [
      (entries) => {
        entries[5] = { ...entries[5]!, actor: 'Nobody' };
      },
      (entries) => {
        entries[4] = { ...entries[4]!, subject: 'w0' };
      },
      (entries) => {
        entries[0] = { ...entries[0]!, subject: 'w1' };
        entries[1] = { ...entries[1]!, kind: 'window-opened', subject: 'w1' };
      },
    ];
    const log = closed();
    const { seq } = sign(log);
    expect(damageOf(log).filter((one) => one.includes('sign'))).toEqual([]);
    for (const change of forge) {
      const forged = closed();
      sign(forged);
      change(forged.entries);
      expect(signaturesOf(forged.entries, sha256)[0]?.state).toBe('differs');
      expect(damageOf(forged)).toContain(`${seq} signature-differs`);
    }
  });

  test('a signature moved to another window differs; one that is none is named', () => {
    const log = closed();
    putWindow(log, 'w2');
    const covers = coverOf(log.own('w1'), sha256);
    const body = { meaning: 'reviewed', person: CLEO, role: 'reviewer', assurance: 'password', covers };
    const moved = log.put('signature', 'w2', body);
    const typed = log.put('signature', 'w1', { ...body, assurance: 'typed' });
    expect(damageOf(log)).toEqual(
      expect.arrayContaining([`${moved.seq} signature-differs`, `${typed.seq} signature-unreadable`]),
    );
  });
});

describe('who may sign, and what for', () => {
  const DEMANDS = { independentReviewer: true, signatures: ['performed', 'reviewed'] as const };
  const fault = (log: LogMaker, meaning: Meaning, person: typeof ADA, window = 'w1') =>
    signatureFault(log.own(window), window, meaning, person, DEMANDS, sha256)?.code;

  test('no window, an open one, the same twice', () => {
    const log = closed();
    putWindow(log, 'w2', 'pass', false);
    expect(fault(log, 'performed', ADA, 'w9')).toBe('sign-no-window');
    expect(fault(log, 'performed', ADA, 'saltmarsh-mill')).toBe('sign-no-window');
    expect(fault(log, 'performed', ADA, 'w2')).toBe('sign-open');
    log.put('window-interrupted', 'w2');
    expect(fault(log, 'performed', ADA, 'w2')).toBeUndefined();
    sign(log, ADA, 'performed');
    expect(fault(log, 'performed', ADA)).toBe('sign-twice');
    expect(fault(log, 'witnessed', ADA)).toBeUndefined();
    log.put('transcribed', 'w1', { sheet: 's', by: 'x', on: 'y', values: {} });
    expect(fault(log, 'performed', ADA)).toBeUndefined();
  });

  test('nothing is signed over a signature that does not match', () => {
    const log = closed();
    sign(log);
    log.entries[3] = { ...log.entries[3]!, actor: 'Nobody' };
    expect(fault(log, 'performed', ADA)).toBe('sign-differs');
  });

  test('a reviewer who tested is refused, however the name is written; a witness is not', () => {
    const log = closed();
    expect(fault(log, 'reviewed', { id: 'x', name: ' ada  POST' })).toBe('sign-not-independent');
    expect(fault(log, 'reviewed', { id: 'ben', name: 'Ben Mill' })).toBeUndefined();
    expect(fault(log, 'reviewed', CLEO)).toBeUndefined();
    sign(log, CLEO, 'performed');
    expect(fault(log, 'reviewed', CLEO)).toBe('sign-not-independent');
    expect(signatureFault(log.own('w1'), 'w1', 'reviewed', ADA, undefined, sha256)).toBeUndefined();
  });

  test('whoever made a step of a guided window tested, though nobody named him at its opening', () => {
    const log = newMaker();
    log.put('window-opened', 'w1', { people: [{ name: 'Ada Post', role: 'screen' }] });
    const step = { do: 'repeated-back', by: 'Cleo Weir', interlock: 'E1.stop' };
    log.put('step', 'w1', { step }, 'Cleo Weir');
    log.put('window-closed', 'w1');
    expect(fault(log, 'reviewed', CLEO)).toBe('sign-not-independent');
  });

  test('free text in the roles of old logs counts as testing', () => {
    const log = newMaker();
    log.put('window-opened', 'w1', { people: [{ name: 'Ada Post', role: 'at the sensor' }] });
    log.put('window-closed', 'w1');
    expect(fault(log, 'reviewed', ADA)).toBe('sign-not-independent');
  });

  test('what the site demands is missing until a signature covers all of it', () => {
    const log = closed();
    const missing = () => windowSigning(log.own('w1'), DEMANDS, sha256).missing;
    expect(missing()).toEqual(['performed', 'reviewed']);
    sign(log, ADA, 'performed');
    expect(missing()).toEqual(['reviewed']);
    const review = sign(log, ADA, 'reviewed');
    expect(windowSigning(log.own('w1'), DEMANDS, sha256).notIndependent).toEqual([review.seq]);
    expect(missing()).toEqual(['reviewed']);
    sign(log);
    expect(missing()).toEqual([]);
    log.put('transcribed', 'w1', { sheet: 's', by: 'x', on: 'y', values: {} });
    expect(missing()).toEqual(['performed', 'reviewed']);
  });
});
