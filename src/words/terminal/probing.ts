/**
 * The rungs of the ladder from a name to a value. Of each what came; of one that does not hold also what it means
 * (`-means`) and what to try next (`-next`). `{ms}` are milliseconds.
 */
export const PROBING = {
  'probe-name-literal': '{host} is an address: there is no name to look up.',
  'probe-name-found': '{host} is {address} ({ms} ms).',
  'probe-name-unknown': 'Nobody knows a machine called {host} ({ms} ms).',
  'probe-name-unknown-means': 'Nothing has been sent to the device yet: nobody has found its address.',
  'probe-name-unknown-next':
    "Check the spelling, or write the device's address in numbers, such as 192.168.0.10.",
  'probe-name-no-server': 'The name {host} could not be looked up: no name server answers ({ms} ms).',
  'probe-name-no-server-means': 'This computer reaches no name server; on a plant network that is often so.',
  'probe-name-no-server-next': "Write the device's address in numbers, such as 192.168.0.10.",
  'probe-name-failed': 'The name {host} could not be looked up: {detail} ({ms} ms).',
  'probe-name-failed-means': 'Nothing has been sent to the device yet: nobody has found its address.',
  'probe-name-failed-next': "Write the device's address in numbers, such as 192.168.0.10.",

  'probe-port-opened': 'The serial port {path} is open ({ms} ms).',
  'probe-port-missing': 'There is no serial port {path}.',
  'probe-port-missing-means': 'The adapter is not plugged in, or the computer calls it by another name.',
  'probe-port-missing-next': 'Plug it in, look which name appears, and write that name.',
  'probe-port-denied': 'The serial port {path} may not be opened ({detail}).',
  'probe-port-denied-means': 'The port is there, but this user has no right to it.',
  'probe-port-denied-next':
    'Let whoever keeps this computer give you the right (on Linux often the group dialout).',
  'probe-port-busy': 'The serial port {path} is taken ({detail}).',
  'probe-port-busy-means': 'Another program holds it, and two masters on one line disturb each other.',
  'probe-port-busy-next': 'End the other program, then ask again.',
  'probe-port-failed': 'The serial port {path} could not be opened: {detail}.',
  'probe-port-failed-means': 'The computer gives no more than this word for the reason.',
  'probe-port-failed-next': 'Check the name of the port, the adapter, and whether another program holds it.',

  'probe-connection-made': '{host} accepted a connection at port {port} ({ms} ms).',
  'probe-connection-refused': '{host} refused the connection at port {port} ({ms} ms).',
  'probe-connection-refused-means': 'A machine is there, but nothing listens at this port.',
  'probe-connection-refused-next':
    'Check the port (Modbus TCP is mostly 502), whether Modbus TCP is switched on in the device, and whether {host} is the right device.',
  'probe-connection-timed-out': 'Nothing came back from {host} port {port} in {timeout} ms.',
  'probe-connection-timed-out-means':
    'Either no machine has this address, or something between (a firewall, a router) drops what is sent.',
  'probe-connection-timed-out-next':
    'Check address, cable and power; ask whoever keeps the network whether this computer may reach port {port} there.',
  'probe-unreachable': 'There is no way to {host}: {detail} ({ms} ms).',
  'probe-unreachable-means': 'This computer, or a router on the way, does not reach that network or machine.',
  'probe-unreachable-next':
    "Check that cable and network adapter are up, and that this computer's own address belongs to the device's network.",
  'probe-connection-failed': 'No connection to {host} port {port}: {detail} ({ms} ms).',
  'probe-connection-failed-means': 'The computer gives no more than this word for the reason.',
  'probe-connection-failed-next': 'Check address and port, the cable, and a firewall between.',
  'probe-closed-at-once':
    '{host} accepted a connection at port {port} and closed it at once, before anything was asked.',
  'probe-closed-at-once-means':
    'Mostly all its connections are taken: many devices allow one to four, some only one. Or it accepts only computers that it knows.',
  'probe-closed-at-once-next':
    'End other programs that read this device (a panel, a data logger, a laptop left connected), wait a minute, ask again; or let this computer be entered in its list of clients.',

  'probe-unit-answered': 'Unit {unit} answered ({ms} ms).',
  'probe-unit-silent':
    'The connection stands, but unit {unit} did not answer in {timeout} ms, nor at other addresses.',
  'probe-unit-silent-means':
    'Most likely it is the wrong unit id; or a serial converter is there that wants RTU frames; or the device behind a gateway is off.',
  'probe-unit-silent-next':
    'Ask other unit ids (--units 1-5; 0 and 255 are common for a controller itself); with a plain serial converter add --rtu-over-tcp; behind a gateway check power, wiring, baud rate and parity of the device.',
  'probe-unit-silent-serial': 'Nothing came back from unit {unit} in {timeout} ms.',
  'probe-unit-silent-serial-means':
    'Baud rate, parity or unit id differ from the device, or the two wires are swapped, or it is off.',
  'probe-unit-silent-serial-next':
    "Compare --baud and --parity with the device's settings, ask other unit ids (--units 1-5), swap A and B, check that the line has one master only.",
  'probe-address-silent': 'Unit {unit} keeps silent on {address} for {timeout} ms, but answers at {other}.',
  'probe-address-silent-means':
    'The device is there. Some devices say nothing where others say "no such address": this address is not one of theirs.',
  'probe-address-silent-next':
    'Compare the address with the list of the device; above stand the ways to write it.',
  'probe-unit-hung-up': 'The device closed the connection when it was asked ({detail}).',
  'probe-unit-hung-up-means':
    'It does not like this question or this unit id; or it serves something else than Modbus at this port; or a firewall that looks into Modbus ended it.',
  'probe-unit-hung-up-next':
    'Check the port and the unit id; with a plain serial converter add --rtu-over-tcp; ask whether a firewall allows the read functions 1 to 4.',
  'probe-unit-no-second-connection': 'The connection was lost and could not be made again ({detail}).',
  'probe-unit-no-second-connection-means':
    'The device may allow one connection only, and holds the old one for a while.',
  'probe-unit-no-second-connection-next':
    'Wait a minute and ask again; end other programs that read this device.',
  'probe-unit-not-modbus': 'Something came back, but it is no answer to the question ({detail}).',
  'probe-unit-not-modbus-means':
    'What listens there speaks something else than expected: another protocol, or RTU frames where TCP frames were asked for (or the other way round).',
  'probe-unit-not-modbus-next':
    'Check the port; with a plain serial converter add --rtu-over-tcp, else take it away. What came was not used.',

  'probe-register-read': '{address} was read ({ms} ms).',
  'probe-exception-1': 'Unit {unit} says: function {function} is unknown here (exception 1).',
  'probe-exception-1-means': 'The device answers, but has no {table}.',
  'probe-exception-1-next':
    '[There is an answer at {near}: try that. ]Look in the list of the device whether the value is a holding register (hr) or an input register (ir).',
  'probe-exception-2': 'Unit {unit} says: {address} does not exist (exception 2).',
  'probe-exception-2-means':
    'The device answers; the address is past its end, in a gap, or in another table.',
  'probe-exception-2-next':
    '[There is an answer at {near}: try that. ]Lists that count from 1 are one higher than the wire: 40011 is hr:10. Try one less, one more, or the other table.',
  'probe-exception-3': 'Unit {unit} says: a value in the question is not allowed (exception 3).',
  'probe-exception-3-means':
    'The device answers, but not to this number of addresses; some give whole 32-bit values only, or a few registers at once.',
  'probe-exception-3-next':
    '[There is an answer at {near}: try that. ]Ask from the beginning of the value as its list has it.',
  'probe-exception-4': 'Unit {unit} says: it has failed (exception 4).',
  'probe-exception-4-means': 'The device answers, but something in it went wrong while it read {address}.',
  'probe-exception-4-next':
    "Look at the device's own fault lamp or list; ask another address; start it anew if the plant allows.",
  'probe-exception-5': 'Unit {unit} says: it has taken the question and needs longer (exception 5).',
  'probe-exception-5-means': 'The device answers, but the value takes time to fetch.',
  'probe-exception-5-next': 'Ask again in a few seconds.',
  'probe-exception-6': 'Unit {unit} says: it is busy (exception 6).',
  'probe-exception-6-means':
    'The device answers, but is at work on something else: a download, another client.',
  'probe-exception-6-next': 'Ask again in a few seconds; let nobody else poll it as fast.',
  'probe-exception-8': 'Unit {unit} says: its memory failed its parity check (exception 8).',
  'probe-exception-8-means': 'The device answers, but does not trust its own memory at this address.',
  'probe-exception-8-next': 'The device needs looking after: tell whoever keeps it.',
  'probe-exception-10': 'A gateway answers: it has no way to unit {unit} (exception 10).',
  'probe-exception-10-means': 'The gateway is there; it does not know on which line this unit id is.',
  'probe-exception-10-next': 'Check the unit id (--units 1-5) and the routing in the gateway.',
  'probe-exception-11': 'A gateway answers: unit {unit} does not answer behind it (exception 11).',
  'probe-exception-11-means':
    'The gateway is there; the device behind it is off, has another unit id, or the line is broken.',
  'probe-exception-11-next':
    "Check power and wiring behind the gateway, baud rate and parity on both sides, and the device's unit id (--units 1-5).",
  'probe-exception-other': 'Unit {unit} refuses with the code {exception}.',
  'probe-exception-other-means': 'The standard does not define this code; the list of the device does.',
  'probe-exception-other-next': 'Look the code up in the list of the device.',

  'probe-block-read': '{first} to {last}: {count} addresses in one answer ({ms} ms).',
  'probe-block-in-parts':
    '{first} to {last} were read in {questions} questions, because the whole block was refused[; {missing} of them do not exist] ({ms} ms).',

  'probe-opcua-name': '{host} is {addresses} ({ms} ms).',
  'probe-opcua-endpoints': 'The server offers {count} ways in.',
  'probe-opcua-session': 'A session was opened: {way}, user {user} ({ms} ms).',
  'probe-opcua-browsed': '{count} nodes were found below {from}[; there is more: {more}].',

  'probe-one-fits': 'Of all ways to read what stands there, one gives about {shown}.',
  'probe-several-fit':
    'About {shown} is what these ways to read give, those with the fewest assumptions first.',
  'probe-nothing-fits':
    'No way to read these addresses gives about {shown}. Look farther around (--around 10), in the other table, or at the display once more: it may show another quantity, or one worked out from what stands here.',
  'probe-tell-apart':
    'One look cannot tell these apart. Wait until the display shows something else (start, stop, warm up), write all its digits, and ask again: what still fits is right.',
  'probe-zero-fits':
    '{shown} says nothing: too much of a device reads 0. Ask again while the display shows another value.',
  'probe-one-lower':
    'It stands one lower than {asked}: lists of addresses that count from 1 are one higher than the wire.',
  'probe-one-higher':
    'It stands one higher than {asked}: the address was taken to count from 1, and counts from 0.',
  'probe-lowest-moves': 'Its lowest word moved while it was looked at, as that of a real number does.',
  'probe-order-words': 'Its two words travel in turned order ({order}): the lower one comes first.',
  'probe-order-bytes': 'The bytes of each word travel in turned order ({order}).',
  'probe-order-both': 'All its bytes travel in turned order ({order}): the lowest comes first.',
} as const;
