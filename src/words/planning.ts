/** What the polling as it stands cannot decide, told before anybody tests. */
export const PLANNING = {
  'set-point-at-limit':
    'The set point {setPoint:unit} is at or beyond its limit {limit:unit}: a trip there is mostly undecidable. Move the set point to the safe side.',
  'tolerance-beyond-limit':
    'The set point band {band:band} reaches beyond the limit {limit:unit}: inside its tolerance the interlock could break it.',
  'resolution-too-coarse':
    'The signal is known to {doubt:unit} at best, the band is {band:unit} wide: no test can decide it. Read it finer, or widen the tolerance.',
  'needs-step-or-hold':
    'With a delay of {delay:seconds}, a ramp alone decides nothing: add a step or a hold test in the same window.',
  'normal-not-known-yet': 'Set point and band in figures are known only when the normal is.',
  'delay-unresolvable':
    'The delay is measured to {doubt:seconds} at best, which cannot decide ± {tolerance:seconds}. Poll faster, or widen the tolerance.',
  'within-too-tight':
    '{effect} must come within {within:seconds}, but is timed to {doubt:seconds} only[ after a delay of {delay:seconds}]. Poll faster, or allow more time.',
  'cause-and-effect-apart':
    'Cause ({cause}) and effect ({effect}) come from two sources: their times are known less well. Read both from one.',
  'bypass-not-visible': 'Whether {machine} is bypassed cannot be read. It must be attested.',
} as const;
