/** On the way to an OPC UA server: where it stopped, and what to do next. */
const WAY = {
  'endpoint-not-read':
    'The endpoint {endpoint} is not understood. Write opc.tcp://HOST:PORT, with a path behind it where the server has one.',
  'host-not-found':
    'The name of the host is not known here[ ({detail})]. Check its spelling, or write its address.',
  'connection-refused':
    'The host is there, but nothing listens at this port. Check the port, and whether the OPC UA server is switched on.',
  'connection-timed-out':
    'Nothing answers at this address. Check the address, the cable, and a firewall between.',
  'host-unreachable': 'No way leads to this address[ ({detail})]. Check address, gateway and cable.',
  'no-answer':
    'Something accepts the connection and then says nothing. Check that an OPC UA server is at this port, and that no firewall looks into the traffic.',
  stopped: 'Stopped before it was done.',
  'opcua-failed': 'The server did not do what was asked[ ({detail})].',
  'endpoint-url-invalid':
    'The server does not know itself by this address. Write the endpoint as the server shows it, with its path.',
  'endpoint-mode-missing':
    'The server does not offer {wanted}. It offers: {offered}. Change "security" and "policy", or have it switched on at the server.',
  'policy-rejected':
    'The server refuses this security policy, although it lists it. Choose another policy that it offers.',
  'server-certificate-missing':
    'The server offers security, but shows no certificate. Whoever keeps the controller must give it one.',
  'server-untrusted':
    'We do not trust the server yet: {subject}, SHA-1 {fingerprint}. Compare the fingerprint with the one at the controller; if it is the same: tripwitness certificates trust {fingerprint}.',
  'server-certificate-time':
    "The server's certificate ({subject}) has expired, or begins later than today. Check the date here and at the controller; else the controller needs a new one.",
  'server-certificate-refused':
    "The server's certificate ({subject}) does not hold: {detail}. The controller needs a right one.",
  'client-certificate-untrusted':
    'The server does not trust us. Ask whoever keeps the controller to trust our certificate.',
  'client-certificate-refused':
    'The server refuses our certificate[ ({detail})]; mostly it does not trust us yet. Ask whoever keeps the controller to trust our certificate.',
  'client-certificate-uri':
    'The server says that our certificate is made out to another application. Take our certificate and key away; new ones are made at the next start.',
  'client-certificate-time':
    "By the server's clock our certificate has expired or has not begun. Compare the date here with the date of the controller.",
  'client-certificate-host':
    'The server says that our certificate is made out to another host. Take our certificate and key away; new ones are made at the next start.',
  'channel-closed':
    'The server hung up when security began; mostly it does not trust us yet. Ask whoever keeps the controller to trust our certificate.',
  'user-kind-missing':
    'The server does not let this kind of user in ({wanted}). It lets in: {offered}. Change the user of the source.',
  'password-missing':
    'The environment variable {variable} is not set, or empty. Set it to the password before the start.',
  'password-in-clear':
    'The password would travel as plain text, and was not sent. Write "security: sign-and-encrypt".',
  'user-file-missing': 'The file {path} cannot be read[ ({detail})]. Check the path and who may read it.',
  'user-file-not-read': 'The file {path} is no PEM file of the right kind (a certificate; an unlocked key).',
  'user-rejected':
    'The server does not accept the user[ ({detail})]. Check name and password, or whether it trusts the user certificate.',
  'user-access-denied':
    'The server knows the user, but does not let it do this. It needs the right to browse, read and subscribe.',
  'too-many-sessions':
    'The server has no session left. Close another client, or have their number raised at the controller.',
} as const;

/** Of single addresses. */
const ADDRESSES = {
  'namespace-unknown': '[{signal}: ]The server has no namespace {namespace}. Browse it to see which it has.',
  'node-id-not-read': '[{signal}: ]The id {id} is not understood.',
  'path-not-found': '[{signal}: ]On the path {path} there is no "{name}" below {after}.',
  'path-ambiguous':
    '[{signal}: ]The path {path} leads to {count} places from "{name}" on. Write the node id instead.',
  'item-refused': '{signal}: the server refuses to watch it ({detail}).',
  'value-not-a-number':
    '{signal}: the server shows no number and no state there. Bind the tag to another node.',
} as const;

