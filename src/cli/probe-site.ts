import { writeFile } from 'node:fs/promises';
import { addressForms } from '../config/index.ts';
import type { Line } from '../signal/index.ts';
import { EXIT, Stop, say } from './io.ts';
import type { Fit } from './probe-expect.ts';
import { tagText } from './probe-expect-text.ts';
import type { Asked, ProbeOptions } from './probe-target.ts';
import { isBits } from './probe-values.ts';

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

export const writeStartingSite = async (
  path: string,
  asked: Asked,
  fit: Fit | undefined,
  _options: ProbeOptions,
): Promise<void> => {
  const tags = [
    `  ${fit === undefined ? UNKNOWN : KNOWN}`,
    `  signal1: { source: device1, ${tagOf(asked, fit)} }`,
  ];
  await writeNew(path, siteText(sourceText(asked), tags));
  say(`Read it with: tripwitness check ${path}`);
};
