import { writeFile } from 'node:fs/promises';
import { addressForms } from '../../config/index.ts';
import type { BrowsedNode } from '../../field/index.ts';
import { isBits, type Line, type OpcUaAccess } from '../../signal/index.ts';
import { EXIT, Stop, say } from '../io.ts';
import type { Fit } from './expect.ts';
import { tagText } from './expect-text.ts';
import type { Asked } from './target.ts';

/** Never over a file that is there. */
export const writeNew = async (path: string, content: string): Promise<void> => {
  await writeFile(path, content, { flag: 'wx' }).catch((cause: unknown) => {
    const there = typeof cause === 'object' && cause !== null && 'code' in cause && cause.code === 'EEXIST';
    const why = there
      ? 'is there already; nothing is ever written over it. Name another file'
      : `cannot be written: ${String(cause)}`;
    throw new Stop(`${path} ${why}`, { exit: EXIT.io, cause });
  });
  say(`Wrote ${path}`);
};

const lineText = (line: Line): string[] => {
  if (line.kind === 'serial') {
    return [
      'protocol: modbus-rtu',
      `path: ${JSON.stringify(line.path)}`,
      `baud: ${line.baud}`,
      `parity: ${line.parity}`,
      ...(line.stopBits === 2 ? ['stop-bits: 2'] : []),
    ];
  }
  const protocol = line.kind === 'tcp' ? 'modbus-tcp' : 'modbus-rtu-over-tcp';
  return [`protocol: ${protocol}`, `host: ${JSON.stringify(line.host)}`, `port: ${line.port}`];
};

const tagOf = (asked: Asked, fit: Fit | undefined): string => {
  if (fit !== undefined) return tagText(asked.table, fit);
  const { named } = addressForms(asked.table, asked.at);
  if (asked.bit !== undefined) return `address: ${named}.${asked.bit}`;
  return isBits(asked.table) ? `address: ${named}` : `address: ${named}, type: uint16, unit: count`;
};

const KNOWN = '# As the probe found it on the display: check it once more while the machine runs.';
const UNKNOWN =
  '# Type, order, scale and unit are not known yet: "count" stands for the bare number. Ask again with\n  # --expect "96 rpm" while the display shows that, and put what it says here.';

/** The head and the foot that every starting site has. */
export const siteText = (sources: readonly string[], tags: readonly string[]): string =>
  `${[
    '# A starting point. What the device does not tell is left to you: it is marked with "say".',
    'site: my-site # say: a short name',
    '',
    'sources:',
    ...sources,
    '',
    'tags:',
    ...tags,
    '',
    '# say: the machines, each of a kind that a rule file knows, with its roles bound to tags. For example',
    '#   machines:',
    '#     E1:',
    '#       kind: bucket-elevator',
    '#       nameplate: { shaft-speed: 96 rpm }',
    '#       roles: { shaft-speed: TAG }',
    '#   rules: [rules/bucket-elevator.yaml]',
    'machines: {}',
    'rules: []',
  ].join('\n')}\n`;

const sourceText = ({ line, unit }: Asked): string[] => [
  '  device1:',
  ...lineText(line).map((one) => `    ${one}`),
  `    unit: ${unit}`,
  '    poll: 100 ms # say: how often what interlocks need is asked',
  '    scan: 50 ms # say: the cycle of the controller; a value can be so old',
  '    # scan-consistent: true # say so only if all values of one answer are of one cycle',
];

export const writeStartingSite = async (path: string, asked: Asked, fit: Fit | undefined): Promise<void> => {
  const tags = [
    `  ${fit === undefined ? UNKNOWN : KNOWN}`,
    `  signal1: { source: device1, ${tagOf(asked, fit)} }`,
  ];
  await writeNew(path, siteText(sourceText(asked), tags));
  say(`Read it with: tripwitness check ${path}`);
};

const opcUaSource = (endpoint: string, { mode, policy, user }: OpcUaAccess): string[] => [
  '  server1:',
  '    protocol: opc-ua',
  `    endpoint: ${JSON.stringify(endpoint)}`,
  ...(mode === 'none' ? [] : [`    security: ${mode}`, `    policy: ${policy}`]),
  ...(user.kind === 'name'
    ? [`    user: ${JSON.stringify(user.name)}`, `    password-from: ${user.passwordFrom}`]
    : []),
  ...(user.kind === 'certificate'
    ? [
        `    user-certificate: ${JSON.stringify(user.certificate)}`,
        `    user-key: ${JSON.stringify(user.key)}`,
      ]
    : []),
  '    sampling: 100 ms # say: how often the server looks',
  '    publishing: 200 ms # say: how often it sends',
  '    scan: 50 ms # say: the cycle of the controller; a value can be so old',
];

/** Browse names as tags may be called; a name that comes again is counted. */
const tagName = (name: string, taken: Set<string>): string => {
  const plain = name.replace(/[^A-Za-z0-9._-]+/g, '-').replace(/^[^A-Za-z0-9]+/, '') || 'tag';
  let found = plain;
  for (let count = 2; taken.has(found); count += 1) found = `${plain}-${count}`;
  taken.add(found);
  return found;
};

/** A starting site of what was browsed: one tag for each variable that is a number or a state. */
export const writeOpcUaSite = async (
  path: string,
  endpoint: string,
  access: OpcUaAccess,
  nodes: readonly BrowsedNode[],
): Promise<void> => {
  const taken = new Set<string>();
  const tags = nodes.flatMap(({ kind, name, address, read }): string[] => {
    if (kind !== 'variable' || read === undefined || read.value === null) return [];
    const state = read.type === 'Boolean';
    const about = `source: server1, address: ${JSON.stringify(address)}`;
    return [
      state
        ? `  ${tagName(name, taken)}: { ${about} }`
        : `  ${tagName(name, taken)}: { ${about}, unit: count } # say: the unit; it read ${read.text}`,
    ];
  });
  const head = '  # Of what can be read as a number or a state; "count" stands for a unit that is not known.';
  if (tags.length === 0)
    throw new Stop('no variable with a number or a state was found: there is nothing to write', {
      exit: EXIT.unavailable,
    });
  await writeNew(path, siteText(opcUaSource(endpoint, access), [head, ...tags]));
  say(`Read it with: tripwitness check ${path}`);
};
