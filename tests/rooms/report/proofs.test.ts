/** What is proved, what no longer is, and why: from entries over years, on the demo site's book. */
import { describe, expect, test } from 'vitest';
import {
  dueList,
  dueText,
  historyOf,
  knownAt,
  lastPassOf,
  matrixHtml,
  matrixJson,
  matrixOf,
  matrixText,
  type Proof,
  proofOf,
} from '../../../src/report/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { text } from '../../../src/words/index.ts';
import { bookOf, load, ROOT, readTexts } from '../config/load.ts';
import { at, pastOf } from './past.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const STOP = 'E1.underspeed-stop';
const ALARM = 'E1.underspeed-alarm';
const LOSS = 'E1.pulse-loss-stop';
const pass = { outcome: 'pass' } as const;

type Past = ReturnType<typeof pastOf>;

const known = (past: Past, on: string) => {
  const found = knownAt(historyOf(past.entries), at(on));
  if (found === undefined) throw new Error('no book');
  return found;
};

const proof = (past: Past, on: string, name = STOP): Proof => {
  const all = known(past, on);
  const interlock = all.book.interlocks.find((one) => one.name === name);
  if (interlock === undefined) throw new Error(`no ${name}`);
  return proofOf(all, interlock);
};

const told = (past: Past, on: string, name = STOP) => {
  const { standing, reasons } = proof(past, on, name);
  return [standing, ...reasons.map(({ code }) => code)];
};

const tested = (day: string, id: string, revision: string, past = pastOf('2026-01-01', book)): Past =>
  past.window(day, {
    id,
    revisions: { E1: revision },
    tested: [
      { name: STOP, verdict: pass },
      { name: LOSS, verdict: pass },
    ],
  });

describe('a pass, and what takes it away', () => {
  test('nothing, a pass, a fail, a pass again', () => {
    const past = tested('2026-01-10', 'w1', 'V1');
    expect(told(past, '2026-01-05')).toEqual(['never']);
    expect(told(past, '2026-01-20')).toEqual(['proved']);
    past.window('2026-02-01', {
      id: 'w2',
      revisions: { E1: 'V1' },
      tested: [{ name: STOP, verdict: { outcome: 'fail' } }],
    });
    expect(told(past, '2026-02-02')).toEqual(['failed', 'failed-in-test']);
    past.window('2026-02-03', {
      id: 'w3',
      revisions: { E1: 'V1' },
      tested: [{ name: STOP, verdict: { outcome: 'inconclusive' } }],
    });
    expect(told(past, '2026-02-04')).toEqual(['failed', 'failed-in-test', 'proof-inconclusive']);
    expect(told(tested('2026-02-05', 'w4', 'V1', past), '2026-02-06')).toEqual(['proved']);
    // As it was known then.
    expect(told(past, '2026-02-02')).toEqual(['failed', 'failed-in-test']);
  });

  test('a demand that failed takes it away; one that passed replaces no test', () => {
    const past = tested('2026-01-10', 'w1', 'V1').window('2026-02-01', {
      id: 'd1',
      demand: true,
      tested: [
        { name: STOP, verdict: { outcome: 'fail' } },
        { name: ALARM, verdict: pass },
      ],
    });
    expect(told(past, '2026-02-02')).toEqual(['failed', 'failed-on-demand']);
    expect(told(past, '2026-02-02', ALARM)).toEqual(['never', 'proof-demand-only']);
  });

  test('a danger that was seen outside of any window takes it away', () => {
    const interlock = book.interlocks.findIndex(({ name }) => name === STOP);
    const reason = { code: 'cause-without-effect', params: {} };
    const finding = {
      kind: 'contradiction',
      at: at('2026-02-01'),
      interlock,
      trial: 0,
      machine: 0,
      dangerous: true,
      reason,
    };
    const past = tested('2026-01-10', 'w1', 'V1').enter('2026-02-01', 'contradiction', 'E1', { finding });
    expect(told(past, '2026-02-02')).toEqual(['failed', 'danger-seen']);
  });

  test('an open bypass stands before all; beneath it stands what would be', () => {
    const past = tested('2026-01-10', 'w1', 'V1')
      .enter('2026-01-12', 'register', STOP, {
        item: 'bypass',
        id: 'bypass-1',
        action: 'opened',
        text: 'probe',
      })
      .enter('2026-01-15', 'register', STOP, {
        item: 'bypass',
        id: 'bypass-1',
        action: 'closed',
        text: 'off',
      });
    expect(proof(past, '2026-01-13')).toMatchObject({ standing: 'bypassed', beneath: 'proved' });
    expect(told(past, '2026-01-16')).toEqual(['proved']);
  });

  test('only the ways of testing count that the rulebook names', () => {
    const methods: Book = {
      ...book,
      interlocks: book.interlocks.map((one) =>
        one.name === STOP
          ? { ...one, upkeep: { dependsOn: [], proof: { every: 1e12, grace: 0, methods: ['real'] } } }
          : one,
      ),
    };
    const past = tested('2026-01-10', 'w1', 'V1', pastOf('2026-01-01', methods));
    expect(told(past, '2026-01-11')).toEqual(['never', 'proof-method-does-not-count']);
    expect(text(proof(past, '2026-01-11').reasons[0] ?? { code: '', params: {} })).toContain(
      'these count: real',
    );
  });
});

