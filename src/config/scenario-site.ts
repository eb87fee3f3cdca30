import { unitsOf } from '../measure/index.ts';
import type { Fault, Place, Tell } from './fault.ts';
import { PackFile } from './pack-schema.ts';
import { type Pack, packOf, type Role } from './packs.ts';
import { resolvePath } from './paths.ts';
import { headOf, type Piece, partsOf, type Sentence } from './scenario-text.ts';
import { walk } from './walk.ts';
import { readYaml } from './yaml-tree.ts';

/** `machine E1: rules/bucket-elevator.yaml` and the lines that belong to it. */
export interface MachineLines {
  readonly name: Piece;
  readonly rules: Piece;
  readonly lines: readonly Sentence[];
}

/** A line of the site that is made of the machines, and the place in the scenario that it comes from. */
interface Made {
  readonly text: string;
  readonly place: Place;
}

export interface MadeSite {
  readonly text: string;
  /** A fault of the made site, told where its cause stands in the scenario. */
  readonly home: (fault: Fault) => Fault;
}

/** A scenario's own fields; everything else goes into the machine as a site has it. */
const OWN = new Set(['nameplate', 'normal', 'without', 'tag', 'set', 'fed-by']);

const RESOLUTION = 0.1;

const silent: Tell = () => undefined;

const packAt = (files: ReadonlyMap<string, string>, main: string, rules: Piece): Pack | undefined => {
  const path = resolvePath(main, rules.text);
  const text = files.get(path);
  const tree = text === undefined ? undefined : readYaml(text, path, silent);
  // Faults of the pack are told when the site is read.
  return tree === undefined || walk(PackFile, tree, tree.place, silent) === undefined
    ? undefined
    : packOf(tree, silent);
};

const quoted = (text: string): string => JSON.stringify(text);

/** Lists behind a key of a machine: `nameplate: shaft-speed 96 rpm, head-speed 96 rpm`. */
const pairs = (machine: MachineLines, key: string): readonly { role: Piece; value: Piece }[] =>
  machine.lines
    .filter((line) => line.key.text === key)
    .flatMap((line) => partsOf(line.value, ','))
    .map((piece) => {
      const { head, rest } = headOf(piece);
      return { role: head, value: rest };
    });

const tagFields = (
  role: Role,
  own: readonly { role: Piece; value: Piece }[],
): ReadonlyMap<string, Piece | string> => {
  const fields = new Map<string, Piece | string>();
  const kind = role.kinds[0];
  for (const { role: name, value } of own) {
    if (name.text !== role.name) continue;
    const { head, rest } = headOf(value);
    fields.set(head.text, rest);
  }
  if (kind !== undefined && kind !== 'count') {
    const unit = fields.get('unit') ?? unitsOf(kind)[0] ?? '';
    fields.set('unit', unit);
    const text = typeof unit === 'string' ? unit : unit.text;
    if (!fields.has('resolution')) fields.set('resolution', `${RESOLUTION} ${text}`);
  }
  const wired = role.states.length > 0 && (role.purpose === 'contact' || role.purpose === 'raw');
  if (wired && !fields.has('healthy')) fields.set('healthy', 'open');
  return fields;
};

const tagLines = (name: string, fields: ReadonlyMap<string, Piece | string>, place: Place): Made[] => [
  { text: `  ${quoted(name)}:`, place },
  { text: '    source: scenario', place },
  ...[...fields].map(([key, value]): Made => {
    const [text, at] = typeof value === 'string' ? [value, place] : [value.text, value.place];
    return { text: `    ${key}: ${text.startsWith('[') ? text : quoted(text)}`, place: at };
  }),
];

/** Normal that a scenario says: a value, `learned`, or `from tag` (which makes a line ROLE.normal). */
const normalText = (machine: MachineLines, role: Piece, value: Piece): string => {
  if (value.text === 'learned') return 'learned';
  if (value.text === 'from tag') return `{ tag: ${quoted(`${machine.name.text}.${role.text}.normal`)} }`;
  const [declared, tolerance] = value.text.split('±').map((text) => text.trim());
  return tolerance === undefined
    ? `{ declared: ${quoted(declared ?? '')} }`
    : `{ declared: ${quoted(declared ?? '')}, tolerance: ${quoted(tolerance)} }`;
};

