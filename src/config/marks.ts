import type { Instant, Interval } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import { type Fault, inOrder, type Place, type Tell, teller } from './fault.ts';
import { type MARK_ATTESTATIONS, type MARK_METHODS, MarksFile, type MarkText } from './marks-schema.ts';
import { observedValue } from './observed.ts';
import { nearest } from './suggest.ts';
import { traceTime } from './trace-time.ts';
import { placeAt, type Tree, valueAt } from './tree.ts';
import { type Loose, walk } from './walk.ts';
import { readYaml } from './yaml-tree.ts';

type Method = (typeof MARK_METHODS)[number];

/** What people did beside a trace. Each is a mark of the judge, field by field. */
export type TraceMark =
  | {
      readonly code: 'window-opened';
      readonly at: Instant;
      readonly window: string;
      readonly stimuli: readonly { readonly interlock: InterlockId; readonly method: Method }[];
    }
  | { readonly code: 'window-closed'; readonly at: Instant }
  | { readonly code: 'now'; readonly at: Instant; readonly by: string; readonly text: string }
  | {
      readonly code: 'attested';
      readonly at: Instant;
      readonly by: string;
      readonly machine: number;
      readonly what: (typeof MARK_ATTESTATIONS)[number];
      readonly where?: string;
    }
  | {
      readonly code: 'observed';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      /** In the unit of the cause's signal. */
      readonly value: Interval;
      readonly instrument: string;
    }
  | {
      readonly code: 'earlier-normal';
      readonly at: Instant;
      readonly interlock: InterlockId;
      readonly value: Interval;
      readonly window: string;
    }
  | {
      readonly code: 'adjusted' | 'trial-aborted' | 'bypassed';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      readonly text: string;
    }
  | {
      readonly code: 'revision';
      readonly at: Instant;
      readonly machine: number;
      readonly text: string;
      readonly quality: 'tag' | 'typed';
    };

interface Reader {
  readonly book: Book;
  readonly tell: Tell;
  readonly place: (field: string) => Place;
}

const interlockOf = (reader: Reader, name: string | undefined, place: Place): InterlockId | undefined => {
  if (name === undefined) return undefined;
  const found = reader.book.interlocks.find((interlock) => interlock.name === name);
  const known = reader.book.interlocks.map((interlock) => interlock.name);
  if (found === undefined)
    reader.tell(place, 'unknown-interlock', { interlock: name, known }, nearest(name, known));
  return found?.id;
};

const machineOf = (reader: Reader, name: string | undefined): number | undefined => {
  if (name === undefined) return undefined;
  const found = reader.book.machines.find((machine) => machine.name === name);
  const known = reader.book.machines.map((machine) => machine.name);
  if (found === undefined)
    reader.tell(reader.place('machine'), 'unknown-machine', { machine: name }, nearest(name, known));
  return found?.index;
};

const timeOf = (reader: Reader, tree: Tree): Instant | undefined => {
  const at = valueAt(tree, ['at']);
  if (at?.kind !== 'scalar') return undefined;
  const time = traceTime(at.text);
  if (time === undefined) reader.tell(at.place, 'trace-time', { text: at.text });
  return time;
};

/** A mark as the judge takes it; undefined where something is missing (and has been told). */
const markOf = (reader: Reader, text: Loose<MarkText>, tree: Tree): TraceMark | undefined => {
  const at = timeOf(reader, tree);
  if (at === undefined) return undefined;
  switch (text.mark) {
    case 'window-opened': {
      const stimuli = Object.entries(text.stimuli ?? {}).flatMap(([name, method]) => {
        const interlock = interlockOf(reader, name, placeAt(tree, ['stimuli', name], 'key'));
        return interlock === undefined || method === undefined
          ? []
          : [{ interlock, method: method as Method }];
      });
      return { code: text.mark, at, window: text.window ?? 'imported', stimuli };
    }
    case 'window-closed':
      return { code: text.mark, at };
    case 'now':
      return { code: text.mark, at, by: text.by ?? '', text: text.text ?? '' };
    case 'attested': {
      const machine = machineOf(reader, text.machine);
      if (machine === undefined || text.what === undefined) return undefined;
      const { by = '', what, where } = text;
      return { code: text.mark, at, by, machine, what, ...(where !== undefined && { where }) };
    }
    case 'revision': {
      const machine = machineOf(reader, text.machine);
      if (machine === undefined) return undefined;
      return { code: text.mark, at, machine, text: text.text ?? '', quality: text.quality ?? 'typed' };
    }
    case 'observed': {
      const interlock = interlockOf(reader, text.interlock, reader.place('interlock'));
      const value = observedValue(text, tree, reader.book, interlock, reader.tell);
      if (interlock === undefined || value === undefined) return undefined;
      const { by = '', instrument = '' } = text;
      return { code: text.mark, at, by, interlock, value, instrument };
    }
    case 'earlier-normal': {
      const interlock = interlockOf(reader, text.interlock, reader.place('interlock'));
      const value = observedValue(text, tree, reader.book, interlock, reader.tell);
      if (interlock === undefined || value === undefined) return undefined;
      return { code: text.mark, at, interlock, value, window: text.window ?? '' };
    }
    case 'adjusted':
    case 'trial-aborted':
    case 'bypassed': {
      const interlock = interlockOf(reader, text.interlock, reader.place('interlock'));
      return interlock === undefined
        ? undefined
        : { code: text.mark, at, by: text.by ?? '', interlock, text: text.text ?? '' };
    }
    default:
      return undefined;
  }
};

export type MarksRead = { readonly marks: readonly TraceMark[] } | { readonly faults: readonly Fault[] };

/**
 * Reads what people did beside a trace: a YAML file with a list `marks:`, each with `at:`, `mark:` and what belongs
 * to it. In order of time, equal times as they stand.
 */
export const readMarks = (text: string, book: Book, file = 'marks.yaml'): MarksRead => {
  const faults: Fault[] = [];
  const tell = teller(faults);
  const tree = readYaml(text, file, tell);
  if (tree === undefined) return { faults: inOrder(faults) };
  const read = walk(MarksFile, tree, tree.place, tell) as
    | { marks?: readonly (Loose<MarkText> | undefined)[] }
    | undefined;
  const marks = (read?.marks ?? []).flatMap((mark, index) => {
    const own = valueAt(tree, ['marks', index]);
    if (mark === undefined || own === undefined) return [];
    return markOf({ book, tell, place: (field) => placeAt(own, [field]) }, mark, own) ?? [];
  });
  if (faults.length > 0) return { faults: inOrder(faults) };
  return { marks: marks.sort((a, b) => a.at - b.at) };
};
