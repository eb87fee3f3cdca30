/** What is odd about a value that was read once, or a few times quickly; and what is worth a look. */
const ODDITIES = {
  'odd-absent': 'No value: {why:absence}.',
  'odd-refused': 'The device refuses {address}.',
  'odd-fault-code': 'The raw value {raw} is declared as a fault of the sensor.',
  'odd-implausible': 'Reads {value:unit}, outside its plausible range {range:band}.',
  'odd-all-but-nothing': 'The words {raw} read as {type} are all but nothing, which no device sends.',
  'odd-not-a-number': 'The words {raw} are no number of the type {type}.',
  'odd-order':
    'Read as {type} {order} the same words give {value:unit}, which is plausible: the byte order is suspicious.',
  'odd-neighbour':
    'At {address}, {away}, the same type gives {value:unit}, which is plausible: the address may be off by one.',
  'odd-type-limit':
    'The raw value {raw} is the limit of {type}: it often means "no value". Declare it under "faults" if it does.',
  'odd-at-range-edge': '{value:unit} is at the edge of its plausible range {range:band}.',
  'odd-constant': 'It is to count, and did not move in {reads} reads over {elapsed} ms.',
  'odd-zero': 'Exactly 0.',
  'look-zero': 'Exactly 0: right if it stands still.',
} as const;

const SOURCES = {
  'source-no-word': 'It gave no answer before this check ended, after {elapsed} ms.',
  'clock-known': 'Its clock is {away} ours, known within {doubt:s}.',
  'clock-unknown': 'Its clock was not shown.',
} as const;

export const CONNECTING = { ...ODDITIES, ...SOURCES } as const;
