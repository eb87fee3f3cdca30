/** Where a rehearsal came out otherwise than its scenario says. */
export const REHEARSAL = {
  'rehearsal-no-verdict': '{interlock}[, trial {trial}]: expected {expected}, but no verdict came.',
  'rehearsal-no-aspect':
    '{interlock}[, trial {trial}]: nothing was judged as {aspect}. Judged were: {known}.',
  'rehearsal-other-verdict': '{interlock}[, trial {trial}][, {aspect}]: expected {expected}, came {came}.',
  'rehearsal-other-reason':
    '{interlock}[, trial {trial}][, {aspect}]: {expected} as expected, but not for this reason: {missing}.',
  'rehearsal-other-trials': '{interlock}: expected {expected} trials, came {came}.',
  'rehearsal-other-standing': '{interlock}, {of}: expected {expected}, came {came}.',
  'rehearsal-other-segments': '{interlock}: expected to prove {expected}, proved {came}.',
  'rehearsal-told': '[{interlock}: ]{expected} was told, but must not be.',
  'rehearsal-not-told': '[{interlock}: ]{expected} was never told.',
} as const;