describe('dates', () => {
  // 90 days from 2026-01-10 are 2026-04-10; ten percent of grace are nine days more.
  test.each([
    ['2026-04-09', 'proved', []],
    ['2026-04-11', 'proved', ['proof-in-grace']],
    ['2026-04-20', 'overdue', ['proof-overdue']],
  ])('on %s: %s', (day, standing, codes) => {
    expect(told(tested('2026-01-10', 'w1', 'V1'), day)).toEqual([standing, ...codes]);
  });

  test('a deferral moves the date, and ends', () => {
    const past = tested('2026-01-10', 'w1', 'V1').enter('2026-04-12', 'register', STOP, {
      item: 'deferral',
      id: 'deferral-1',
      action: 'opened',
      text: 'harvest',
      until: '2026-05-31',
    });
    expect(told(past, '2026-05-31T23:00:00Z')).toEqual(['proved', 'proof-deferred']);
    expect(told(past, '2026-06-01')).toEqual(['overdue', 'proof-overdue']);
  });

  test('the list has the most urgent first, with its days', () => {
    const past = tested('2026-01-10', 'w1', 'V1');
    tested('2026-03-01', 'w2', 'V1', past).window('2026-04-01', {
      id: 'w3',
      revisions: { E1: 'V1' },
      tested: [{ name: ALARM, verdict: { outcome: 'fail' } }],
    });
    const list = dueList(known(past, '2026-06-10'));
    expect(
      list.rows.map(({ urgency }) => urgency).filter((one, index, all) => all.indexOf(one) === index),
    ).toEqual(['failed', 'never', 'overdue']);
    const stop = list.rows.find(({ interlock }) => interlock === STOP);
    // 2026-03-01 08:10 and 90 days are 2026-05-30 08:10; on 2026-06-10 08:00 ten whole days have gone.
    expect(stop).toMatchObject({
      urgency: 'overdue',
      late: 10,
      passed: { window: 'w2', method: 'injected' },
    });
    const shown = dueText(list);
    expect(Math.max(...shown.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(80);
    expect(shown).toMatch(/! OVERDUE {7}E1\.underspeed-stop +2026-05-30, 10 d late +2026-03-01/);
  });
});

describe('another revision', () => {
  test('what was proved on the old one is stale, on that controller only, until proved again', () => {
    const past = tested('2026-01-10', 'w1', 'V1')
      .window('2026-01-11', {
        id: 'w2',
        revisions: { C2: '7' },
        tested: [{ name: 'C2.underspeed-stop', verdict: pass }],
      })
      .revision('2026-02-01', 'E1', 'V2');
    expect(told(past, '2026-02-02')).toEqual(['stale', 'stale-revision']);
    expect(told(past, '2026-02-02', 'C2.underspeed-stop')).toEqual(['proved']);
    expect(told(past, '2026-01-31')).toEqual(['proved']);
    // The window that states the new revision first is a proof on it.
    expect(told(tested('2026-02-03', 'w3', 'V2', past), '2026-02-04')).toEqual(['proved']);
  });

  test('one that was only stated in a later window counts too; typed texts as those of a tag', () => {
    const past = pastOf('2026-01-01', book)
      .window('2026-01-10', {
        id: 'w1',
        typed: true,
        revisions: { E1: 'a' },
        tested: [{ name: STOP, verdict: pass }],
      })
      .window('2026-01-20', {
        id: 'w2',
        typed: true,
        revisions: { E1: 'b' },
        tested: [{ name: ALARM, verdict: pass }],
      });
    expect(told(past, '2026-01-21')).toEqual(['stale', 'stale-revision']);
    expect(told(past, '2026-01-21', ALARM)).toEqual(['proved']);
  });

  test('the same text typed in and read from the tag is no change, nor are blanks at its ends', () => {
    const past = pastOf('2026-01-01', book)
      .revision('2026-01-02', 'E1', 'V1')
      .window('2026-01-10', {
        id: 'w1',
        typed: true,
        revisions: { E1: ' V2' },
        tested: [{ name: STOP, verdict: pass }],
      })
      .revision('2026-01-11', 'E1', 'V2');
    expect(told(past, '2026-01-12')).toEqual(['proved']);
    // Back to what the tag showed before.
    expect(told(past.revision('2026-01-13', 'E1', 'V1'), '2026-01-14')).toEqual(['stale', 'stale-revision']);
  });

  test('back on the old one: what ran in between is not known, so it is stale', () => {
    const past = tested('2026-01-10', 'w1', 'V1')
      .revision('2026-02-01', 'E1', 'V2')
      .revision('2026-02-03', 'E1', 'V1');
    expect(told(past, '2026-02-04')).toEqual(['stale', 'stale-revision', 'stale-revision']);
  });

  test('where nobody stated one, that is said', () => {
    const past = pastOf('2026-01-01', book).window('2026-01-10', {
      id: 'w1',
      tested: [{ name: STOP, verdict: pass }],
    });
    expect(told(past, '2026-01-11')).toEqual(['proved', 'proof-no-revision']);
  });

  /** A feeder without a revision of its own, read from the controller of the leg. */
  const feeder: Book = {
    ...book,
    interlocks: book.interlocks.map((one) =>
      one.name === STOP ? { ...one, machine: 1, name: 'F1.own' } : one,
    ),
  };
  const feederTested = (past: Past, day: string, id: string, revision?: string): Past =>
    past.window(day, {
      id,
      typed: true,
      ...(revision !== undefined && { revisions: { F1: revision } }),
      tested: [{ name: 'F1.own', verdict: pass }],
    });

  test('typing for the feeder what the tag of its controller changed to before is no other change', () => {
    const past = pastOf('2026-01-01', feeder).revision('2026-01-02', 'E1', 'V1');
    feederTested(past, '2026-01-10', 'w1', 'V1');
    feederTested(past.revision('2026-02-01', 'E1', 'V2'), '2026-02-02', 'w2');
    expect(told(past, '2026-02-03', 'F1.own')[0]).toBe('proved');
    const typed = (revision: string, day: string): Past =>
      past.window(day, {
        id: `w-${day}`,
        typed: true,
        revisions: { F1: revision },
        tested: [{ name: ALARM, verdict: pass }],
      });
    expect(told(typed('V2', '2026-02-04'), '2026-02-05', 'F1.own')[0]).toBe('proved');
    // Another program was stated in between: the tag's old word does not cover the way back.
    expect(told(typed('V3', '2026-02-06'), '2026-02-07', 'F1.own')[0]).toBe('stale');
    feederTested(past, '2026-02-08', 'w3', 'V3');
    expect(told(past, '2026-02-09', 'F1.own')[0]).toBe('proved');
    expect(told(typed('V2', '2026-02-10'), '2026-02-11', 'F1.own')[0]).toBe('stale');
  });

  test('the machine without a revision of its own goes with the controller that it is read from', () => {
    const past = pastOf('2026-01-01', feeder)
      .window('2026-01-10', {
        id: 'w1',
        revisions: { E1: 'V1' },
        tested: [{ name: 'F1.own', verdict: pass }],
      })
      .revision('2026-02-01', 'E1', 'V2');
    expect(told(past, '2026-02-02', 'F1.own')[0]).toBe('stale');
  });
});

describe('scope', () => {
  const scope = (prove: Readonly<Record<string, string>>, revision = 'V2') => ({
    change: 'timer of the stop',
    revision,
    machines: ['E1'],
    prove,
  });
  const changed = () => tested('2026-01-10', 'w1', 'V1').revision('2026-02-01', 'E1', 'V2');

  test('what it does not list keeps its proof; what it lists is to be proved', () => {
    const past = changed().enter('2026-02-02', 'scope', '', scope({ [STOP]: 'direct' }));
    expect(told(past, '2026-02-03', LOSS)).toEqual(['proved']);
    expect(told(past, '2026-02-03')).toEqual(['stale', 'stale-revision']);
    expect(text(proof(past, '2026-02-03').reasons[0] ?? { code: '', params: {} })).toContain(
      'into the scope: direct',
    );
    expect(told(tested('2026-02-04', 'w2', 'V2', past), '2026-02-05')).toEqual(['proved']);
  });
  test('of another revision, or for another machine, it settles nothing', () => {
    const past = changed()
      .enter('2026-02-02', 'scope', '', scope({}, 'V3'))
      .enter('2026-02-02', 'scope', '', { ...scope({}), machines: ['C2'] });
    expect(told(past, '2026-02-03', LOSS)).toEqual(['stale', 'stale-revision']);
  });
  test('it settles its own change, not the next one', () => {
    const past = changed().enter('2026-02-02', 'scope', '', scope({})).revision('2026-03-01', 'E1', 'V3');
    expect(told(past, '2026-02-03', LOSS)).toEqual(['proved']);
    expect(told(past, '2026-03-02', LOSS)).toEqual(['stale', 'stale-revision']);
  });
  test('entered when that revision was gone already, it settles nothing', () => {
    const past = changed().revision('2026-02-03', 'E1', 'V1').enter('2026-02-04', 'scope', '', scope({}));
    expect(told(past, '2026-02-05', LOSS)).toEqual(['stale', 'stale-revision', 'stale-revision']);
  });
  test('without a change of revision, such as a card: what it lists is stale until it is proved behind it', () => {
    const past = tested('2026-01-10', 'w1', 'V1').enter(
      '2026-02-02',
      'scope',
      '',
      scope({ [STOP]: 'card' }, 'V1'),
    );
    expect(told(past, '2026-02-03')).toEqual(['stale', 'stale-scope']);
    expect(told(past, '2026-02-03', LOSS)).toEqual(['proved']);
    expect(told(tested('2026-02-04', 'w2', 'V1', past), '2026-02-05')).toEqual(['proved']);
  });
  test('a test between the change and its first scope counts; before a second scope it does not', () => {
    const past = tested('2026-02-02', 'w2', 'V2', changed()).enter(
      '2026-02-03',
      'scope',
      '',
      scope({ [STOP]: 'direct' }),
    );
    expect(told(past, '2026-02-04')).toEqual(['proved']);
    past.enter('2026-02-05', 'scope', '', scope({ [STOP]: 'another card' }));
    expect(told(past, '2026-02-06')).toEqual(['stale', 'stale-scope']);
  });
});

test('another rule makes the proof of that interlock stale, with what changed', () => {
  const texts = (setPoint: string, title: string) => ({
    'site.yaml': `site: mill
sources: { t: { protocol: trace, scan: 50 ms } }
tags: { E1.speed: { source: t, unit: rpm }, E1.command: { source: t } }
machines: { E1: { kind: leg, nameplate: { speed: 96 rpm } } }
rules: [leg.yaml]
`,
    'leg.yaml': `kind: leg
roles:
  speed: { quantity: rotational-speed, purpose: measurement }
  command: { states: [stop, run], purpose: command }
interlocks:
  one:
    hazard: belt slip
    title: ${title}
    cause: { signal: speed, below: ${setPoint} of normal, tolerance: 1.5 %, clears: 90 % }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
  other:
    hazard: belt slip
    cause: { signal: speed, below: 70 % of normal, tolerance: 1.5 %, clears: 90 % }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
`,
  });
  const made = (setPoint: string, title = 'Stop') => bookOf(readTexts('site.yaml', texts(setPoint, title)));
  const both = [
    { name: 'E1.one', verdict: pass },
    { name: 'E1.other', verdict: pass },
  ];
  const past = pastOf('2026-01-01', made('82 %')).window('2026-01-02', {
    id: 'w1',
    typed: true,
    revisions: { E1: 'a' },
    tested: both,
  });
  past.book('2026-01-03', made('82 %', 'Underspeed stop'));
  expect(told(past, '2026-01-04', 'E1.one')).toEqual(['proved']);
  past.book('2026-01-05', made('84 %'));
  const stale = proof(past, '2026-01-06', 'E1.one');
  expect(stale.standing).toBe('stale');
  expect(stale.reasons.map((reason) => text(reason))).toEqual([
    'set point was 82 % of normal when it was proved, and is 84 % of normal now. Prove it again.',
  ]);
  expect(told(past, '2026-01-06', 'E1.other')).toEqual(['proved']);
});

test('a fail as found: the last pass before it, and what it proved', () => {
  const past = tested('2026-01-10', 'w1', 'V1').window('2026-02-10', {
    id: 'w2',
    tested: [
      { name: STOP, verdict: { outcome: 'pass', asFound: 'fail' } },
      { name: ALARM, verdict: { outcome: 'fail', asFound: 'fail' } },
      { name: LOSS, verdict: pass },
    ],
  });
  const history = historyOf(past.entries);
  expect(lastPassOf(history, 'w2')).toEqual({
    [STOP]: {
      window: 'w1',
      utc: '2026-01-10T08:10:00.000000Z',
      proved: ['wiring', 'input', 'logic', 'output'],
    },
    [ALARM]: null,
  });
});

describe('causes and effects', () => {
  const came = (effect: string, outcome: 'pass' | 'fail' = 'pass') => ({
    name: `effect:${effect}`,
    outcome,
    reason: { code: outcome === 'pass' ? 'effect-in-time' : 'effect-missing', params: { effect } },
  });
  const crossed = {
    name: 'attribution',
    outcome: 'inconclusive',
    reason: { code: 'unlisted-change', params: { signal: 'E1.horn', state: 'sounding' } },
  } as const;
  const past = pastOf('2026-01-01', book).window('2026-01-02', {
    id: 'w1',
    revisions: { E1: 'V1' },
    tested: [
      { name: STOP, verdict: { ...pass, proved: ['wiring', 'input', 'logic', 'output', 'relay', 'feed'] } },
      { name: LOSS, verdict: { outcome: 'inconclusive', aspects: [crossed] } },
      {
        name: ALARM,
        verdict: { outcome: 'fail', aspects: [came('E1.horn', 'fail'), came('E1.underspeed-alarm')] },
      },
    ],
  });
  const matrix = matrixOf(known(past, '2026-01-03'), new Set(['E1']));
  const row = (name: string) => {
    const found = matrix.rows.find(({ interlock }) => interlock === name);
    if (found === undefined) throw new Error(`no ${name}`);
    return Object.fromEntries(found.cells.map((cell) => [cell.effect, cell.state]));
  };

  // IEC 62881 in spirit: every marked cell has a result, every unmarked cell that was tested shows the effect not firing.
  test('every marked cell has a result, every unmarked cell of a passed test says that nothing acted', () => {
    for (const { interlock, cells, proof: own } of matrix.rows) {
      const effects =
        book.interlocks.find(({ name }) => name === interlock)?.effects.map(({ name }) => name) ?? [];
      expect(
        cells
          .filter(({ marked }) => marked)
          .map(({ effect }) => effect)
          .sort(),
      ).toEqual([...effects].sort());
      for (const cell of cells) {
        if (cell.marked) expect(cell.state).not.toBe('unwatched');
        else if (own.standing === 'proved')
          expect([cell.effect, cell.state]).toEqual([
            cell.effect,
            /horn|alarm|tripped|command/.test(cell.effect) ? 'quiet' : 'unwatched',
          ]);
      }
    }
  });

  test('what acted unexplained is a cross-trip; a pass later takes it away', () => {
    expect(row(LOSS)['E1.horn']).toBe('cross-trip');
    const later = pastOf('2026-01-01', book);
    for (const entry of past.entries.slice(2)) later.entries.push({ ...entry, seq: later.entries.length });
    later.window('2026-01-04', {
      id: 'w2',
      revisions: { E1: 'V1' },
      tested: [{ name: LOSS, verdict: pass }],
    });
    const now = matrixOf(known(later, '2026-01-05')).rows.find(({ interlock }) => interlock === LOSS);
    expect(now?.cells.find(({ effect }) => effect === 'E1.horn')?.state).toBe('quiet');
  });

  test('of a fail the effect that failed is named, the other is not proved by it', () => {
    expect(row(ALARM)).toMatchObject({ 'E1.horn': 'failed', 'E1.underspeed-alarm': 'inconclusive' });
  });

  test('the chain is the union over tests; gaps are named', () => {
    const more = pastOf('2026-01-01', book);
    for (const entry of past.entries.slice(2)) more.entries.push({ ...entry, seq: more.entries.length });
    more
      .window('2026-02-01', {
        id: 'w2',
        revisions: { E1: 'V1' },
        tested: [
          {
            name: STOP,
            method: 'blocked',
            verdict: { ...pass, proved: ['sensor', 'wiring', 'input', 'logic'] },
          },
        ],
      })
      .revision('2026-02-02', 'E1', 'V2');
    const stop = matrixOf(known(more, '2026-02-03')).rows.find(({ interlock }) => interlock === STOP);
    expect(
      stop?.coverage.map(({ segment, standing, window = '' }) => `${segment} ${standing} ${window}`.trim()),
    ).toEqual([
      'sensor proved w2',
      'wiring proved w2',
      // A new program moves no sensor and pulls no cable, but what comes in, decides and goes out may be another.
      'input stale w2',
      'logic stale w2',
      'output stale w1',
      'relay proved w1',
      'motion never',
      'feed proved w1',
    ]);
    expect(stop?.gaps.map((gap) => text(gap))).toEqual([
      'Of E1.underspeed-stop proved on 2026-02-01 (w2), on what does not run any more: input, logic.',
      'Of E1.underspeed-stop proved on 2026-01-02 (w1), on what does not run any more: output.',
      'Nobody has proved of E1.underspeed-stop: motion stopped.',
    ]);
    const old = matrixOf(known(more, '2026-12-01')).rows.find(({ interlock }) => interlock === STOP);
    expect(old?.gaps.map((gap) => text(gap))[0]).toBe(
      'The sensor of E1.underspeed-stop has not been moved since 2026-02-01 (w2).',
    );
  });

  test('as text no line is wider than 80; as a page it stands alone; as JSON times are UTC', () => {
    const shown = matrixText(matrix);
    expect(Math.max(...shown.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(80);
    expect(shown).toMatch(/^✔ PROVED {8}E1\.underspeed-stop {4,}· {3}· {3}✔ {3}✔/m);
    expect(shown).toContain('E1.horn went to sounding');
    const page = matrixHtml(matrix);
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|https?:\/\/|src=/);
    const json = matrixJson(matrix).rows.find(({ interlock }) => interlock === STOP);
    expect(json).toMatchObject({
      standing: 'proved',
      passed: { at: '2026-01-02T08:10:00.000000Z', revision: 'V1' },
    });
    expect(JSON.stringify(json)).not.toContain('trials');
  });
});
