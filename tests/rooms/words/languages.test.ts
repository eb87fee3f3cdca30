/** Each language against English: the same codes, holes and optional parts, nothing left untranslated, nothing broken. */
import { expect, test } from 'vitest';
import type { Interval } from '../../../src/measure/index.ts';
import { DE } from '../../../src/words/de/index.ts';
import { EN } from '../../../src/words/en/index.ts';
import { ES } from '../../../src/words/es/index.ts';
import { FR } from '../../../src/words/fr/index.ts';
import {
  CATALOGUE,
  type Code,
  formatBand,
  formatFixed,
  formatInterval,
  formatNumber,
  formatSeconds,
  LANGUAGE_NAMES,
  LANGUAGES,
  type LanguagePack,
  sentence,
  text,
} from '../../../src/words/index.ts';

const OTHERS: readonly LanguagePack[] = [DE, ES, FR];
/** Phrases that are the same words in another language. */
const SAME: Readonly<Record<string, readonly string[]>> = {
  de: ['kind-band'],
  fr: ['rule-cause', 'rule-of-cause', 'rule-source', 'kind-contact'],
};
const CODES = Object.keys(EN.texts) as Code[];

const HOLE = /\{[A-Za-z]+(?::[a-z-]+)?\}/g;
const PART = /\[(~[A-Za-z]+\|)?([^\]]*)\]/g;

const holesIn = (template: string): string => [...new Set(template.match(HOLE))].sort().join(' ');

/** Holes that are always shown, and each optional part by its condition and its holes. */
const shapeOf = (template: string): readonly string[] => [
  `always ${holesIn(template.replace(PART, ''))}`,
  ...[
    ...new Set(
      [...template.matchAll(PART)].map(([, without = '', part = '']) => `[${without}${holesIn(part)}]`),
    ),
  ].sort(),
];

/** What is to be done where this is red: the code, and the folder in which its sentence stands. */
const where = (pack: LanguagePack, code: string): string => `"${code}" in src/words/${pack.language}/`;

test('every language has its pack, its name and every code', () => {
  expect([EN, ...OTHERS].map(({ language }) => language).sort()).toEqual([...LANGUAGES].sort());
  expect(Object.keys(LANGUAGE_NAMES).sort()).toEqual([...LANGUAGES].sort());
  for (const pack of OTHERS) {
    const missing = CODES.filter((code) => !Object.hasOwn(pack.texts, code));
    expect(missing.map((code) => `${where(pack, code)} is missing`)).toEqual([]);
    expect(Object.keys(pack.texts).length, pack.language).toBe(CODES.length);
  }
});

test('a translated sentence has the holes and the optional parts of the English one', () => {
  for (const pack of OTHERS)
    for (const code of CODES)
      expect(shapeOf(pack.texts[code]), where(pack, code)).toEqual(shapeOf(EN.texts[code]));
});

