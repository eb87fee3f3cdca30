import type { Micros, SignalId } from '../measure/index.ts';
import {
  type Acting,
  type Expectation,
  healthyLine,
  type Line,
  type Play,
  type Scenario,
} from '../rehearse/index.ts';
import type { Book } from '../rulebook/index.ts';
import { type Fault, inOrder, type Place, type Tell, teller } from './fault.ts';
import { MARK_METHODS } from './marks-schema.ts';
import { resolvePath } from './paths.ts';
import { interlockNamed, type ScenarioDesk, signalNamed } from './scenario-desk.ts';
import { expectLine } from './scenario-expect.ts';
import { type Hands, handsLine } from './scenario-hands.ts';
import { outages, signalLine } from './scenario-signal.ts';
import { type MachineLines, makeSite } from './scenario-site.ts';
import { headOf, type Piece, partsOf, pieceAt, type Sentence, sentencesOf } from './scenario-text.ts';
import { timeOf } from './scenario-values.ts';
import { filesWanted, readSite } from './site.ts';
import { nearest } from './suggest.ts';

export type ScenarioRead = { readonly scenario: Scenario } | { readonly faults: readonly Fault[] };

/** Keys of a scenario beside the names of its signals. */
const KEYS = [
  'scenario',
  'site',
  'machine',
  'poll',
  'lasts',
  'window',
  'method',
  'proves',
  'acts',
  'all',
  'at',
  'expect',
];

interface Sorted {
  readonly one: ReadonlyMap<string, Sentence>;
  readonly machines: readonly MachineLines[];
  readonly rest: readonly Sentence[];
}

const SINGLE = new Set(['scenario', 'site', 'poll', 'lasts', 'window']);

/** Lines by what they are about; indented ones go to their machine. */
const sorted = (sentences: readonly Sentence[], tell: Tell): Sorted => {
  const one = new Map<string, Sentence>();
  const machines: (MachineLines & { lines: Sentence[] })[] = [];
  const rest: Sentence[] = [];
  for (const sentence of sentences) {
    const { head, rest: behind } = headOf(sentence.key);
    const machine = machines.at(-1);
    if (sentence.indented) {
      if (machine === undefined || rest.length > 0)
        tell(sentence.key.place, 'scenario-indented', { text: sentence.key.text });
      else machine.lines.push(sentence);
    } else if (head.text === 'machine') machines.push({ name: behind, rules: sentence.value, lines: [] });
    else if (!SINGLE.has(sentence.key.text)) rest.push(sentence);
    else if (one.has(sentence.key.text))
      tell(sentence.key.place, 'duplicate-key', { word: sentence.key.text });
    else one.set(sentence.key.text, sentence);
  }
  return { one, machines, rest };
};

interface Reading {
  readonly every: Micros;
  readonly phase: Micros;
  readonly age: Micros;
  readonly scan: Micros;
  readonly agedAfter: Micros;
  readonly oneAnswer: boolean;
}

const READING: Reading = {
  every: 100_000,
  phase: 0,
  age: 0,
  scan: 0,
  agedAfter: 2_000_000,
  oneAnswer: false,
};
const READING_WORDS = {
  every: 'every',
  at: 'phase',
  age: 'age',
  scan: 'scan',
  'aged after': 'agedAfter',
} as const;

/** `every 100 ms, at 37 ms, age 50 ms, scan 20 ms, aged after 1 s, one answer` */
const readingOf = (value: Piece | undefined, tell: Tell): Reading => {
  const read: { -readonly [K in keyof Reading]: Reading[K] } = { ...READING };
  for (const piece of value === undefined ? [] : partsOf(value, ',')) {
    const found = /^(every|at|age|scan|aged after)\s+(.+)$/.exec(piece.text);
    if (found === null) {
      if (piece.text === 'one answer') read.oneAnswer = true;
      else tell(piece.place, 'scenario-poll', { text: piece.text });
      continue;
    }
    const word = READING_WORDS[(found[1] ?? 'every') as keyof typeof READING_WORDS];
    const time = timeOf({ tell }, { text: found[2] ?? '', place: piece.place });
    if (time !== undefined) read[word] = time;
  }
  if (read.every <= 0)
    tell(value?.place ?? { file: '', line: 1, column: 1 }, 'scenario-poll', { text: value?.text ?? '' });
  return read;
};

/** Files that a scenario needs beyond those at hand: its site or rules, and what the site names. Empty: all there. */
export const scenarioFilesWanted = (files: ReadonlyMap<string, string>, main: string): readonly string[] => {
  const silent: Tell = () => undefined;
  const { one, machines } = sorted(sentencesOf(files.get(main) ?? '', main, silent), silent);
  const site = one.get('site')?.value.text;
  const path = site === undefined ? undefined : resolvePath(main, site);
  const own = path === undefined ? machines.map(({ rules }) => resolvePath(main, rules.text)) : [path];
  const more = path === undefined ? [] : filesWanted(files.get(path) ?? '', path);
  return [...new Set([...own, ...more])].filter((wanted) => !files.has(wanted));
};

