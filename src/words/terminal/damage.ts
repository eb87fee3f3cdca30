/** What `audit` says of a log that is not what was written. */
export const DAMAGE: Readonly<Record<string, string>> = {
  'entry-altered': 'Text and hash of this entry do not belong together: it was changed.',
  'entry-unreadable': 'This is no entry as this program writes it ({why}).',
  'entry-misplaced': 'This entry carries the number {says}: it was moved.',
  'entry-missing': 'Entries {from} to {to} are gone.',
  'entries-cut-off': 'Everything from entry {from} on is gone; a checkpoint covers {size} entries.',
  'genesis-misplaced': 'The first entry, and no other, begins a log; here stands "{kind}".',
  'checkpoint-altered':
    'The checkpoint over {size} entries was changed; the ones after it vouch for the entries.',
  'checkpoint-differs': 'Something between entry {from} and entry {to} is not what the checkpoints cover.',
  'no-checkpoint': 'No checkpoint covers entries {from} to {to}.',
  'signature-missing':
    'Checkpoints over {size} entries and more are not signed, though the log has a key: entries {from} to {to} were entered by somebody who does not hold it.',
  'signature-other-key':
    'Checkpoints over {size} entries and more are signed with another key than the one in force: entries {from} to {to} were entered by somebody who does not hold it.',
  'signature-wrong':
    'The signature of the checkpoint over {size} entries does not fit: entries {from} to {to} were rewritten by somebody who does not hold the key.',
  'key-unreadable': 'This entry names a key that is none.',
  'key-proof-wrong': 'This entry brings in a key that the one before it did not sign for.',
  'anchor-differs':
    'The first {size} entries are not what {from} remembers of them[ ({utc})]: the log was rewritten.',
  'anchor-beyond':
    '{from} remembers {size} entries[ ({utc})], but here are {entries}: the log was put back to an older copy of itself, or its end was cut off.',
  'anchor-other-log': '{from} remembers another log; this file was put in its place.',
  'anchor-other-key':
    '{from} remembers {size} entries under the key {key}, which is none of this log: all of it was signed anew with another key.',
  'checkpoints-differ':
    'The first {size} entries are what {from} remembers, but the checkpoints over them are not: one was taken away or changed.',
  'seal-broken':
    'This entry seals {checkpoints} checkpoints up to that over {size} entries; what stands there is not what was sealed[ ({found} found)].',
  'copy-parts': 'From this entry on the log and {from} go different ways.',
  'paper-unknown': 'No checkpoint of this log has the fingerprint {fingerprint}.',
  'key-not-ours':
    'The log is signed with the key {key}, but the site key in {from} is {ours}: somebody else signed it.',
  'header-altered':
    'The head of the file says that its tables are of version {version}; they are of version {has}.',
  'block-missing': 'The answers that this entry names are gone ({block}).',
  'block-altered': 'The answers that this entry names were changed ({block}).',
  'block-unnamed': 'Answers stand in the log that no entry names ({block}).',
  'trace-without-block': 'This "{kind}" entry names no answers.',
  'database-damaged': '{path} is damaged as a database: {why}.',
  'wal-broken': 'The write-ahead file beside the log was changed (frame {frame}).',
  'log-empty': 'There is no entry at all.',
  'bundle-unreadable': 'This is no bundle as this program writes it ({why}).',
  'bundle-genesis-missing': 'The first entry of the log, which names it and its key, is not in the bundle.',
  'bundle-other-log': 'The bundle says it is of log "{says}"; its first entry names "{log}".',
  'bundle-window-missing': 'The opening of window {window} is not in the bundle.',
  'bundle-book-missing': 'The rulebook that this window was judged by is not in the bundle ({book}).',
  'bundle-book-differs': 'The rulebook is not the one that its hash names ({book}).',
  'bundle-tree-gap': 'Nothing in the bundle tells what stands at entry {at}: no root can be made.',
  'bundle-tree-spare': 'A hash of left-out entries (from {at}) lies over others, or is not asked for.',
  'bundle-root-differs':
    'Entries and hashes do not lead to the root over {size} entries: one of them was changed.',
  'bundle-signature-false': 'The checkpoint over {size} entries is not signed by the key that it names.',
  'bundle-other-key':
    'The checkpoint over {size} entries was signed with a key that is not the log’s at that point ({key}).',
  'bundle-key-unproved': 'This key was not handed on by the one before it ({key}).',
  'bundle-entries-missing':
    'The window has {says} entries up to here; the bundle holds {holds}: something was left out or put in.',
  'bundle-findings-missing': 'The window closed with {says} findings; the bundle holds {holds}.',
  'bundle-answers-missing': 'The answers go on with number {to} where number {from} should come.',
  'bundle-answers-differ': 'This entry says {says} answers; its block holds {holds}.',
  'bundle-signer-unknown': 'No account of {person} is in the bundle: nobody can see who signed.',
  'bundle-other-fingerprint': 'Neither its key nor its state has the fingerprint {fingerprint}.',
  'page-without-evidence': 'The page carries no evidence.',
  'page-differs': 'The page is not what comes of its evidence: somebody changed what it shows.',
  'bundle-stranger': 'This "{kind}" entry has no business in a bundle of these windows.',
  'more-damage': 'There are {count} more findings.',
};

/** What happened to the keys when a log was opened for writing. */
export const KEYS: Readonly<Record<string, string>> = {
  'key-made': 'Made the site key {key} in {keys}; keep a copy of that folder in a safe place.',
  'key-adopted':
    'From now on the key {key} signs this log; no key before it signed for it. What stands before, {entries} entries, stays as it is.',
  'log-restored-now':
    'The log goes on from an older copy of itself; {size} entries were known before ({utc}), and the newest of them are lost.',
  'rotation-finished': 'A change of the key had been cut short; finished it: {key} signs.',
  'head-unreadable': 'What was remembered of this log in {file} could not be read; it is begun anew.',
};

/** Places where a log goes on without a proof from what stands before it. */
export const BREAKS: Readonly<Record<string, string>> = {
  'key-first': 'What stands before this entry is not signed: there was no key yet. From here on {key} signs.',
  'key-unproved':
    'The key {key} took over here, and the key before it ({before}) did not sign for it: it was lost, or this is not the work of its holder.',
  'log-restored':
    'The log was put back to an older copy of itself here and goes on from it; {size} entries were known before ({utc}).',
};

/** What `audit` says of a sound log beside its damage. */
export const AUDITED: Readonly<Record<string, string>> = {
  'copy-is-older':
    'It ends at {entries} entries; {from} remembers {size}[ ({utc})]: the newer ones are not in this copy.',
  'paper-found': 'The fingerprint {fingerprint} is that of its first {size} entries[ ({utc})].',
  'no-memory': '{keys} remembers nothing of this log.',
  'head-no-memory': '{file} is not readable as a memory of a log.',
};
