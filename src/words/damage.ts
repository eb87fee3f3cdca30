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
  'block-missing': 'The answers that this entry names are gone ({block}).',
  'block-altered': 'The answers that this entry names were changed ({block}).',
  'block-unnamed': 'Answers stand in the log that no entry names ({block}).',
  'trace-without-block': 'This "{kind}" entry names no answers.',
  'database-damaged': '{path} is damaged as a database: {why}.',
  'wal-broken': 'The write-ahead file beside the log was changed (frame {frame}).',
  'log-empty': 'There is no entry at all.',
  'more-damage': 'There are {count} more findings.',
};
