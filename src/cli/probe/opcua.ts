import { faultSentence, opcUaAddress } from '../../config/index.ts';
import type { BrowsedNode, OpcUaAddress, OpcUaProbed, ProbedValue, ReadOnce } from '../../field/index.ts';
import type { Reason } from '../../measure/index.ts';
import type { OpcUaAccess } from '../../signal/index.ts';
import { text } from '../../words/index.ts';
import { accessOf, diagnosisText } from '../certificates.ts';
import { COLUMNS, clean, hung } from '../hung.ts';
import { EXIT, json, out, Stop } from '../io.ts';
import { secretOf } from '../secret.ts';
import type { RungTold } from './rungs.ts';
import { rungLines } from './rungs.ts';
import type { ProbeOptions } from './target.ts';

/** Levels below the Objects folder, and below a node that is named; nodes at most. */
const DEPTH = 3;
const DEPTH_BELOW = 2;
const MOST = 400;
/** What every server says of itself is of no machine. */
const OWN = /^nsu=http:\/\/opcfoundation\.org\/UA\/;/;

const ms = (value: number): string => (value < 10 ? value.toFixed(1) : value.toFixed(0));

const rung = (
  step: string,
  ok: boolean,
  reason: Reason,
  milliseconds = 0,
): Omit<RungTold, 'step'> & { step: string } => ({
  step,
  ok,
  code: reason.code,
  milliseconds,
  came: text(reason),
});

const wayOf = ({ mode, policy }: OpcUaAccess): string =>
  mode === 'none' ? 'no security' : `${mode} ${policy}`;

const userOf = ({ user }: OpcUaAccess): string => (user.kind === 'name' ? user.name : user.kind);

/** Stages of the way to a server, by the rung that they belong to. */
const STEPS: Readonly<Record<string, string>> = {
  address: 'name',
  name: 'name',
  tcp: 'connection',
  endpoints: 'endpoints',
  certificate: 'certificate',
  channel: 'channel',
  user: 'user',
  browse: 'browse',
  items: 'read',
  connection: 'connection',
};

const rungsOf = (probed: OpcUaProbed, access: OpcUaAccess, from: string) => {
  const { name, tcp, endpoints, session, browsed, trouble } = probed;
  const rungs: ReturnType<typeof rung>[] = [];
  if (name !== undefined) {
    const params = { host: name.host, addresses: name.addresses.join(', '), ms: ms(name.milliseconds) };
    rungs.push(rung('name', true, { code: 'probe-opcua-name', params }, name.milliseconds));
  }
  if (tcp !== undefined) {
    const params = { host: name?.host ?? '', port: tcp.port, ms: ms(tcp.milliseconds) };
    rungs.push(rung('connection', true, { code: 'probe-connection-made', params }, tcp.milliseconds));
  }
  if (endpoints !== undefined)
    rungs.push(
      rung('endpoints', true, { code: 'probe-opcua-endpoints', params: { count: endpoints.length } }),
    );
  if (session !== undefined) {
    const params = { way: wayOf(access), user: userOf(access), ms: ms(session.milliseconds) };
    rungs.push(rung('session', true, { code: 'probe-opcua-session', params }, session.milliseconds));
  }
  if (browsed !== undefined) {
    const params = {
      count: browsed.nodes.length,
      from,
      more: browsed.more ? `only the first ${MOST} are shown` : '',
    };
    rungs.push(rung('browse', true, { code: 'probe-opcua-browsed', params }));
  }
  if (trouble !== undefined) {
    const { code, params, stage } = trouble;
    rungs.push(rung(STEPS[stage] ?? stage, false, { code, params }));
  }
  return rungs;
};

const readText = (read: ReadOnce): string =>
  `${read.text}  ${read.type}${read.status === 0 ? '' : `  ${read.statusName}`}`;

const nodeLines = (node: BrowsedNode): string[] => {
  const indent = ' '.repeat(2 * node.depth);
  const name = clean(node.name);
  if (node.read === undefined) return [`${indent}${name}`];
  const head = `${indent}${name.padEnd(Math.max(1, 34 - indent.length))} ${clean(readText(node.read))}`;
  return [head.slice(0, COLUMNS), ...hung(node.address, `${indent}    `)];
};

