import { describe, expect, test } from 'vitest';
import {
  type Checkpoint,
  type Entry,
  type EntryKind,
  entryText,
  type LogSource,
  leafOfText,
  openWindows,
  treeHash,
  verifyLog,
  windowsOf,
} from '../../../src/record/index.ts';
import { sha256, verifySignature } from './vectors.ts';

const block = Uint8Array.of(1, 2, 3);

const entryOf = (seq: number, kind: EntryKind, subject: string, body: Entry['body'] = {}): Entry => ({
  version: 1,
  seq,
  kind,
  subject,
  actor: 'daemon',
  utc: `2026-11-25T09:30:${String(seq).padStart(2, '0')}.000000Z`,
  monotonic: seq,
  boot: 'b-1',
  body,
});

interface Row {
  seq: number;
  text: string;
  leaf: string;
}

interface Memory {
  rows: Row[];
  checkpoints: (Checkpoint & { utc: string })[];
  blocks: Map<string, Uint8Array>;
}

const KINDS: EntryKind[] = [
  'genesis',
  'daemon-started',
  'book',
  'window-opened',
  'mark',
  'trace',
  'finding',
  'verdict',
  'window-closed',
  'window-opened',
  'mark',
  'source-lost',
];

/** Twelve entries in batches of two: window w-1 was closed, w-9 was not. */
const newLog = (): Memory => {
  const entries = KINDS.map((kind, seq) =>
    entryOf(seq, kind, seq < 9 ? 'w-1' : 'w-9', kind === 'trace' ? { block: sha256(block) } : {}),
  );
  const rows = entries.map((entry) => {
    const text = entryText(entry);
    return { seq: entry.seq, text, leaf: leafOfText(sha256, text) };
  });
  const checkpoints = [2, 4, 6, 8, 10, 12].map((size) => ({
    size,
    root: treeHash(
      sha256,
      rows.slice(0, size).map((row) => row.leaf),
    ),
    utc: entries[size - 1]!.utc,
  }));
  return { rows, checkpoints, blocks: new Map([[sha256(block), block]]) };
};

const sourceOf = (log: Memory): LogSource => ({
  entries: () => log.rows,
  checkpoints: () => log.checkpoints,
  block: (hash) => log.blocks.get(hash),
  blockNames: () => log.blocks.keys(),
});

const damageOf = (change: (log: Memory) => void): string[] => {
  const log = newLog();
  change(log);
  return verifyLog(sourceOf(log), sha256, verifySignature).damage.map(({ entry, reason }) => {
    const { from, to } = reason.params;
    return `${reason.code}${entry === undefined ? '' : ` ${entry}`}${from === undefined ? '' : ` (${from}-${to ?? ''})`}`;
  });
};

const rewrite = (row: Row, change: (text: string) => string): void => {
  row.text = change(row.text);
  row.leaf = leafOfText(sha256, row.text);
};