/** What a running subscription tells. */
const RUNNING = {
  'connection-lost': 'The connection broke.',
  silent: 'The server said nothing for longer than the time-out, although the connection stood.',
  'never-delivered': 'A subscription was made, but nothing ever came of it. It is made anew.',
  'subscription-ended': 'The server ended the subscription[ ({detail})]. It is made anew.',
  back: 'Values come again.',
  'values-lost':
    'Messages of the server are missing. All {items} signals count as unknown in between, and were read anew.',
  'items-silent':
    '{items} items were accepted by the server, but no value ever came, {first} among them. They count as unknown.',
  'namespace-moved':
    'The namespace {namespace} stood at index {from} and now stands at {to}. Addresses here name it, and were followed.',
  'publishing-revised':
    'The server publishes every {granted} ms instead of every {requested} ms. What that means for verdicts: tripwitness check.',
  'sampling-revised':
    'The server samples {items} items every {granted} ms instead of every {requested} ms, {first} among them.',
  'queue-revised':
    'The server keeps {granted} values for an item instead of {requested} ({items} items, {first} among them).',
} as const;

/** What the certificate doctor says. */
const DOCTOR = {
  'no-security': 'Without security no certificate is looked at, and anybody could answer for the server.',
  'we-trust-server': 'We trust the server ({subject}).',
  'we-do-not-trust-server':
    'We do not trust the server ({subject}). Compare this fingerprint with the one that the controller shows: SHA-1 {fingerprint}. If it is the same: tripwitness certificates trust {fingerprint}.',
  'server-trusts-us': 'The server trusts us.',
  'server-does-not-trust-us':
    'The server does not trust us. Ask whoever keeps the controller to trust our certificate: SHA-1 {fingerprint}, application {uri}, file {file}.',
  'server-may-not-trust-us':
    'The server refused us without saying why[ ({detail})]; mostly it does not trust us yet. Ask whoever keeps the controller to trust our certificate: SHA-1 {fingerprint}, application {uri}, file {file}.',
  'server-certificate-expired':
    "The server's certificate ended on {until}; today is {today}. The controller needs a new one, or the date here is wrong.",
  'server-certificate-not-yet':
    "The server's certificate begins on {from}; today is {today}. Mostly a clock is wrong, at the controller or here.",
  'server-certificate-ends-soon':
    "The server's certificate ends on {until}. From then on nobody can connect: have it renewed before.",
  'client-certificate-expired':
    'Our certificate ended on {until}; today is {today}. Take certificate and key away; new ones are made at the next start.',
  'client-certificate-not-yet':
    'Our certificate begins on {from}; today is {today}. The date here is wrong, or was when it was made.',
  'client-certificate-ends-soon':
    'Our certificate ends on {until}. Take certificate and key away before; new ones are made, and the server must trust them.',
  'server-uri-differs':
    "The server's certificate is made out to {certificate}, but the server calls itself {application}. Whoever keeps the controller should make a new certificate.",
  'server-host-differs':
    "The server's certificate is made out to {hosts}, not to {host}. That is usual where a controller is reached by its address; compare the fingerprint.",
  'server-key-short':
    "The key of the server's certificate has {bits} bits; the security policies here want {least} at least.",
  'fingerprint-short': 'Give at least 8 digits of the fingerprint.',
  'fingerprint-unknown':
    'No certificate with this fingerprint was seen. Connect once, then look with: tripwitness certificates list.',
  'fingerprint-several': 'Several certificates begin with these digits. Give more of them.',
} as const;

/** Of OPC UA: connections, addresses, subscriptions, certificates. */
export const OPC_UA = { ...WAY, ...ADDRESSES, ...RUNNING, ...DOCTOR } as const;
