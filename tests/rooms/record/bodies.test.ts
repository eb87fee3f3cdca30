import { expect, test } from 'vitest';
import { ANSWERS, bodySchemas, type EntryKind, READINGS } from '../../../src/record/index.ts';
import { sha256 } from './vectors.ts';

const hash = sha256(Uint8Array.of());

/** A whole body of each kind that has fields of its own, as it stands in a log. */
const whole: Partial<Record<EntryKind, object>> = {
  genesis: { log: 'l-1', site: 'saltmarsh-mill' },
  book: { hash, book: { site: 'saltmarsh-mill' }, texts: [['site.yaml', 'site: …']] },
  'window-opened': {
    stimuli: [{ interlock: 0, method: 'blocked' }],
    book: hash,
    engine: 1,
    people: [{ name: 'Ada', role: 'fitter', assurance: 'typed' }],
  },
  mark: { mark: { code: 'window-closed', at: 1 }, position: 3 },
  trace: {
    encoding: ANSWERS,
    block: hash,
    count: 2,
    first: 0,
    from: '2026-11-25T09:30:00.000000Z',
    to: '2026-11-25T09:30:01.000000Z',
  },
  finding: { finding: { kind: 'waits' } },
  verdict: { finding: { kind: 'window' } },
};
const kinds = Object.keys(whole) as (keyof typeof whole)[];

test.each(kinds)('%s: whole it is accepted, also with a field that a newer version adds', (kind) => {
  expect(bodySchemas[kind].safeParse(whole[kind]).success).toBe(true);
  expect(bodySchemas[kind].safeParse({ ...whole[kind], newer: 1 }).success).toBe(true);
});

test.each(
  kinds.flatMap((kind) =>
    Object.keys(whole[kind] ?? {})
      .filter((field) => field !== 'people' && field !== 'texts')
      .map((field) => ({ kind, field })),
  ),
)('$kind without $field is refused', ({ kind, field }) => {
  const { [field]: _, ...rest } = whole[kind] as Record<string, unknown>;
  expect(bodySchemas[kind].safeParse(rest).success).toBe(false);
});

test('what was named once keeps its name', () => {
  expect([ANSWERS, READINGS]).toEqual(['tw-answers-2', 'tw-readings-1']);
});