describe('verifying a log', () => {
  test('one that is what was written has no damage, and says which window has no end', () => {
    const { rows, checkpoints } = newLog();
    const verified = verifyLog(sourceOf(newLog()), sha256, verifySignature);
    expect(verified).toMatchObject({
      entries: rows.length,
      root: checkpoints.at(-1)?.root,
      damage: [],
      open: ['w-9'],
    });
  });

  test.each(KINDS.map((_, seq) => seq))('entry %i altered: it alone is named', (seq) => {
    const named = damageOf((log) => {
      log.rows[seq]!.text = log.rows[seq]!.text.replace('"daemon"', '"demon"');
    });
    expect(named).toEqual([`entry-altered ${seq}`]);
  });

  test.each(KINDS.map((_, seq) => seq))('leaf %i altered: its entry alone is named', (seq) => {
    const named = damageOf((log) => {
      log.rows[seq]!.leaf = log.rows[seq]!.leaf.replace(/^./, (digit) => (digit === '0' ? '1' : '0'));
    });
    expect(named).toEqual([`entry-altered ${seq}`]);
  });

  test('two entries far apart altered: both are named, and only they', () => {
    const named = damageOf((log) => {
      for (const seq of [1, 10]) log.rows[seq]!.text = log.rows[seq]!.text.replace('"daemon"', '"demon"');
    });
    expect(named).toEqual(['entry-altered 1', 'entry-altered 10']);
  });

  test('an entry altered together with its leaf: the checkpoint names the range', () => {
    const named = damageOf((log) => rewrite(log.rows[5]!, (text) => text.replace('"daemon"', '"demon"')));
    expect(named).toEqual(['checkpoint-differs (4-5)']);
  });

  test.each([2, 4, 6, 8, 10])('checkpoint %i altered: later ones vouch for the entries', (size) => {
    const change = (log: Memory): void => {
      const at = log.checkpoints.findIndex((one) => one.size === size);
      log.checkpoints[at] = { ...log.checkpoints[at]!, root: sha256(block) };
    };
    expect(damageOf(change)).toEqual([`checkpoint-altered ${size - 1}`]);
  });

  test('the last checkpoint altered: its range is named', () => {
    const named = damageOf((log) => {
      log.checkpoints[5] = { ...log.checkpoints[5]!, root: sha256(block) };
    });
    expect(named).toEqual(['checkpoint-differs (10-11)']);
  });

  test('time of a checkpoint altered', () => {
    const named = damageOf((log) => {
      log.checkpoints[2] = { ...log.checkpoints[2]!, utc: '2025-11-25T09:30:05.000000Z' };
    });
    expect(named).toEqual(['checkpoint-altered 5']);
  });

  test.each([
    ['deleted', (log: Memory) => log.rows.splice(5, 1), 'entry-missing 5 (5-5)'],
    ['the first deleted', (log: Memory) => log.rows.shift(), 'entry-missing 0 (0-0)'],
    ['three deleted', (log: Memory) => log.rows.splice(5, 3), 'entry-missing 5 (5-7)'],
    ['the last deleted', (log: Memory) => log.rows.pop(), 'entries-cut-off 11 (11-)'],
    ['all deleted', (log: Memory) => log.rows.splice(0), 'log-empty'],
  ])('%s', (_name, change, wanted) => expect(damageOf((log) => void change(log))).toContain(wanted));

  test('deleted and the rest renumbered: each entry says another number, and the root differs', () => {
    const named = damageOf((log) => {
      log.rows.splice(5, 1);
      log.rows.forEach((row, seq) => {
        row.seq = seq;
      });
    });
    expect(named).toContain('entry-misplaced 5');
    expect(named).toContain('checkpoint-differs (4-5)');
  });

  test('two swapped', () => {
    const named = damageOf(({ rows }) => {
      [rows[4]!.text, rows[6]!.text] = [rows[6]!.text, rows[4]!.text];
      [rows[4]!.leaf, rows[6]!.leaf] = [rows[6]!.leaf, rows[4]!.leaf];
    });
    expect(named).toEqual(['entry-misplaced 4', 'entry-misplaced 6', 'checkpoint-differs (4-5)']);
  });

  test('one put in at the end, with no checkpoint or a forged one', () => {
    const add = (log: Memory): void => {
      const text = entryText(entryOf(12, 'mark', ''));
      log.rows.push({ seq: 12, text, leaf: leafOfText(sha256, text) });
    };
    expect(damageOf(add)).toEqual(['no-checkpoint 12 (12-12)']);
    const named = damageOf((log) => {
      add(log);
      log.checkpoints.push({ size: 13, root: sha256(block), utc: '' });
    });
    expect(named).toEqual(['checkpoint-differs 12 (12-12)']);
  });

  test('a number far away or of no order ends at once and is said', () => {
    const far = damageOf((log) => {
      log.rows[11]!.seq = Number.MAX_SAFE_INTEGER;
    });
    expect(far).toContain(`entry-missing 11 (11-${Number.MAX_SAFE_INTEGER - 1})`);
    const before = damageOf((log) => {
      log.rows[6]!.seq = -3;
    });
    expect(before).toContain('entry-misplaced 6');
  });

  test('text that is no entry, a second genesis, no genesis', () => {
    expect(damageOf((log) => rewrite(log.rows[4]!, () => '{}'))).toContain('entry-unreadable 4');
    const genesis = (seq: number, kind: EntryKind) => (log: Memory) =>
      rewrite(log.rows[seq]!, () => entryText(entryOf(seq, kind, '')));
    expect(damageOf(genesis(4, 'genesis'))).toContain('genesis-misplaced 4');
    expect(damageOf(genesis(0, 'mark'))).toContain('genesis-misplaced 0');
  });

  test('blocks: altered, missing, not named by anybody, not named at all', () => {
    const name = sha256(block);
    expect(damageOf((log) => log.blocks.set(name, Uint8Array.of(1, 2, 4)))).toEqual(['block-altered 5']);
    expect(damageOf((log) => log.blocks.delete(name))).toEqual(['block-missing 5']);
    expect(damageOf((log) => log.blocks.set(sha256(Uint8Array.of()), Uint8Array.of()))).toEqual([
      'block-unnamed',
    ]);
    const named = damageOf((log) => rewrite(log.rows[5]!, () => entryText(entryOf(5, 'trace', 'w-1'))));
    expect(named).toContain('trace-without-block 5');
  });

  test('more damage than anybody reads is counted, not dropped', () => {
    const log = newLog();
    log.rows = Array.from({ length: 1_500 }, (_, seq) => ({
      seq,
      text: '{}',
      leaf: leafOfText(sha256, '{}'),
    }));
    const { damage } = verifyLog(sourceOf(log), sha256, verifySignature);
    expect(damage.length).toBe(1_001);
    expect(damage.at(-1)?.reason.code).toBe('more-damage');
  });

  test('what a file alone cannot show: the end taken away with its checkpoints', () => {
    const whole = newLog();
    const cut = newLog();
    cut.rows.splice(10);
    cut.checkpoints.splice(5);
    const verified = verifyLog(sourceOf(cut), sha256, verifySignature);
    expect(verified.damage).toEqual([]);
    // The root that was printed before tells.
    expect(verified.root).not.toBe(whole.checkpoints.at(-1)?.root);
  });
});

describe('windows of a log', () => {
  const entries = [
    entryOf(0, 'genesis', ''),
    entryOf(1, 'window-opened', 'w-1', { people: [{ name: 'Ada', role: 'fitter' }] }),
    entryOf(2, 'verdict', 'w-1'),
    entryOf(3, 'window-closed', 'w-1'),
    entryOf(4, 'window-opened', 'w-2', {
      people: [{ name: 'Ada', role: 'fitter', assurance: 'typed' }],
      stimuli: [],
      book: sha256(block),
      engine: 1,
    }),
    entryOf(5, 'window-interrupted', 'w-2'),
    entryOf(6, 'window-opened', 'w-3'),
    entryOf(7, 'verdict', 'w-3'),
  ];

  test('what stands where', () => {
    expect(windowsOf(entries)).toEqual([
      { window: 'w-1', opened: 1, standing: 'closed', ended: 3, people: ['daemon'], verdicts: [2] },
      {
        window: 'w-2',
        opened: 4,
        standing: 'interrupted',
        ended: 5,
        people: ['daemon', 'Ada'],
        verdicts: [],
      },
      { window: 'w-3', opened: 6, standing: 'open', people: ['daemon'], verdicts: [7] },
    ]);
  });

  test('without an end', () => expect(openWindows(entries)).toEqual(['w-3']));
});