const normalLines = (machine: MachineLines): Made[] => {
  const said = pairs(machine, 'normal');
  const plates = pairs(machine, 'nameplate').filter(
    ({ role }) => !said.some((one) => one.role.text === role.text),
  );
  const all = [...said, ...plates];
  if (all.length === 0) return [];
  return [
    { text: '    normal:', place: machine.name.place },
    ...all.map(({ role, value }) => ({
      text: `      ${quoted(role.text)}: ${normalText(machine, role, value)}`,
      place: role.place,
    })),
  ];
};

const mapLines = (machine: MachineLines, key: string): Made[] => {
  const said = pairs(machine, key);
  if (said.length === 0) return [];
  return [
    { text: `    ${key}:`, place: said[0]?.role.place ?? machine.name.place },
    ...said.map(({ role, value }) => ({
      text: `      ${quoted(role.text)}: ${value.text.startsWith('[') ? value.text : quoted(value.text)}`,
      place: value.place,
    })),
  ];
};

const machineLines = (machine: MachineLines, kind: string): Made[] => {
  const fed = pairs(machine, 'fed-by').map(({ role }) => quoted(role.text));
  const other = machine.lines.filter((line) => !OWN.has(line.key.text));
  return [
    { text: `  ${quoted(machine.name.text)}:`, place: machine.name.place },
    { text: `    kind: ${quoted(kind)}`, place: machine.rules.place },
    ...mapLines(machine, 'nameplate'),
    ...normalLines(machine),
    ...mapLines(machine, 'set'),
    ...(fed.length === 0 ? [] : [{ text: `    fed-by: [${fed.join(', ')}]`, place: machine.name.place }]),
    ...other.map((line) => ({ text: `    ${line.key.text}: ${line.value.text}`, place: line.key.place })),
  ];
};

export interface MadeOptions {
  readonly scan: string;
  readonly agedAfter: string;
  readonly oneAnswer: boolean;
}

/** A site of the machines of a scenario: every role of its pack has a tag, unless the machine is `without` it. */
export const makeSite = (
  machines: readonly MachineLines[],
  files: ReadonlyMap<string, string>,
  main: string,
  options: MadeOptions,
  tell: Tell,
): MadeSite => {
  const top = machines[0]?.name.place ?? { file: main, line: 1, column: 1 };
  const tags: Made[] = [];
  const bodies: Made[] = [];
  for (const machine of machines) {
    const pack = packAt(files, main, machine.rules);
    const without = pairs(machine, 'without').map(({ role }) => role);
    for (const role of without) {
      if (pack !== undefined && !pack.roles.has(role.text))
        tell(role.place, 'unknown-role', { role: role.text, kind: pack.kind, known: [...pack.roles.keys()] });
    }
    for (const role of pack?.roles.values() ?? []) {
      if (role.derivation !== undefined || without.some(({ text }) => text === role.name)) continue;
      const fields = tagFields(role, pairs(machine, 'tag'));
      tags.push(...tagLines(`${machine.name.text}.${role.name}`, fields, machine.name.place));
    }
    for (const { role, value } of pairs(machine, 'normal')) {
      const own = pack?.roles.get(role.text);
      if (value.text !== 'from tag' || own === undefined) continue;
      const fields = tagFields(own, pairs(machine, 'tag'));
      tags.push(...tagLines(`${machine.name.text}.${role.text}.normal`, fields, role.place));
    }
    bodies.push(...machineLines(machine, pack?.kind ?? machine.rules.text));
  }
  const rules = new Map(machines.map(({ rules: one }) => [one.text, one.place]));
  const at = (text: string): Made => ({ text, place: top });
  const made: Made[] = [
    at('site: scenario'),
    at('sources:'),
    at(
      `  scenario: { protocol: trace, scan: ${options.scan}, scan-consistent: ${options.oneAnswer}, aged-after: ${options.agedAfter} }`,
    ),
    at('rules:'),
    ...[...rules].map(([text, place]) => ({ text: `  - ${quoted(text)}`, place })),
    at('tags:'),
    ...tags,
    at('machines:'),
    ...bodies,
  ];
  return {
    text: `${made.map(({ text }) => text).join('\n')}\n`,
    home: (fault) => {
      const place = made[fault.line - 1]?.place;
      return place === undefined ? fault : { ...fault, ...place };
    },
  };
};
