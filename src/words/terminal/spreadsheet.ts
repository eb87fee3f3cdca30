/** A cause-and-effect sheet held against the rulebook. */
export const SPREADSHEET: Readonly<Record<string, string>> = {
  'sheet-no-head':
    'No row begins with "Interlock". Write one that begins so and goes on with the names of the effects, such as E1.run-command.',
  'sheet-twice': '{name} stands there twice. Which of the two counts is not known: take one away.',
  'sheet-cell-unreadable':
    'Cell {cell} says "{value}". Write X, X 1.5 s, X 0.5 … 1.5 s, stays, or leave it blank.',
  'sheet-no-interlock': 'Cell {cell}: {interlock} is not in the rulebook.',
  'sheet-interlock-missing': '{interlock} is in the rulebook, and not in the sheet.',
  'sheet-no-signal': 'Cell {cell}: {effect} is no signal of the site.',
  'sheet-no-column': '{interlock} → {effect} is in the rulebook; the sheet has no column for it.',
  'sheet-not-in-rules': 'Cell {cell}: {interlock} → {effect} is marked; the rulebook does not ask for it.',
  'sheet-not-marked': 'Cell {cell}: {interlock} → {effect} is in the rulebook, and not marked.',
  'sheet-other-time':
    'Cell {cell}: {interlock} → {effect} by {sheet:seconds} at the latest in the sheet, by {rules:seconds} in the rulebook.',
  'sheet-other-earliest':
    'Cell {cell}: {interlock} → {effect} not before {sheet:seconds} in the sheet, not before {rules:seconds} in the rulebook.',
  'sheet-must-stay':
    'Cell {cell}: {interlock} → {effect} is marked as something that acts; in the rulebook it must stay as it is.',
  'sheet-must-act':
    'Cell {cell}: {interlock} → {effect} is marked as something that stays; in the rulebook it must act.',
};