interface Opened {
  readonly book: Book;
}

const bookOf = (
  files: ReadonlyMap<string, string>,
  main: string,
  text: Sorted,
  reading: Reading,
  faults: Fault[],
): Opened | undefined => {
  const tell = teller(faults);
  const site = text.one.get('site');
  if (site !== undefined && text.machines.length > 0) tell(site.key.place, 'scenario-site-or-machine');
  if (site !== undefined) {
    const path = resolvePath(main, site.value.text);
    if (!files.has(path)) {
      tell(site.value.place, 'file-missing', { path: site.value.text });
      return undefined;
    }
    const read = readSite(files, path);
    if ('book' in read) return read;
    faults.push(...read.faults);
    return undefined;
  }
  if (text.machines.length === 0) {
    tell({ file: main, line: 1, column: 1 }, 'scenario-about-nothing');
    return undefined;
  }
  for (const { rules } of text.machines) {
    if (!files.has(resolvePath(main, rules.text))) tell(rules.place, 'file-missing', { path: rules.text });
  }
  if (faults.length > 0) return undefined;
  const name = `${main}.site`;
  const us = (micros: Micros): string => `${micros / 1_000} ms`;
  const options = { scan: us(reading.age), agedAfter: us(reading.agedAfter), oneAnswer: reading.oneAnswer };
  const made = makeSite(text.machines, files, main, options, tell);
  const read = readSite(new Map([...files, [name, made.text]]), name);
  if ('book' in read) return read;
  faults.push(...read.faults.map((fault) => (fault.file === name ? made.home(fault) : fault)));
  return undefined;
};

interface Script {
  readonly lines: Map<SignalId, Line>;
  readonly acting: Acting[];
  readonly covers: Play['covers'][number][];
  readonly marks: Play['marks'][number][];
  readonly expectations: Expectation[];
  readonly methods: Map<string, Play['stimuli'][number]['method']>;
  readonly proves: Piece[];
}

const ACTS = /^(\S+)\s+(?:from|at)\s+(.+)$/;
const ACTS_LATER = /^(clears|reset|start)\s+at\s+(.+)$/;

/** `acts: E1.underspeed-stop from 27.4 s, clears at 33 s, reset at 36 s, start at 38 s` */
const actsLine = (desk: ScenarioDesk, value: Piece): readonly Acting[] => {
  const [first, ...rest] = partsOf(value, ',');
  const found = ACTS.exec(first?.text ?? '');
  const later = rest.map((piece) => ({ piece, found: ACTS_LATER.exec(piece.text) }));
  const wrong = found === null ? first : later.find((one) => one.found === null)?.piece;
  if (first === undefined || found === null || wrong !== undefined) {
    desk.tell((wrong ?? value).place, 'scenario-acts', { text: (wrong ?? value).text });
    return [];
  }
  const interlock = interlockNamed(desk, pieceAt(first, 0, found[1] ?? ''));
  const from = timeOf(desk, pieceAt(first, first.text.indexOf(found[2] ?? ''), found[2] ?? ''));
  const times = later.map((one) => {
    const text = one.found?.[2] ?? '';
    return [one.found?.[1], timeOf(desk, pieceAt(one.piece, one.piece.text.indexOf(text), text))];
  });
  if (interlock === undefined || from === undefined) return [];
  return [
    {
      interlock: interlock.id,
      from,
      ...(Object.fromEntries(times) as Pick<Acting, 'clears' | 'reset' | 'start'>),
    },
  ];
};

const methodLine = (desk: ScenarioDesk, whom: Piece, value: Piece, into: Script): void => {
  const found = MARK_METHODS.find((one) => one === value.text);
  const word = value.text;
  if (found === undefined)
    desk.tell(value.place, 'unknown-word', { word, known: [...MARK_METHODS] }, nearest(word, MARK_METHODS));
  const name = whom.text === '' ? '' : interlockNamed(desk, whom)?.name;
  if (found !== undefined && name !== undefined) into.methods.set(name, found);
};

const addHands = (into: Script, hands: Hands): void => {
  into.marks.push(...hands.marks);
  into.covers.push(...hands.covers);
};