const valueLines = (value: ProbedValue): string[] =>
  'trouble' in value ? hung(text(value.trouble), '  ') : [`  ${clean(readText(value.read))}`];

const endpointLines = (probed: OpcUaProbed): string[] =>
  (probed.endpoints ?? []).flatMap(({ mode, policy, users }) =>
    hung(`users: ${users.join(', ')}`, `  ${mode.padEnd(18)}${(mode === 'none' ? '' : policy).padEnd(22)}`),
  );

const CERTIFICATE_STAGES = new Set(['certificate', 'channel', 'user', 'endpoints']);

/** Where certificates may be the trouble, the doctor says which side does not trust which. */
const doctored = async (
  endpoint: string,
  probed: OpcUaProbed,
  access: OpcUaAccess,
  options: ProbeOptions,
) => {
  const { stage } = probed.trouble ?? {};
  if (stage === undefined || access.mode === 'none' || !CERTIFICATE_STAGES.has(stage)) return [];
  const { diagnose, examineOpcUa } = await import('../../field/index.ts');
  const target = { endpoint, access, timeout: Number(options.timeout) };
  return diagnose(await examineOpcUa(target, { pki: options.pki, secret: secretOf }));
};

const startOf = (path: string | undefined): OpcUaAddress | undefined => {
  if (path === undefined) return undefined;
  const read = opcUaAddress(path);
  if (
    !('fault' in read) &&
    read.address.kind !== 'modbus' &&
    (read.address.kind === 'opc-ua' || read.address.kind === 'opc-ua-path')
  )
    return read.address;
  const forms = ['nsu=URI;s=ID', 'path=…'];
  const sentence =
    'fault' in read
      ? faultSentence({ code: read.fault, params: { ...read.params, text: path, forms } })
      : path;
  throw new Stop(sentence, { exit: EXIT.usage });
};

/** From a name to browsed values of an OPC UA server; reads and browses only. */
export const probeOpcUaCommand = async (
  endpoint: string,
  path: string | undefined,
  options: ProbeOptions,
): Promise<number> => {
  const { probeOpcUa } = await import('../../field/index.ts');
  const access = accessOf(options);
  const from = startOf(path);
  const start = from === undefined ? {} : { from };
  const probed = await probeOpcUa(endpoint, {
    access,
    timeout: Number(options.timeout),
    pki: options.pki,
    secret: secretOf,
    browse: { depth: from === undefined ? DEPTH : DEPTH_BELOW, limit: MOST, ...start },
    ...(from === undefined ? {} : { read: [from] }),
  });
  const rungs = rungsOf(probed, access, path ?? 'Objects') as readonly RungTold[];
  const doctor = await doctored(endpoint, probed, access, options);
  const nodes = (probed.browsed?.nodes ?? []).filter(
    ({ address }) => from !== undefined || !OWN.test(address),
  );
  const exit = probed.trouble === undefined ? EXIT.ok : EXIT.unavailable;
  if (options.json) {
    const diagnoses = doctor.map((one) => ({ ...one, text: text(one) }));
    json({ ok: exit === EXIT.ok, endpoint, steps: rungs, ...probed, browsed: nodes, diagnoses });
  } else {
    out([`Asking ${endpoint}: ${wayOf(access)}, user ${userOf(access)}`, '', ...rungLines(rungs)].join('\n'));
    if (doctor.length > 0) out(['', 'What to do, and where', ...doctor.map(diagnosisText)].join('\n'));
    if (probed.endpoints !== undefined) out(['', 'Ways in', ...endpointLines(probed)].join('\n'));
    const values = (probed.values ?? []).flatMap(valueLines);
    if (values.length > 0) out(['', path ?? '', ...values].join('\n'));
    if (nodes.length > 0) out(['', 'What stands there', ...nodes.flatMap(nodeLines)].join('\n'));
  }
  if (options.siteFile !== undefined && exit === EXIT.ok) {
    const { writeOpcUaSite } = await import('./site.ts');
    await writeOpcUaSite(options.siteFile, endpoint, access, nodes);
  }
  return exit;
};
