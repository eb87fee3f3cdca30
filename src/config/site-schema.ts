import { z } from 'zod';
import { DERIVATION } from './derivation-schema.ts';
import { address, anyQuantity, contact, name, quantity, text, word } from './leaves.ts';

const time = () => quantity('time');
const flag = (what: string) => z.boolean().describe(what);

const Modbus = z.strictObject({
  protocol: z.literal('modbus-tcp'),
  host: word('Address of the controller or gateway.'),
  port: z.int().min(1).max(65_535).optional().describe('TCP port; 502 where nothing is said.'),
  unit: z.int().min(0).max(255).optional().describe('Unit id; 1 where nothing is said.'),
  poll: time().describe('From one question to the next.'),
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
  'aged-after': time().optional(),
});

const OpcUa = z.strictObject({
  protocol: z.literal('opc-ua'),
  endpoint: word('opc.tcp://HOST:PORT'),
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
  'aged-after': time().optional(),
});

const Trace = z.strictObject({
  protocol: z.literal('trace'),
  scan: time(),
  'scan-consistent': flag('Rows with the same response number are of one scan.').optional(),
  'aged-after': time().optional(),
});

const SourceFile = z.discriminatedUnion('protocol', [Modbus, OpcUa, Trace]);

const TagFile = z.strictObject({
  source: name('Which source answers for it; none where it is worked out from others.').optional(),
  ...DERIVATION,
  address: address().optional(),
  bit: z.int().min(0).max(15).optional().describe('Bit of a register, 0 the least significant.'),
  type: z.enum(['bool', 'uint16', 'int16', 'uint32', 'int32', 'float32', 'float64']).optional(),
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
  pulses: z.enum(['count', 'period']).optional(),
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
  set: z
    .record(z.string(), z.union([z.string(), z.number(), z.boolean()]))
    .optional()
    .describe('interlock.field: another value for this machine.'),
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
});

export type SourceText = z.infer<typeof SourceFile>;
export type TagText = z.infer<typeof TagFile>;
export type MachineText = z.infer<typeof MachineFile>;
