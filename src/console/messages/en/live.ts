/** What is being read, over time. */
export const LIVE = {
  title: 'Live trace',
  choose: 'What to follow',
  'by-interlock': 'Interlock',
  none: 'Signals of your choice',
  signals: 'Signals ({n} of {most})',
  machine: 'Signals of {machine}',
  other: 'Other signals',
  span: 'Time on the screen',
  nothing: 'Choose an interlock or a signal.',
  skipped:
    'This device was too slow: some readings were left out on the way. What is shown has been read anew.',
  away: 'No readings come. The trace ends where they stopped.',
  'mark-now': 'Mark now',
  'mark-note': 'Note of the mark',
  marked: 'The mark is entered in test window {window}.',
  'mark-title': 'Marks of the open test window',
  link: 'This view has an address of its own: copy it, or keep it.',
} as const;