test('no sentence is left in English, none is said twice, and each ends', () => {
  for (const pack of OTHERS) {
    const said = new Map<string, string>();
    for (const code of CODES) {
      const own = pack.texts[code];
      expect(own, where(pack, code)).not.toBe(EN.texts[code]);
      expect(own, where(pack, code)).toMatch(/\.\]?$/);
      expect(own, `${where(pack, code)}: a straight quote`).not.toMatch(/["']/);
      if (!CODES.some((one) => one !== code && EN.texts[one] === EN.texts[code]))
        expect(said.get(own), where(pack, code)).toBeUndefined();
      said.set(own, code);
    }
  }
});

const INTERVAL: Interval = { low: 81.5625, high: 82.4875 };

/** A value of each kind that can stand in a hole. */
const SAMPLES: Readonly<Record<string, number | string | Interval | readonly string[]>> = {
  unit: INTERVAL,
  band: { low: 80.5, high: 83.5 },
  s: { low: 0.75, high: 1.25 },
  'band-s': { low: 0.8, high: 1.2 },
  seconds: 2.5,
  share: 0.015,
  rate: 0.8125,
  chance: 0.975,
  day: 1_764_063_000_000_000,
  segment: ['sensor', 'motion'],
  method: 'heated',
  absence: 'timed-out',
  role: 'horn',
  'account-role': 'reviewer',
  meaning: 'witnessed',
  attestation: 'horn-heard',
  restoration: 'targets',
  window: 'interrupted',
  return: 'accumulates',
  item: 'punch',
  outcome: 'fail',
  naming: 'scanned',
  field: 'until',
  step: INTERVAL,
  percent: INTERVAL,
  low: INTERVAL,
  high: INTERVAL,
  short: 0.123456789,
  'short-unit': 0.5,
  conformance: 0.5,
  fixed: 12.3456,
  semicolons: ['one', 'two'],
  unended: ['one.', 'two.'],
  group: ['one', 'two'],
  all: ['one', 'two'],
};

const sampleParams = (template: string, without: boolean): Record<string, never> => {
  const params: Record<string, unknown> = { unit: '%' };
  for (const [, name = '', kind] of template.matchAll(/\{([A-Za-z]+)(?::([a-z-]+))?\}/g))
    if (!(without && template.includes(`[~${name}|`))) params[name] = kind ? SAMPLES[kind] : `‹${name}›`;
  return params as Record<string, never>;
};

test('every code in every language can be said, with all its parts and with none', () => {
  for (const pack of [EN, ...OTHERS])
    for (const code of CODES) {
      const template = EN.texts[code];
      for (const params of [sampleParams(template, false), sampleParams(template, true), {}]) {
        const told = sentence({ code, params }, pack);
        expect(told, where(pack, code)).not.toMatch(/[{}[\]]|undefined|\[object| {2}/);
        expect(told.replace(/E1\.x|people\.json/g, ''), where(pack, code)).not.toMatch(
          pack.numbers.decimal === ',' ? /\d\.\d/ : /\d,\d/,
        );
      }
      const whole = sentence({ code, params: sampleParams(template, false) }, pack);
      for (const [, name = ''] of template.matchAll(/\{([A-Za-z]+)\}/g))
        expect(whole, where(pack, code)).toContain(`‹${name}›`);
    }
});

test('every kind of hole has a sample above', () => {
  const templates = [...Object.values(EN.texts), ...Object.values(EN.phrases)];
  const kinds = templates.flatMap((template) => [...template.matchAll(/\{[A-Za-z]+:([a-z-]+)\}/g)]);
  expect(
    [...new Set(kinds.map(([, kind]) => kind))].filter((kind) => !Object.hasOwn(SAMPLES, kind ?? '')),
  ).toEqual([]);
});

test('every phrase has the holes of the English one, and words of its own where it has any', () => {
  const words = (template: string): string => template.replace(HOLE, '').replace(/\b[rs]\b/g, '');
  for (const pack of OTHERS)
    for (const [code, template] of Object.entries(EN.phrases)) {
      const own = pack.phrases[code as keyof typeof EN.phrases];
      expect(shapeOf(own), where(pack, code)).toEqual(shapeOf(template));
      if (!/\p{L}{2}/u.test(words(template))) continue;
      if (SAME[pack.language]?.includes(code)) continue;
      expect(own, where(pack, code)).not.toBe(template);
    }
});

test('a count chooses the form of its word: in French also nothing and one and a half are told as one', () => {
  const undecided = (trials: number, pack: LanguagePack): string =>
    text({ code: 'guide-undecided', params: { interlock: 'E1.x', trials } }, { pack });
  expect(undecided(1, DE)).toContain('nach 1 Versuch nicht');
  expect(undecided(2, DE)).toContain('nach 2 Versuchen nicht');
  expect(undecided(0, ES)).toContain('0 pruebas');
  expect(undecided(0, FR)).toContain('0 épreuve.');
  expect(undecided(1.5, FR)).toContain('1,5 épreuve.');
});

test('a unit that is a word is told in the language, every other one as it is written', () => {
  expect(formatNumber(41, DE.numbers)).toBe('41');
  expect(formatInterval({ low: 41, high: 41 }, 'count', DE.numbers)).toBe('41 Zählschritte');
  expect(formatInterval({ low: 0.5, high: 0.5 }, 'pulses/min', FR.numbers)).toBe('0,5 impulsions/min');
  expect(formatInterval({ low: 41, high: 41 }, 'count')).toBe('41 count');
  for (const { numbers } of OTHERS) expect(formatInterval({ low: 1, high: 1 }, 'rpm', numbers)).toBe('1 rpm');
});

test('a sum in another language: its figures with a comma, its parts in that language', () => {
  const sum = {
    code: 'sum-effect-time',
    params: {
      effect: 'E1.run-command',
      response: { low: 1.25, high: 1.75 },
      asked: { code: 'at-most-seconds', params: { within: 2.5 } },
      place: { code: 'wholly-inside', params: {} },
    },
  };
  expect(text(sum, { pack: DE })).toBe(
    'E1.run-command: 1,25 … 1,75 s, gegen höchstens 2,5 s: ganz innerhalb.',
  );
  expect(text(sum, { pack: FR })).toBe(
    'E1.run-command\u00a0: 1,25 … 1,75 s, face à 2,5 s au plus\u00a0: entièrement dedans.',
  );
});

test('terms: the same lists, no word empty, and no two outcomes or standings alike', () => {
  for (const pack of OTHERS)
    for (const [list, words] of Object.entries(EN.terms)) {
      const own = pack.terms[list as keyof typeof EN.terms] as Readonly<Record<string, string>>;
      expect(Object.keys(own).sort(), `${pack.language} ${list}`).toEqual(Object.keys(words).sort());
      expect(new Set(Object.values(own)).size, `${pack.language} ${list}`).toBe(Object.keys(words).length);
      for (const word of Object.values(own)) expect(word, `${pack.language} ${list}`).toMatch(/\p{L}/u);
    }
});

test('what was tested is called pass, fail, inconclusive or not tested, never broken or defective', () => {
  expect(DE.terms.outcomes).toEqual({
    pass: 'BESTANDEN',
    fail: 'NICHT BESTANDEN',
    inconclusive: 'NICHT ENTSCHEIDBAR',
    'not-tested': 'NICHT GEPRÜFT',
  });
  expect(ES.terms.outcomes).toEqual({
    pass: 'APTO',
    fail: 'NO APTO',
    inconclusive: 'NO CONCLUYENTE',
    'not-tested': 'NO ENSAYADO',
  });
  expect(FR.terms.outcomes).toEqual({
    pass: 'CONFORME',
    fail: 'NON CONFORME',
    inconclusive: 'NON CONCLUANT',
    'not-tested': 'NON ESSAYÉ',
  });
});

test('numbers take the comma where the language has one, and stay with the point where none is named', () => {
  for (const { numbers } of OTHERS) {
    expect(formatNumber(0.5, numbers)).toBe('0,5');
    expect(formatInterval(INTERVAL, 'degC', numbers)).toBe('81,56 … 82,49 °C');
    expect(formatBand({ low: -1.5, high: 3 }, '%', numbers)).toBe('-1,5 … 3 %');
    expect(formatSeconds(2.25, numbers)).toBe('2,25 s');
    expect(formatFixed(-0.04, 1, numbers)).toBe('0,0');
    expect(formatNumber(1e-9, numbers)).toBe('1,00e-9');
  }
  expect(formatInterval(INTERVAL, 'degC')).toBe('81.56 … 82.49 °C');
  expect(formatInterval({ low: 0.8, high: Number.POSITIVE_INFINITY }, 's', DE.numbers)).toBe(
    'mindestens 0,800 s',
  );
  expect(formatInterval({ low: Number.NEGATIVE_INFINITY, high: 2 }, 's', ES.numbers)).toBe(
    'como máximo 2,000 s',
  );
  expect(formatInterval(JSON.parse('{"low":null,"high":null}'), '', FR.numbers)).toBe('non connu');
  expect(formatNumber(Number.NaN, FR.numbers)).toBe('inconnu');
});

test('a sentence in each language, with its own numbers and words for what is missing', () => {
  const reason = {
    code: 'effect-time-undecided',
    params: { effect: 'E1.run-command', within: 1.5, response: { low: 1.25, high: 1.75 }, poll: 0.1 },
  };
  expect(text(reason, { pack: DE })).toBe(
    'Ob E1.run-command innerhalb von 1,5 s kam, ist nicht zu entscheiden: 1,25 … 1,75 s. Schneller abfragen als alle 0,1 s oder einen scharfen Sprung machen.',
  );
  expect(text(reason, { pack: ES })).toBe(
    'No se puede decidir si E1.run-command llegó dentro de 1,5 s: 1,25 … 1,75 s. Leer más a menudo que cada 0,1 s, o hacer un escalón brusco.',
  );
  expect(text(reason, { pack: FR })).toBe(
    'On ne peut décider si E1.run-command est venu en 1,5 s\u00a0: 1,25 … 1,75 s. Lire plus souvent que toutes les 0,1 s, ou faire un échelon franc.',
  );
  expect(text({ code: 'normal-unknown', params: {} }, { pack: DE })).toContain('von nicht bekannt');
  expect(
    text({ code: 'gap-never', params: { interlock: 'E1.x', segments: ['sensor', 'horn'] } }, { pack: FR }),
  ).toBe('De E1.x, personne n’a prouvé\u00a0: capteur, avertisseur entendu.');
});

test('what only the command line shows is told in English in every language, and nothing of it is translated', () => {
  const own = Object.keys(CATALOGUE).filter((code) => !Object.hasOwn(EN.texts, code));
  expect(own).toContain('probe-name-found');
  expect(own).toContain('entry-altered');
  for (const pack of OTHERS) {
    expect(own.filter((code) => Object.hasOwn(pack.texts, code))).toEqual([]);
    expect(text({ code: 'probe-name-unknown-next', params: {} }, { pack })).toMatch(/^Check the spelling/);
    expect(sentence({ code: 'probe-name-unknown-next', params: {} }, pack)).toBe('probe-name-unknown-next');
  }
});

test('in French no line is broken before a mark that stands apart', () => {
  for (const code of CODES)
    expect(FR.texts[code], where(FR, code)).not.toMatch(/ [:;?!»]|« |[^\s\u00a0][;?!]/);
});
