import { SCENARIO_FAULTS } from './scenario-messages.ts';

/**
 * What is wrong, where, and what to do, by code. `{name}` is a parameter. Ends without a full stop where a
 * suggestion may follow.
 */
export const FAULT_TEXTS: Readonly<Record<string, string>> = {
  ...SCENARIO_FAULTS,
  'address-ambiguous':
    'The address {text} could be {zero} (counted from 0, as on the wire) or {one} (counted from 1), or stand in another table. Write the one that is meant.',
  'address-coil-or-hex':
    'The address {text} could be {named} (a number in base 16, counted from 0) or {coil} (coil {text} in the numbering 0x, 1x, 3x, 4x, counted from 1). Write the one that is meant.',
  'address-not-read': 'The address {text} is not understood. Write one of {forms}.',
  'address-out-of-range':
    'The address {text} is past the last one. On the wire addresses go from 0 to 65535.',
  'address-table-differs':
    'The address {text} stands in the table {table}, "table" says {said}. Take one of them out.',
  'address-without-table':
    'The address {text} does not say in which table. Write {named}, or ir, coil or di in its place.',
  'after-unknown-effect': '"after: {name}" must name an effect that stands above it in the same list',
  'against-a-state': '{tag} is a state. A normal is compared with a measured value.',
  'against-itself': '{tag} is what this normal is taken from; it says nothing against itself.',
  'age-not-read': 'The age "{text}" is not understood. Write computed, input, or a time such as 50 ms.',
  alias: 'Anchors and aliases (& and *) are not read here. Write the value again, or put it into a pack.',
  'asked-but-missing':
    '{machine} asks for {interlock}, but nothing is bound to {roles}. Bind it, or do not ask for it.',
  'bad-indent': 'The line is not indented like its neighbours. Use the same number of spaces.',
  'band-edges':
    'It cannot be said which of {near} and {far} is nearer to normal. Write both in the same way (both % of normal, or both in a unit), the one nearer to normal first.',
  'becomes-or-stays': 'An effect says either "becomes" or "stays", exactly one of them.',
  'between-two': '"between" is a list of two levels, the one nearer to normal first.',
  'bit-cannot-measure':
    'A single bit cannot hold a measured value. Give a register, or bind it to a role with states.',
  'bit-missing':
    'A state in a register needs its bit (hr:10.3 or bit: 3), or a whole-number type whose values are the states.',
  'bit-not-there':
    'There is no bit {bits} here: {numbering} counts from {first} to {last}. Say which bit comes first with bit-numbering: lsb-0, lsb-1, msb-0 or msb-1.',
  'bit-out-of-range': 'The bit of {text} is not there. A register has bits 0 to 15.',
  'bit-said-twice':
    'The address says bit {bit}, counted from 0 at the least significant; "{key}" says it again. Write the address without the dot, or leave "{key}" out.',
  'bits-need-type':
    '{numbering} counts from the most significant bit: say how many there are, with type: uint16 or uint32.',
  'bits-of-type': 'Bits are picked out of uint16, int16, uint32 or int32, not out of {type}.',
  'bits-two': '"bits" is a list of two: the first and the last of neighbouring bits, such as [4, 6].',
  'cause-of-state': '{role} is a state; "{key}" needs a measured value or a count.',
  'clears-wrong-side':
    '{interlock}: the clear level {clears} lies on the tripping side of the set point {setPoint}. A cause clears on the healthy side.',
  coefficients:
    'A thermistor has three coefficients A, B, C for ohms, with B more than 0 and C not less: the temperature falls as the resistance rises.',
  'condition-left-out':
    '{interlock}: the arming condition on {role} is left out, because nothing is bound to that role. Bind it, or trials may start while it is not armed.',
  'contact-no-nc':
    '"{text}" means normally open or normally closed to one person and the opposite to another, and some readers take NO for "false". Say what the contact is while all is well: "healthy: closed" or "healthy: open".',
  'csv-after-quote': 'After a closing quote comes a comma or the end of the line.',
  'csv-cells': 'This row has {cells} cells, the first row has {columns}.',
  'csv-column-missing': 'The table has no column "{column}". The first row names the columns.',
  'csv-quote-open': 'This quote is never closed.',
  'curve-needs-plausible':
    'Behind {curve} a step of the register is more in one place than in another, and a broken wire is a value too. Say between what the value can be true: "plausible: [-20 degC, 150 degC]".',
  'curve-not-a-temperature': '{curve} gives a temperature; the unit of the tag is {unit}.',
  'curve-reaches':
    '"plausible" reaches farther than {curve} is defined. Write the range that can be true here.',
  'derived-circle': 'This is worked out from itself: {way}.',
  'derived-has-none': '"{key}" does not go with a signal that is worked out from others.',
  'derived-kinds-differ': '{role} is worked out from {inputs}, which do not measure the same.',
  'derived-of-state': '{role} is a state ({known}); nothing can be worked out from it.',
  'derived-units-differ':
    '{signal} is worked out from signals in {units}. Give their tags one unit, by their scale and offset; two speeds can have a nameplate each instead.',
  'duplicate-key':
    'The key "{word}" stands twice in the same place. Keep one; which one counted would be chance.',
  'duplicate-kind': 'A second pack for the kind "{kind}". Keep one of them.',
  'duplicate-name': 'The name "{name}" is already taken. Names of tags and machines are unique in a site.',
  'effect-of-normal':
    'A level of {role} cannot refer to normal here: the interlock knows the normal of its cause. Write % of nameplate, or a value with its unit.',
  'empty-file': 'The file says nothing.',
  'empty-list': '"{key}" lists nothing. Name at least one, or take the key out.',
  'empty-value': 'Nothing stands behind this key. Give a value or take the key out.',
  'fault-code-never':
    'The raw value {code} cannot come in {type}, which goes from {low} to {high}: it would guard nothing. Write it as the register holds it.',
  'endpoint-holds-user':
    'An endpoint holds no user and no password. Write "user:" and "password-from:" instead.',
  'endpoint-not-read':
    'The endpoint {endpoint} is not understood. Write opc.tcp://HOST:PORT, with a path behind it where the server has one.',
  'file-missing': 'The file {path} was not found beside this one',
  'grace-long':
    'A test may be late by more than {most} % of its interval: that is another interval. Write the interval that is meant.',
  'group-too-small': '"{key}" needs at least {least} causes.',
  'healthy-and-inverted': 'A tag says either "healthy" or "inverted", not both.',
  'healthy-missing':
    '{role} is a contact: say what it is while all is well, "healthy: closed" or "healthy: open".',
  'inputs-repeat': '"{as}" names a signal twice.',
  'inputs-wanted': '"{as}" wants {wanted} signals, not {said}.',
  'key-not-a-word': 'A key must be a plain word.',
  'leading-zero':
    '{text} begins with 0, which some readers take as octal. Leave the 0 out, or put it in quotes if it is a text.',
  'keys-clash': '"{one}" and "{other}" do not go together. Keep one of them.',
  'left-out':
    '{machine} goes without {parts}, because nothing is bound to {roles}. Bind what the machine has.',
  'level-reference':
    '"{reference}" is neither a quantity nor something a level can refer to: normal, nameplate, or a measured role of a {kind}',
  'level-reference-kind':
    '{reference} is measured as {measures}, {role} as {wanted}. A level refers to what is measured in the same way.',
  'limit-beyond-set-point':
    '{interlock}: the set point {setPoint} lies beyond its own limit {limit}. An interlock that acts as designed would break the limit.',
  'limit-wrong-side':
    '{interlock}: the limit {limit} is on the wrong side of the cause. "below" has a no-lower-than, "above" a no-higher-than.',
  'line-differs':
    '{path} is also the line of {other}, with other settings. One serial line has one baud rate, parity and stop bits.',
  'line-may-be-overfull':
    'The line {place} ({baud} baud) may be asked for more than it can carry: {share} % of the time, if each device takes the usual {turnaround} to answer ({terms}). Polls would come late; the rate that is reached is shown while it runs.',
  'line-overfull':
    'The line {place} ({baud} baud) is asked for {share} % of the time there is, before any device has thought: {terms}. Poll less often, read fewer addresses, or raise the baud rate.',
  'loop-range':
    '"loop" is a list of two different quantities in {unit}: what is measured at 4 mA and at 20 mA.',
  'mirror-differs': '{role} mirrors {other}, but does not have its states or measure the same.',
  'missing-character': 'Something is missing here, such as a bracket, a quote or a comma: {what}.',
  'missing-key': 'The key "{key}" is missing here.',
  'missing-role':
    '{machine} has no {role}, which a {kind} needs. Bind it under "roles:", or name a tag {tag}.',
  'nameplate-missing':
    '{interlock} refers to the nameplate of {machine}, but its nameplate has no {role}. Add it under "nameplate:".',
  'name-repeats': 'The name "{name}" stands twice here. Keep one.',
  'namespace-by-index':
    'The namespace index in {text} may change when the server restarts. Write the URI: nsu=URI;s=ID.',
  'negative-time': '{text} is negative. Times here are lengths of time.',
  'no-effects': '{interlock} has no effects: nothing could ever be proved.',
  'no-interlocks': 'The site has no interlock to prove. Add machines, and packs under "rules:".',
  'no-pulses-of-state': '{role} is a state; only a speed or a count can lose its pulses.',
  'no-states':
    '{role} is a measured value and has no state "{state}". Write a level, such as "below 5 % of nameplate".',
  'normal-not-checked':
    '{machine}: the normal of {role} has no nameplate to be checked against; one that was learned on a slipping belt would pass. Add it under "nameplate:".',
  'normal-other-unit':
    'The tag {tag} is in {unit}, the signal it is the normal of in {wanted}. Use one unit for both.',
  'not-a-condition': '"{text}" is not a condition. Write ROLE is STATE.',
  'not-a-level':
    '"{text}" is not a level. Write 80 degC, 82 % of normal, 80 % of nameplate or normal - 10 rpm.',
  'not-a-name': '"{text}" cannot be a name. Use letters, digits, dot, dash and underscore.',
  'not-a-number': '"{text}" is not a number.',
  'not-a-quantity': '"{text}" is not a number with a unit. Units that fit here: {units}.',
  'not-a-whole-number': '"{text}" is not a whole number.',
  'not-on-request': '{interlock} is there without being asked for. Take it out of "also".',
  'not-positive': '"{key}" must be more than 0.',
  'not-text': '"{text}" is read as a number or as true/false here, but a text is wanted. Put it in quotes.',
  'not-true-false': '"{text}" is neither true nor false. yes, no, on and off are texts in YAML 1.2.',
  'number-out-of-range': '{text} is out of range: {low} to {high}.',
  'observed-value': 'What an instrument showed is either "value" with its "doubt", or "low" and "high".',
  'one-cause': 'A cause says exactly one of {known}; this one says: {said}.',
  'one-derivation': 'A signal is worked out in exactly one way: one of {known}; this one says {said}.',
  'one-limit': 'A limit says exactly one of no-lower-than and no-higher-than.',
  'one-normal': 'A normal is either declared or read from a tag, not both.',
  'only-with': '"{key}" only goes with {with}.',
  'only-with-level': '"{key}" only goes with a level (below, above or reduced-by).',
  'own-serial-line': '{path} is a serial line: it cannot be had twice. Take "connection: own" out.',
  'password-from-missing':
    'A user needs a password. Name the environment variable that will hold it: "password-from: NAME". The password itself stands in no file.',
  'password-from-not-a-name':
    '"password-from" is the name of an environment variable (capital letters, digits and _), never the password itself.',
  'password-unprotected':
    'Without security anybody on the network can take the place of the server and read the password. Write "security: sign-and-encrypt"; a password that would travel as plain text is never sent.',
  'password-without-user': '"password-from" goes with "user"; whose password it is must be said.',
  'path-not-read':
    'The path {text} is not understood. Write path=/nsu=URI;First/Second, from the Objects folder down; & stands before a / or & that belongs to a name.',
  'pauses-overfull':
    '{place} is asked more often than its pauses allow: {share} % of the time ({terms}). Poll less often, or shorten "pause".',
  'percent-of-temperature':
    'A percentage of a temperature depends on the zero of its scale. Write degrees for {role}.',
  'percent-of-what': '"{text}" does not say of what. Write % of normal or % of nameplate.',
  'plausible-range': '"plausible" is a list of two quantities in {unit}, the lower one first.',
  'pulse-type': 'Pulses are counted in uint16, uint32, bcd16 or bcd32, not in {type}.',
  'pulses-no-speed': 'Pulses give a speed or a rate; {unit} is neither.',
  'pulses-over-opc-ua':
    'A {pulses} of pulses is turned into a speed over Modbus only. Over OPC UA read the speed itself, or pulses: per-minute.',
  'policy-without-security':
    'The policy {policy} does nothing without "security: sign" or "sign-and-encrypt". Name one of them, or take the policy out.',
  'quantity-or-states':
    'The role {role} has either a quantity or states, or says how it is worked out; exactly one of them.',
  'reference-other-unit':
    '{interlock} compares {signal} in {wanted} with {tag} in {unit}. Use one unit for both.',
  'references-differ':
    '{interlock}: the band "{text}" refers to something else than its set point. Write a plain quantity, or a percentage of the same.',
  'release-wrong-side':
    '{interlock}: the release level {release} lies on the tripping side of the set point {setPoint}. Effects go away on the healthy side.',
  'restarts-of-count': '{role} is not a count; only a count of life tells a restart.',
  'role-name-taken':
    '"{role}" cannot be the name of a role: levels and effects mean something else by it ({known}).',
  'rollover-too-short':
    'At the highest plausible speed {most} pulses can pass in {milliseconds} ms, from one question to the next; the count begins again after {rollover}. Ask more often, or say a lower "plausible".',
  'sensor-fault-unseen':
    '{interlock}: the tag {tag} has no "faults:", so a faulty sensor would look like a value. Say which raw values mean a fault.',
  'set-point-at-limit':
    '{interlock}: the set point {setPoint} equals its limit {limit}. A trip measured there is mostly undecidable. Move the set point to the safe side, for example by its tolerance.',
  'set-unknown':
    '"{path}" names no value of an interlock of {kind}. Write INTERLOCK.FIELD, such as underspeed-stop.delay.time.',
  'several-documents': 'A second document begins here. One file holds one document.',
  'slow-poll-faster':
    'slow-poll ({slow}) is shorter than poll ({poll}). What no interlock needs is not read more often than what one does.',
  'state-has-no-level': '{role} is a state ({known}); a level cannot be compared with it.',
  'state-has-no-unit': '{role} is a state; it has no unit ({unit}).',
  'states-repeat': 'The role {role} names a state twice.',
  'states-too-few': 'The role {role} needs at least two states, the resting one first.',
  tab: 'A tab stands where spaces are needed. YAML is indented with spaces only.',
  'tag-states-differ': 'The tag {tag} is bound to {role} and to {other}, whose states have other names.',
  'tags-overlap':
    '{tag} ({as}) reads a register that {other} reads as {otherAs}. One of the two addresses or types is wrong.',
  'tags-unused': 'No role and no normal uses: {tags}. They are read all the same.',
  'text-cannot-measure':
    'A text holds no measured value. Bind it to a role that is a count, such as revision.',
  'text-order':
    'The characters of a text stand in the order of their registers. Within each they are ABCD, or turned: BADC; not {order}.',
  'tolerance-beyond-limit':
    '{interlock}: set point {setPoint} and tolerance {tolerance} reach beyond the limit {limit}. An interlock inside its tolerance could still break the limit.',
  'tolerance-not-a-difference':
    '"{text}" is not a band. Write a plain quantity (1.5 degC) or a percentage (1.5 % of normal).',
  'trace-derived-signal':
    '{signal} is worked out from others. Take its rows out, or pass them over with --ignore-unknown.',
  'trace-earliest-after-time': '"earliest" is after "time". A reading cannot begin after it was taken.',
  'trace-has-no-address': 'A tag of a trace has no address; its name is its column value.',
  'trace-low-above-high': 'low ({low}) is above high ({high}).',
  'trace-no-value':
    'A good reading of {signal} needs a value. Without one, say why in "quality": timed-out, aged, refused …',
  'trace-not-a-number':
    '"{text}" in the column {column} is not a number. Units stand in the site, not in the trace.',
  'trace-time':
    'The time "{text}" is neither RFC 3339 with an offset (2026-11-25T09:30:00.5Z) nor plain seconds (12.5).',
  'trace-unknown-signal':
    'The site has no signal "{signal}". Rows that do not matter can be passed over with --ignore-unknown',
  'trace-value-outside-bounds': 'The value {value} is not between its own bounds {bounds}.',
  'unit-missing': '{text} has no unit. Units that fit here: {units}.',
  'unknown-column': 'There is no column "{column}". Columns: {known}',
  'unknown-interlock': 'There is no interlock "{interlock}". Interlocks: {known}',
  'unknown-key': 'The key "{key}" is not known here. Known keys: {known}',
  'unknown-kind': 'No pack under "rules:" is for the kind "{kind}". Known kinds: {known}',
  'unknown-machine': 'There is no machine "{machine}" in this site',
  'unknown-relation': '"{relation}" is no machine that can be named here. Write feeder.ROLE or receiver.ROLE',
  'unknown-role': 'A {kind} has no role "{role}"',
  'unknown-signal': 'A {kind} has no signal "{signal}"',
  'unknown-source': 'There is no source "{source}" in this site. Known sources: {known}',
  'unknown-state': '{role} has no state "{state}". Its states: {known}',
  'unknown-tag': 'There is no tag "{tag}" in this site',
  'unknown-unit': 'The unit "{unit}" is not known. Units that fit here: {units}',
  'unknown-word': '"{word}" is not one of {known}',
  'user-certificate-missing': '"user-key" goes with "user-certificate", a PEM file.',
  'user-key-missing': 'A user certificate needs its private key: "user-key", a PEM file.',
  'user-two-ways':
    'A source has one user: either "user" with "password-from", or "user-certificate" with "user-key".',
  'window-poll-slower':
    'window-poll ({window}) is longer than poll ({poll}). A test window reads at least as often as watching does.',
  'within-or-for': 'An effect says either "within" or "for", not both.',
  'wrong-shape': 'A {wanted} is wanted here, not a {found}.',
  'wrong-unit': '{unit} does not fit: {wanted} is wanted here. Units that fit: {units}.',
  'yaml-syntax': 'This is not YAML: {what}.',
  'yaml-tag': 'The YAML tag {word} is not read here. Take it out.',
  'yaml-version':
    'The file asks for YAML {version}. Files are read as YAML 1.2, in which NO, on and 010 mean what they say.',
};
