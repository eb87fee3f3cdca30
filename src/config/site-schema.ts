import { z } from 'zod';
import { DERIVATION } from './derivation-schema.ts';
import { address, anyQuantity, contact, name, quantity, text, word } from './leaves.ts';
import { dependsOn } from './upkeep-schema.ts';

const time = () => quantity('time');
const flag = (what: string) => z.boolean().describe(what);

/** What every unit can say, whatever its bytes travel on. */
const UNIT = {
  unit: z.int().min(0).max(255).optional().describe('Unit id; 1 where nothing is said.'),
  poll: time().describe('From one question to the next, for what interlocks need.'),
  'window-poll': time()
    .optional()
    .describe('The same while a test window needs it; as poll where nothing is said.'),
  'slow-poll': time().optional().describe('For what no interlock needs; 1 s, or poll where that is longer.'),
  timeout: time().optional(),
  scan: time().describe('Cycle of the controller: the age that a value can have when it is read.'),
  'scan-consistent': flag('Values of one answer are of one scan.').optional(),
  'max-registers': z.int().min(1).max(125).optional().describe('Most registers in one question.'),
  'max-bits': z.int().min(1).max(2_000).optional().describe('Most bits in one question.'),
  'max-gap': z
    .int()
    .min(0)
    .max(124)
    .optional()
    .describe('Unused addresses that may be read through; 0 where nothing is said.'),
  pause: time().optional().describe('Rest between an answer and the next question.'),
  connection: z
    .enum(['shared', 'own'])
    .optional()
    .describe('One connection for all units at the same place (the default), or one for this unit alone.'),
  'release-after': time()
    .optional()
    .describe('The connection is given back when nothing is due for longer than this.'),
  'aged-after': time().optional(),
};

const AT_HOST = {
  host: word('Address of the controller or gateway.'),
  port: z.int().min(1).max(65_535).optional().describe('TCP port; 502 where nothing is said.'),
  'serial-baud': z
    .int()
    .min(300)
    .max(921_600)
    .optional()
    .describe('Bits a second of the serial line behind a gateway: its time on the wire is reckoned with.'),
};

const ModbusTcp = z.strictObject({
  protocol: z.literal('modbus-tcp'),
  ...AT_HOST,
  ...UNIT,
  'in-flight': z
    .int()
    .min(1)
    .max(16)
    .optional()
    .describe('Questions that may be on their way at once; 1 where nothing is said.'),
});

const ModbusRtuOverTcp = z.strictObject({ protocol: z.literal('modbus-rtu-over-tcp'), ...AT_HOST, ...UNIT });

const ModbusRtu = z.strictObject({
  protocol: z.literal('modbus-rtu'),
  path: word('Serial port, such as /dev/ttyS0 or COM3.'),
  baud: z.int().min(300).max(921_600).optional().describe('Bits a second; 19,200 where nothing is said.'),
  parity: z.enum(['none', 'even', 'odd']).optional().describe('even where nothing is said.'),
  'data-bits': z.union([z.literal(7), z.literal(8)]).optional(),
  'stop-bits': z.union([z.literal(1), z.literal(2)]).optional(),
  ...UNIT,
});

const OpcUa = z.strictObject({
  protocol: z.literal('opc-ua'),
  endpoint: word('opc.tcp://HOST:PORT'),
  security: z.enum(['none', 'sign', 'sign-and-encrypt']).optional().describe('none where nothing is said.'),
  policy: z
    .enum(['Basic256Sha256', 'Aes128_Sha256_RsaOaep', 'Aes256_Sha256_RsaPss'])
    .optional()
    .describe('Basic256Sha256 where nothing is said.'),
  user: word('Name of the user; with password-from.').optional(),
  'password-from': word('Environment variable that holds the password.').optional(),
  'user-certificate': word('PEM file of the user, seen from the site file; with user-key.').optional(),
  'user-key': word('PEM file of its private key.').optional(),
  sampling: time(),
  publishing: time(),
  queue: z
    .int()
    .min(1)
    .optional()
    .describe('Values kept between two publications; 10 where nothing is said.'),
  timeout: time().optional(),
  scan: time(),
  'clock-bound': time().optional().describe("How far the server's clock can be from ours."),
  'source-clock': z
    .literal('server')
    .optional()
    .describe('Source times are of the clock that the server shows: its measured offset holds for them.'),
  'aged-after': time().optional(),
});

const Trace = z.strictObject({
  protocol: z.literal('trace'),
  scan: time(),
  'scan-consistent': flag('Rows with the same response number are of one scan.').optional(),
  'aged-after': time().optional(),
});

const SourceFile = z.discriminatedUnion('protocol', [ModbusTcp, ModbusRtuOverTcp, ModbusRtu, OpcUa, Trace]);