const signalSentence = (desk: ScenarioDesk, { key, value }: Sentence, into: Script): void => {
  const near = nearest(headOf(key).head.text, KEYS);
  if (/\s/.test(key.text) || (near !== undefined && !key.text.includes('.') && near[0] === key.text[0])) {
    const known = Object.values(desk.book.machines).flatMap(({ roles }) => Object.keys(roles));
    if (!known.includes(key.text)) {
      desk.tell(key.place, 'unknown-key', { key: key.text, known: KEYS }, near);
      return;
    }
  }
  const signal = signalNamed(desk, key);
  if (signal === undefined) return;
  if (into.lines.has(signal.id)) desk.tell(key.place, 'duplicate-key', { word: key.text });
  into.lines.set(signal.id, signalLine(desk, value, signal, healthyLine(desk.book, signal.id)));
};

const sentence = (desk: ScenarioDesk, said: Sentence, into: Script): void => {
  const { head, rest } = headOf(said.key);
  const bare = rest.text === '';
  if (head.text === 'expect') into.expectations.push(...expectLine(desk, rest, said.value));
  else if (head.text === 'at' && !bare) addHands(into, handsLine(desk, rest, said.value));
  else if (head.text === 'method') methodLine(desk, rest, said.value, into);
  else if (bare && head.text === 'all') into.covers.push(...outages(desk, said.value));
  else if (bare && head.text === 'acts') into.acting.push(...actsLine(desk, said.value));
  else if (bare && head.text === 'proves') into.proves.push(...partsOf(said.value, ','));
  else signalSentence(desk, said, into);
};

const windowOf = (desk: ScenarioDesk, value: Piece | undefined): Play['window'] => {
  if (value === undefined || value.text === 'whole') return {};
  if (value.text === 'none') return undefined;
  const found = /^from\s+(.+?)(?:\s+to\s+(.+))?$/.exec(value.text);
  if (found === null) desk.tell(value.place, 'scenario-window', { text: value.text });
  const time = (text: string | undefined): Micros | undefined =>
    text === undefined ? undefined : timeOf(desk, { text, place: value.place });
  const [from, until] = [time(found?.[1]), time(found?.[2])];
  return { ...(from !== undefined && { from }), ...(until !== undefined && { until }) };
};

/** In the window are the interlocks that the scenario proves, else those of which it expects something. */
const stimuliOf = (desk: ScenarioDesk, script: Script): Play['stimuli'] => {
  const named = script.proves.flatMap((piece) => interlockNamed(desk, piece)?.id ?? []);
  const expected = script.expectations.flatMap(({ interlock }) => interlock ?? []);
  const ids = new Set(named.length > 0 ? named : expected);
  return [...ids].map((interlock) => {
    const name = desk.book.interlocks[interlock]?.name ?? '';
    return { interlock, method: script.methods.get(name) ?? script.methods.get('') ?? 'unstated' };
  });
};

const MINUTE = 60_000_000;

const scenarioOf = (book: Book, text: Sorted, reading: Reading, top: Place, tell: Tell): Scenario => {
  const desk: ScenarioDesk = { book, tell };
  const script: Script = {
    lines: new Map(),
    acting: [],
    covers: [],
    marks: [],
    expectations: [],
    methods: new Map(),
    proves: [],
  };
  for (const said of text.rest) sentence(desk, said, script);
  const expects = text.rest.some(({ key }) => headOf(key).head.text === 'expect');
  if (!expects) tell(top, 'scenario-expects-nothing');
  const lasts = text.one.get('lasts')?.value;
  const window = windowOf(desk, text.one.get('window')?.value);
  const { agedAfter: _, ...polling } = reading;
  return {
    title: text.one.get('scenario')?.value.text ?? '',
    play: {
      book,
      polling,
      lasts: (lasts === undefined ? undefined : timeOf(desk, lasts)) ?? MINUTE,
      lines: [...script.lines.values()],
      acting: script.acting,
      covers: script.covers,
      marks: script.marks,
      ...(window !== undefined && { window }),
      stimuli: stimuliOf(desk, script),
    },
    expectations: script.expectations,
  };
};

/**
 * Reads a scenario: lines `key: value` about a site or some machines, signals over time, hands, and what must come
 * out. `files` holds the scenario and what `scenarioFilesWanted` named. All faults come at once.
 */
export const readScenario = (files: ReadonlyMap<string, string>, main: string): ScenarioRead => {
  const faults: Fault[] = [];
  const tell = teller(faults);
  const top = { file: main, line: 1, column: 1 };
  const sentences = sentencesOf(files.get(main) ?? '', main, tell);
  const text = sorted(sentences, tell);
  if (!text.one.has('scenario')) tell(top, 'missing-key', { key: 'scenario' });
  const reading = readingOf(text.one.get('poll')?.value, tell);
  const opened = bookOf(files, main, text, reading, faults);
  const scenario = opened && scenarioOf(opened.book, text, reading, top, tell);
  return scenario === undefined || faults.length > 0 ? { faults: inOrder(faults) } : { scenario };
};
