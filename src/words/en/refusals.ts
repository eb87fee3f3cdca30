/** Why the daemon does not do what was asked, where no rule of the record is against it. */
export const REFUSALS = {
  'not-found': 'There is nothing here.',
  'no-window':
    'There is no window {window} in this run of the daemon. An older one stands in the log: "tripwitness report LOG --window {window}" shows it.',
  'no-window-in-log': 'There is no window {window} in the log.',
  'no-book': 'The log holds no rulebook yet.',
  'window-open-already': 'Window {window} is open. Close it first.',
  'no-interlock': 'There is no interlock "{name}".[ There are: {known}.]',
  'no-machine': 'There is no machine "{name}".',
  'no-method': 'There is no test method "{name}".[ There are: {known}.]',
  'interlocks-unnamed': 'Name at least one interlock: interlocks=a,b.',
  'methods-not-fitting': 'Name one test method for each interlock, or one for all.',
  'no-level-to-observe': '{interlock} acts on no measured level: there is no value to observe.',
  'other-unit':
    '{signal} is in {own}, and "{said}" is no value of it. Write a number with one of these units: {units}.',
  'no-signal': 'There is no signal {signals}.',
  'signals-unnamed': 'Name the signals: signals=a,b.',
  'signals-too-many': 'At most {most} signals can be followed at once.',
  'followers-too-many': '{most} pages follow already. Close one of them.',
  'bad-request': 'It was not understood what was asked.[ Not as it must be: {faults:semicolons}.]',
  'too-large': 'What was sent is too large.',
  trouble: 'The daemon met a fault of its own[: {detail}]. Look into what it printed.',
} as const;
