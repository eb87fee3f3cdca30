/** What years of tests say of an interlock. */
export const DRIFT = {
  'drift-trip':
    'Its trip point drifts by {slope:unit} a year[; it may leave its tolerance from {earliest:day} on][, and has left it by {latest:day}]. These are the bounds of every straight line through all measured intervals.',
  'drift-response':
    'Its response drifts by {slope:unit} a year[; it may come too late from {earliest:day} on][, and does by {latest:day}]. These are the bounds of every straight line through all measured intervals.',
  'too-constant':
    'Too constant to be true: trip point and response of {windows} are the same to the last digit. Real tests scatter; compare the traces, and test again with a witness.',
} as const;
