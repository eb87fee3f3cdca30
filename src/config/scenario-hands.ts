import { instant, MILLISECOND, type Micros } from '../measure/index.ts';
import type { Play } from '../rehearse/index.ts';
import { MARK_ATTESTATIONS } from './marks-schema.ts';
import { interlockNamed, machineNamed, type ScenarioDesk, signalNamed } from './scenario-desk.ts';
import { type Piece, pieceAt } from './scenario-text.ts';
import { timeOf, valueFor } from './scenario-values.ts';
import { nearest } from './suggest.ts';

type Mark = Play['marks'][number];
type Covers = Play['covers'];

/** What people did: marks, and buttons under their fingers. */
export interface Hands {
  readonly marks: readonly Mark[];
  readonly covers: Covers;
}

const NOTHING: Hands = { marks: [], covers: [] };
const PRESS: Micros = 400 * MILLISECOND;
const SOMEBODY = 'tester';

interface Form {
  readonly shape: RegExp;
  readonly read: (desk: ScenarioDesk, at: Micros, part: (group: number) => Piece) => Hands | undefined;
}

const marked = (mark: Mark | undefined): Hands =>
  mark === undefined ? NOTHING : { marks: [mark], covers: [] };

const press = (desk: ScenarioDesk, at: Micros, part: (group: number) => Piece): Hands => {
  const role = part(1);
  const machine = part(2);
  const signal = signalNamed(desk, { ...role, text: `${machine.text}.${role.text}` });
  const lasts = part(3).text === '' ? PRESS : timeOf(desk, part(3));
  if (signal === undefined || lasts === undefined) return NOTHING;
  const cover = {
    signal: signal.id,
    from: at,
    until: at + lasts,
    what: { kind: 'value', value: 1 },
  } as const;
  return { marks: [], covers: [cover] };
};

const attest = (desk: ScenarioDesk, at: Micros, part: (group: number) => Piece): Hands => {
  const what = MARK_ATTESTATIONS.find((one) => one === part(1).text);
  if (what === undefined) {
    const word = part(1).text;
    desk.tell(
      part(1).place,
      'unknown-word',
      { word, known: [...MARK_ATTESTATIONS] },
      nearest(word, MARK_ATTESTATIONS),
    );
  }
  const machine = machineNamed(desk, part(2));
  if (what === undefined || machine === undefined) return NOTHING;
  const by = part(3).text || SOMEBODY;
  return marked({ code: 'attested', at: instant(at), by, machine: machine.index, what });
};

const OF_INTERLOCK = { adjusted: 'adjusted', aborted: 'trial-aborted', bypassed: 'bypassed' } as const;

const ofInterlock = (desk: ScenarioDesk, at: Micros, part: (group: number) => Piece): Hands => {
  const code = OF_INTERLOCK[part(1).text as keyof typeof OF_INTERLOCK];
  const interlock = interlockNamed(desk, part(2));
  if (interlock === undefined) return NOTHING;
  const by = part(3).text || SOMEBODY;
  return marked({ code, at: instant(at), by, interlock: interlock.id, text: '' });
};

/** `66.1 degC ± 0.3 degC`: what an instrument at the sensor showed, in the unit of the cause. */
const observed = (desk: ScenarioDesk, at: Micros, part: (group: number) => Piece): Hands => {
  const interlock = interlockNamed(desk, part(3));
  const signal = desk.book.signals[interlock?.cause.signal ?? -1];
  if (interlock === undefined || signal === undefined) return NOTHING;
  const value = valueFor(desk, part(1), signal);
  const doubt = part(2).text === '' ? 0 : valueFor(desk, part(2), signal, true);
  if (value === undefined || doubt === undefined) return NOTHING;
  return marked({
    code: 'observed',
    at: instant(at),
    by: part(4).text || SOMEBODY,
    interlock: interlock.id,
    value: { low: value - doubt, high: value + doubt },
    instrument: 'field instrument',
  });
};

const FORMS: readonly Form[] = [
  { shape: /^observed\s+(.+?)(?:\s*±\s*(.+?))?\s+on\s+(\S+)(?:\s+by\s+(.+))?$/, read: observed },
  { shape: /^press\s+(\S+)\s+on\s+(\S+)(?:\s+for\s+(.+))?$/, read: press },
  { shape: /^attest\s+(\S+)\s+on\s+(\S+)(?:\s+by\s+(.+))?$/, read: attest },
  { shape: /^(adjusted|aborted|bypassed)\s+(\S+)(?:\s+by\s+(.+))?$/, read: ofInterlock },
  {
    shape: /^now\s+(.+)$/,
    read: (_desk, at, part) => marked({ code: 'now', at: instant(at), by: SOMEBODY, text: part(1).text }),
  },
  {
    shape: /^clock\s+stepped\s+by\s+(.+)$/,
    read: (desk, at, part) => {
      const by = timeOf(desk, part(1));
      return marked(by === undefined ? undefined : { code: 'clock-stepped', at: instant(at), by });
    },
  },
  {
    shape: /^interrupted\s+since\s+(.+)$/,
    read: (desk, at, part) => {
      const from = timeOf(desk, part(1));
      return marked(
        from === undefined ? undefined : { code: 'interrupted', at: instant(at), from: instant(from) },
      );
    },
  },
  {
    shape: /^revision\s+of\s+(\S+)\s+is\s+(.+)$/,
    read: (desk, at, part) => {
      const machine = machineNamed(desk, part(1));
      const text = part(2).text;
      return marked(
        machine && { code: 'revision', at: instant(at), machine: machine.index, text, quality: 'typed' },
      );
    },
  },
];

/** `at 31 s: press reset on E1`: what a person does or says, or what befalls the recording. */
export const handsLine = (desk: ScenarioDesk, time: Piece, value: Piece): Hands => {
  const at = timeOf(desk, time);
  for (const { shape, read } of FORMS) {
    const found = shape.exec(value.text);
    if (found === null) continue;
    const part = (group: number): Piece => {
      const text = found[group] ?? '';
      return pieceAt(value, Math.max(0, value.text.indexOf(text)), text);
    };
    return at === undefined ? NOTHING : (read(desk, at, part) ?? NOTHING);
  }
  desk.tell(value.place, 'scenario-hand', { text: value.text });
  return NOTHING;
};
