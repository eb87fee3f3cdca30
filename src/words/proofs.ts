/** Why the proof of an interlock holds, or does not hold any longer. */
export const PROOFS = {
  'stale-revision':
    'The controller of {machine} went from revision {from} to {to} (seen {at:day}): what was proved on the old one is not what runs[; it was put into the scope: {why}]. Prove it again, or enter the scope of the change.',
  'stale-scope': 'After a change ({change}) {by} put it into the scope on {at:day}: {why}. Prove it again.',
  'stale-rule': '{what} was {was} when it was proved, and is {becomes} now. Prove it again.',
  'stale-no-book':
    'The rulebook that window {window} was judged by is not in the log: nobody can say whether it is still the same. Prove it again.',
  'failed-in-test':
    'It failed in window {window} on {at:day}, and has not passed since. Put it right and prove it.',
  'failed-on-demand':
    'It failed when it was needed ({window}, {at:day}), and has not passed a test since. Put it right and prove it.',
  'danger-seen':
    'On {at:day} it was seen that it does not protect (entry {entry}), and it has not passed a test since. Find out why, put it right and prove it.',
  'proof-bypassed': 'It is bypassed since {at:day} ({id}). It protects nobody until the bypass is off.',
  'proof-overdue': 'It was due on {due:day}. Prove it, or defer it with a reason.',
  'proof-in-grace': 'It was due on {due:day}, with grace until {grace:day}.',
  'proof-deferred': 'It was due on {due:day}, and is deferred until {until:day} ({id}).',
  'proof-inconclusive': 'The last test came out inconclusive ({window}, {at:day}).',
  'proof-method-does-not-count':
    'It passed in window {window} with this way of testing: {method:method}. For its interval only these count: {methods}.',
  'proof-demand-only':
    'It acted as it should on a real demand ({window}, {at:day}). That is partial evidence and replaces no test.',
  'proof-failed-as-found':
    'As found it failed in window {window}; it was put right and passed as left. Find out since when.',
  'proof-no-revision':
    'Nobody stated which revision ran in window {window}: a change of the program between then and now cannot be excluded.',
} as const;

/** Parts of a chain that no test has proved, or none for long. */
export const GAPS = {
  'gap-all': 'No test has proved any part of {interlock}.',
  'gap-sensor-never':
    'Nobody has moved the sensor of {interlock}: it was injected, forced or not tested. Move the real thing once.',
  'gap-sensor-old': 'The sensor of {interlock} has not been moved since {at:day} ({window}).',
  'gap-never': 'Nobody has proved of {interlock}: {segments:segment}.',
  'gap-old': 'Of {interlock} not proved since {at:day} ({window}): {segments:segment}.',
  'gap-stale':
    'Of {interlock} proved on {at:day} ({window}), on what does not run any more: {segments:segment}.',
} as const;

/** Why an interlock is to be proved again after a change. */
export const SCOPE = {
  'scope-line': 'Its own rule was named ({name}).',
  'scope-depends-on': 'It depends on {name}.',
  'scope-tag': 'It rests on the tag {name}.',
  'scope-rule': '{what} was {was}, and becomes {becomes}.',
  'scope-shares': 'It shares {name} with {other}.',
  'scope-same-sensor': 'It rests on the same sensor as {other} ({name}).',
  'scope-same-effect': 'It brings about the same effect as {other} ({name}).',
  'scope-cascade': 'Its machine stops with that of {other} ({machine}).',
  'scope-control': 'Nobody touched it; it was proved longest ago among those.',
  'scope-all': 'Nothing of the old controller can be taken for granted.',
} as const;

/** What years of tests say of an interlock. */
export const DRIFT = {
  'drift-trip':
    'Its trip point drifts by {slope:unit} a year[; it may leave its tolerance from {earliest:day} on][, and has left it by {latest:day}]. These are the bounds of every straight line through all measured intervals.',
  'drift-response':
    'Its response drifts by {slope:unit} a year[; it may come too late from {earliest:day} on][, and does by {latest:day}]. These are the bounds of every straight line through all measured intervals.',
  'too-constant':
    'Too constant to be true: trip point and response of {windows} are the same to the last digit. Real tests scatter; compare the traces, and test again with a witness.',
} as const;