const TagFile = z.strictObject({
  source: name('Which source answers for it; none where it is worked out from others.').optional(),
  ...DERIVATION,
  address: address().optional(),
  table: z
    .enum(['holding', 'input', 'coil', 'discrete-input'])
    .optional()
    .describe('For addresses that do not say it themselves, such as 0x000A.'),
  bit: z
    .int()
    .min(0)
    .max(32)
    .optional()
    .describe('Bit of a register or of two, counted as bit-numbering says.'),
  bits: z.array(z.int()).optional().describe('First and last of neighbouring bits that are one number.'),
  'bit-numbering': z
    .enum(['lsb-0', 'lsb-1', 'msb-0', 'msb-1'])
    .optional()
    .describe('Which bit is counted first, and whether as 0 or 1; lsb-0 where nothing is said.'),
  type: z
    .enum([
      'bool',
      'uint16',
      'int16',
      'uint32',
      'int32',
      'uint64',
      'int64',
      'float32',
      'float64',
      'bcd16',
      'bcd32',
      'text',
    ])
    .optional(),
  length: z.int().min(1).max(125).optional().describe('Registers of a text, two characters in each.'),
  order: z
    .enum(['ABCD', 'CDAB', 'BADC', 'DCBA'])
    .optional()
    .describe('Bytes as they travel, A the most significant.'),
  scale: z.number().optional().describe('Value = raw x scale + offset.'),
  offset: z.number().optional(),
  unit: word('Unit of the value after scaling.').optional(),
  resolution: anyQuantity().optional(),
  accuracy: anyQuantity().optional(),
  age: word('computed (up to one scan old), input (up to two), or a time.').optional(),
  'aged-after': time().optional(),
  faults: z.array(z.number()).optional().describe('Raw values that mean a fault of the sensor.'),
  plausible: z.array(anyQuantity()).optional().describe('Lowest and highest value that can be true.'),
  inverted: flag('The bit is 0 for the second state.').optional(),
  healthy: contact().optional(),
  'percent-of': anyQuantity().optional().describe('The scaled value is a percentage of this.'),
  curve: z
    .enum(['pt100', 'pt500', 'pt1000', 'thermocouple-k', 'thermocouple-j', 'steinhart-hart'])
    .optional()
    .describe('The scaled value is in ohm, of a thermocouple in mV.'),
  coefficients: z.array(z.number()).optional().describe('A, B and C of steinhart-hart.'),
  'cold-junction': quantity('temperature')
    .optional()
    .describe('Temperature of the other end of a thermocouple; 0 degC where it is made up for.'),
  loop: z
    .array(anyQuantity())
    .optional()
    .describe('The scaled value is a current in mA; this is measured at 4 and at 20 mA.'),
  pulley: quantity('length')
    .optional()
    .describe(
      'Diameter. The scaled value, or the pulses, are turns of this pulley; slip is not in the speed.',
    ),
  pulses: z
    .enum(['count', 'gate-count', 'period', 'per-minute', 'per-second'])
    .optional()
    .describe('Of a proximity switch: free-running count, count of a gate, time between two, or a rate.'),
  'targets-per-revolution': z.int().min(1).optional(),
  'length-per-pulse': quantity('length').optional(),
  gate: time().optional(),
  rollover: z.int().min(2).optional(),
  tick: time().optional(),
});

const AgainstFile = z.strictObject({
  tag: name("Tag of what sets or shows the same motion elsewhere, such as the drive's reference."),
  factor: z.number().describe('So many units of the normal for one unit of the tag: gear, pulley, scale.'),
});

const NormalFile = z.union([
  z.literal('learned'),
  z.strictObject({
    declared: anyQuantity().optional(),
    tolerance: anyQuantity().optional(),
    tag: name('Tag that holds what the controller takes as normal.').optional(),
    'learned-over': time().optional(),
    steady: quantity('ratio').optional(),
    against: z
      .union([AgainstFile, z.array(AgainstFile)])
      .optional()
      .describe('What must give the normal too, so that one learned on a slipping belt is noticed.'),
  }),
]);

const MachineFile = z.strictObject({
  kind: name('Kind of machine; a pack of the same kind gives its interlocks.'),
  title: text('For people.').optional(),
  nameplate: z.record(z.string(), anyQuantity()).optional(),
  normal: z.record(z.string(), NormalFile).optional(),
  allowance: quantity('ratio')
    .optional()
    .describe('How far a normal may be from the nameplate; 5 % where nothing is said.'),
  roles: z.record(z.string(), name('Name of a tag.')).optional(),
  'bypass-limit': time().optional().describe('A bypass may last this long.'),
  'stops-within': time().optional().describe("From the command's end to standstill, at most."),
  also: z
    .array(name('Interlock that its pack has on request.'))
    .optional()
    .describe('Interlocks that this machine has, and others of its kind need not have.'),
  'fed-by': z.array(name('Name of a machine.')).optional(),
  'depends-on': dependsOn(),
  set: z
    .record(z.string(), z.union([z.string(), z.number(), z.boolean(), z.array(z.string())]))
    .optional()
    .describe('interlock.field: another value for this machine.'),
});

const RecordsFile = z.strictObject({
  'independent-reviewer': flag('Whoever reviews a test must not have taken part in it.').optional(),
  signatures: z
    .array(z.enum(['performed', 'witnessed', 'reviewed']))
    .optional()
    .describe('Without these signatures a record says that it is not complete.'),
});

export const SiteFile = z.strictObject({
  site: name('Short name of the site.'),
  title: text('For people.').optional(),
  sources: z.record(z.string(), SourceFile),
  tags: z.record(z.string(), TagFile).optional(),
  'tags-from': z.union([word('CSV file.'), z.array(word('CSV file.'))]).optional(),
  machines: z.record(z.string(), MachineFile).optional(),
  'machines-from': z.union([word('CSV file.'), z.array(word('CSV file.'))]).optional(),
  rules: z.array(word('Rule file.')),
  records: RecordsFile.optional(),
});

export type SourceText = z.infer<typeof SourceFile>;
export type TagText = z.infer<typeof TagFile>;
export type MachineText = z.infer<typeof MachineFile>;
