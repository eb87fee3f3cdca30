/** The catalogue against the codes that the judge and the rulebook use, both ways. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { RESTORATIONS } from '../../../src/guide/index.ts';
import { ATTESTATIONS, METHODS, type TrialVerdict } from '../../../src/judge/index.ts';
import { ABSENCES, OUTCOMES, type Reason, SEGMENTS } from '../../../src/measure/index.ts';
import { ACCOUNT_ROLES, MEANINGS, REGISTER_ITEMS, WINDOW_ROLES } from '../../../src/record/index.ts';
import type { DueRow, MatrixCell, WindowReport } from '../../../src/report/index.ts';
import type { EffectClass, Interlock } from '../../../src/rulebook/index.ts';
import { PHRASES } from '../../../src/words/en/phrases.ts';
import { CATALOGUE, roleText, TERMS, text } from '../../../src/words/index.ts';

const sourceOf = (room: string): string => {
  const folder = fileURLToPath(new URL(`../../../src/${room}`, import.meta.url));
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !/(^|\/)types\.ts$/.test(name))
    .map((name) => readFileSync(`${folder}/${name}`, 'utf8'))
    .join('\n');
};

const AUDIT = ['record', 'store', 'rehearse', 'field', 'cli', 'report', 'web', 'daemon', 'guide']
  .map(sourceOf)
  .join('\n');
const SOURCE = `${sourceOf('judge')}\n${sourceOf('rulebook')}`;

/** Written where a reason is made: `code: '…'`, `reason('…'`, `add(…, '…')`, `event(…, '…')`, `aspect('name', 'outcome', '…')`. */
const MAKERS = [
  /\bcode: '([a-z][a-z-]+)'/g,
  /\breason\(\s*'([a-z-]+)'/g,
  /\badd\(\s*[\w.]+,\s*'([a-z-]+)'/g,
  /\bdoubt\([^'()]*'([a-z-]+)'/g,
  /\bevent\([^'()]*'([a-z-]+)'/g,
  /\baspect\(\s*(?:'[a-z-]+'|name),\s*(?:'[a-z-]+'|[\w.() ?:']+?),\s*'([a-z-]+)'/g,
  /\bactive\(state\.scene, '([a-z-]+)'|\bactive\(scene?, '([a-z-]+)'/g,
];

const used = new Set(
  MAKERS.flatMap((maker) => [...SOURCE.matchAll(maker)].map((found) => found[1] ?? found[2] ?? '')),
);

/** Names of aspects: `aspect('name', …`, `name: 'name', outcome`, and `name:` before what it is about. */
const ASPECTS = /\b(?:aspect\(\s*|name: |name = )['`]([a-z-]+)(?::\$\{[^}]+\})?['`]/g;

/** Marks are told apart by a code of their own; the log shows them, not the catalogue. */
const MARKS = ['adjusted', 'attested', 'bypassed', 'earlier-normal', 'now', 'observed', 'revision'];

/** Texts that stand ready for codes of the daemon and of traces. */
const READY = [
  'acted-before-cause',
  'as-found-failed',
  'attribution-clear',
  'cause-reached',
  'cause-reached-tag-fault',
  'contact-has-no-trip-point',
  'contradiction',
  'effect-came',
  'effect-released',
  'normal-changed',
  'response-reported',
  'trial-ended',
  'unfinished',
  'window-not-open',
];

const FIELD = `${sourceOf('field')}\n${sourceOf('daemon')}`;
/** What a source tells: the code is written in `field`, and its prefix put before it in `daemon`. */
const ofSource = (code: string): boolean =>
  /^(field|next)-/.test(code)
    ? FIELD.includes(`'${code.slice(code.indexOf('-') + 1)}'`)
    : FIELD.includes(`'${code}'`);

test('the search finds the codes of every way in which a reason is made', () => {
  for (const code of [
    'not-armed',
    'competing-cause',
    'trial-began',
    'trials-disagree',
    'trip-latched',
    'within-too-tight',
  ]) {
    expect(used).toContain(code);
  }
  expect(used.size).toBeGreaterThan(40);
});

test('every code in use has a text', () => {
  const missing = [...used].filter((code) => !Object.hasOwn(CATALOGUE, code) && !MARKS.includes(code));
  expect(missing).toEqual([]);
});

test('every text belongs to a code that is in use, or stands in the list of those that are ready', () => {
  const idle = Object.keys(CATALOGUE).filter(
    (code) =>
      !ofSource(code) &&
      !`${SOURCE}${AUDIT}`.includes(`'${code.replace(/-(means|next)$/, '')}'`) &&
      !/^probe-exception-\d+/.test(code) &&
      !READY.includes(code),
  );
  expect(idle).toEqual([]);
});

test('every phrase is used, has a code of its own, and ends as a part of a sentence does', () => {
  const written = (code: string): boolean => `${SOURCE}${AUDIT}`.includes(`'${code}'`);
  /** Codes that are put together where they are used: `part(`cause-${side}`)`. */
  const composed = (code: string): boolean =>
    [...AUDIT.matchAll(/`([a-z-]*)\$\{[^}]+\}([a-z-]*)`/g)].some(
      ([, head = '', tail = '']) =>
        head.length + tail.length > 3 && code.startsWith(head) && code.endsWith(tail),
    );
  for (const [code, template] of Object.entries(PHRASES)) {
    expect(written(code) || composed(code), code).toBe(true);
    expect(Object.hasOwn(CATALOGUE, code), code).toBe(false);
    expect(template, code).not.toMatch(/[.\s]$/);
    expect(text({ code, params: {} }), code).not.toMatch(/[{}[\]]/);
  }
});

test('a phrase stands in a sentence, several in a row, with the unit of what they stand in', () => {
  const inside = { code: 'wholly-inside', params: {} };
  expect(
    text({
      code: 'sum-trip',
      params: {
        trip: { low: 80, high: 81 },
        unit: 'rpm',
        band: { code: 'band-of-sum', params: { middle: 82, half: 1.5, allowed: { low: 80.5, high: 83.5 } } },
        place: { code: 'not-by-this-alone', params: { place: inside } },
      },
    }),
  ).toBe(
    'Trip point 80.0 … 81.0 rpm against 82 ± 1.5 rpm = 80.5 … 83.5 rpm: wholly inside, but not decided by this alone.',
  );
  const causes = ['E1.a', 'E1.b'].map((signal) => ({
    code: 'cause-contact',
    params: { signal, state: 'on' },
  }));
  expect(text({ code: 'cause-any-of', params: { causes } })).toBe(
    'any of these is there: (E1.a goes to on), (E1.b goes to on)',
  );
  const open = [
    { code: 'guide-not-restored', params: { item: 'horn' } },
    { code: 'guide-no-trial', params: { interlock: 'E1.x' } },
  ];
  expect(text({ code: 'step-open', params: { open } })).toBe(
    'Closed with this open: Not put right yet: horn sounding again; E1.x has not been tried. Try it, or leave it and say why.',
  );
});

test('a count chooses the form of its word', () => {
  const told = (trials: number): string =>
    text({ code: 'guide-undecided', params: { interlock: 'E1.x', trials } });
  expect(told(1)).toContain('after 1 trial. ');
  expect(told(2)).toContain('after 2 trials. ');
});

test('a role has its words; free text is its own', () => {
  expect(roleText('horn')).toBe('listening for the horn');
  expect(roleText('at the valve')).toBe('at the valve');
});

test('the lists of terms are those of the rooms', () => {
  const lists: Readonly<Record<keyof typeof TERMS, readonly string[]>> = {
    outcomes: OUTCOMES,
    segments: SEGMENTS,
    absences: ABSENCES.filter((one) => one !== ''),
    methods: METHODS,
    attestations: ATTESTATIONS,
    restorations: RESTORATIONS,
    roles: WINDOW_ROLES,
    'account-roles': ACCOUNT_ROLES,
    meanings: MEANINGS,
    items: REGISTER_ITEMS,
    namings: ['typed', 'scanned'],
    fields: Object.keys(TERMS.fields),
    // Types alone; that nothing is missing is what `types` below says.
    classes: Object.keys(TERMS.classes),
    windows: Object.keys(TERMS.windows),
    trials: Object.keys(TERMS.trials),
    returns: Object.keys(TERMS.returns),
    proofs: Object.keys(TERMS.proofs),
    aspects: [...new Set([...SOURCE.matchAll(ASPECTS)].map((found) => found[1] ?? ''))],
  };
  for (const [list, codes] of Object.entries(lists))
    expect(Object.keys(TERMS[list as keyof typeof TERMS]).sort(), list).toEqual([...codes].sort());
  const types: {
    readonly classes: Readonly<Record<EffectClass, string>>;
    readonly windows: Readonly<Record<WindowReport['standing'], string>>;
    readonly trials: Readonly<Record<TrialVerdict['standing'], string>>;
    readonly returns: Readonly<Record<NonNullable<Interlock['delay']>['onReturn'], string>>;
    readonly proofs: Readonly<Record<DueRow['urgency'] | MatrixCell['state'], string>>;
  } = TERMS;
  expect(types).toBe(TERMS);
});

const PARAMS: Reason['params'] = {
  trip: { low: 81.57, high: 82.49 },
  allowed: { low: 80.5, high: 83.5 },
  unit: '%',
  delay: { low: 0.9, high: 1.12 },
};

test('every text is a sentence, with its brackets and holes filled', () => {
  for (const [code, template] of Object.entries(CATALOGUE)) {
    const bare = text({ code, params: {} });
    expect(bare, code).not.toMatch(/[{}[\]]/);
    expect(template, code).toMatch(/\.(\])?$/);
    expect(bare, code).toMatch(/^[A-Zn]/);
  }
});

test('an inconclusive says what would make it conclusive', () => {
  const undecided = ['set-point', 'limit', 'delay', 'normal', 'effect-time', 'order'].map((name) =>
    text({ code: `${name}-undecided`, params: {} }),
  );
  for (const sentence of undecided) {
    expect(sentence).toMatch(/Make|Ramp|Poll|Let/);
  }
  expect(text({ code: 'set-point-undecided', params: { ...PARAMS, advised: 0.812 } })).toBe(
    'Trip point 81.57 … 82.49 % lies neither wholly inside nor wholly outside the band 80.5 … 83.5 %. ' +
      'Make a hold test: hold just inside, then just outside; or ramp at most 0.81 %/s at this poll rate.',
  );
  expect(text({ code: 'set-point-undecided', params: { ...PARAMS, advised: 0 } })).not.toContain('ramp');
});

test('the unit of a reason comes before that of its context', () => {
  expect(text({ code: 'set-point-inside', params: PARAMS }, { unit: 'rpm' })).toBe(
    'Trip point 81.57 … 82.49 % lies wholly inside the set point band 80.5 … 83.5 %; delay 0.90 … 1.12 s.',
  );
  expect(
    text(
      { code: 'cause-not-clear', params: { signal: 'E1.speed', value: { low: 80, high: 80.2 } } },
      { unit: 'rpm' },
    ),
  ).toContain('80.00 … 80.20 rpm');
});

test('an unknown code shows itself and its parameters', () => {
  expect(text({ code: 'never-heard-of', params: { a: 1, b: 'x', c: { low: 1, high: 2 } } })).toBe(
    'never-heard-of (a 1, b x, c 1.0 … 2.0)',
  );
  expect(text({ code: 'toString', params: {} })).toBe('toString');
});

test('what people wrote is never read as a template', () => {
  expect(text({ code: 'trial-aborted', params: { by: '{text}', text: '[{by}]' } })).toBe(
    'The trial was aborted by {text}: [{by}].',
  );
});
