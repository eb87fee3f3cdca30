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
    'It passed in window {window} with this way of testing: {method:method}. For its interval only these count: {methods:method}.',
  'proof-demand-only':
    'It acted as it should on a real demand ({window}, {at:day}). That is partial evidence and replaces no test.',
  'proof-failed-as-found':
    'As found it failed in window {window}; it was put right and passed as left. Find out since when.',
  'proof-no-revision':
    'Nobody stated which revision ran in window {window}: a change of the program between then and now cannot be excluded.',
} as const;
