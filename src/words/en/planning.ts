/** What the polling as it stands can and cannot decide, told before anybody tests. */
export const PLANNING = {
  'set-point-at-limit':
    'The set point {setPoint:unit} is at or beyond its limit {limit:unit}: a trip there is mostly undecidable. Move the set point to the safe side.',
  'tolerance-beyond-limit':
    'The set point band {band:band} reaches beyond the limit {limit:unit}: inside its tolerance the interlock could break it.',
  'resolution-too-coarse':
    'The signal is known to {doubt:unit} at best, the band is {band:unit} wide: no test can decide it.[ Read it in steps of {needed:unit}, or widen the tolerance.]',
  'resolution-by-luck':
    'The signal is known to {doubt:unit}, the set point is {room:unit} away from what is not allowed: a test decides only if the values fall well.[ Read it in steps of {needed:unit}, or widen the tolerance.]',
  'pulses-too-coarse':
    'One count is worth {step:unit}, a reading is {doubt:unit} wide, the band {band:unit}: counting cannot decide it.[ {targets} times the targets would;][ so would a gate of {gate:seconds};][ best measure the period, in ticks of {tick} µs or less.]',
  'pulses-by-luck':
    'One count or tick is worth {step:unit}, a bound may be {doubt:unit} off, the set point is {room:unit} away from what is not allowed: a test decides only if the counts fall well.[ {targets} times the targets would;][ so would a gate of {gate:seconds};][ best measure the period, in ticks of {tick} µs or less.]',
  'pulses-beat':
    'At the set point pulses come at {hertz} Hz: {beats} in each {scan:seconds} cycle. A program that looks at the input once a cycle sees it stand still there. Take a trip as proved only if the pulses go to a counter input or a faster task.',
  'pulses-missed':
    'At the set point pulses come at {hertz} Hz: a program that looks at the input each {scan:seconds} misses some. It must look every {needed:seconds} or faster, or count in hardware.',
  'needs-step-or-hold':
    'With a delay of {delay:seconds}, a ramp or a hold alone decides nothing: add a step in the same window.',
  'normal-not-known-yet': 'Set point and band in figures are known only when the normal is.',
  'delay-unresolvable':
    'The delay is measured to {doubt:seconds} at best, which cannot decide ± {tolerance:seconds}.[ Poll every {poll:seconds} or faster, or widen the tolerance.][ Sampling and publishing must be {pace:seconds} together, or the tolerance wider.]',
  'delay-by-luck':
    'The delay is measured to {doubt:seconds}, which decides ± {tolerance:seconds} only if the looks fall well: repeat the step if it does not.[ Polled every {poll:seconds}, each step would.][ With {pace:seconds} of sampling and publishing together, each step would.]',
  'within-too-tight':
    '{effect} must come within {within:seconds}, but is timed to {doubt:seconds} only[ after a delay of {delay:seconds}].[ Poll every {poll:seconds} or faster, or allow more time.][ Sampling and publishing must be {pace:seconds} together, or the time longer.]',
  'beyond-process-safety-time':
    '{effect} may come {uses:seconds} after the deviation, age of the readings included: {over:seconds} later than the process safety time of {safety:seconds} allows. It cannot protect in time.',
  'half-process-safety-time':
    '{effect} may use {uses:seconds} of the process safety time of {safety:seconds}, age of the readings included; {left:seconds} are left. By a rule of thumb it uses at most half: {byHalf:seconds} to spare.',
  'cause-and-effect-apart':
    'Cause ({cause}) and effect ({effect}) come from two sources: their times are known less well. Read both from one.',
  'bypass-not-visible': 'Whether {machine} is bypassed cannot be read. It must be attested.',
  'effect-is-momentary':
    '{effect} lasts only while the cause does: keep the cause {seconds:seconds} longer, or it may be missed between two looks.',
} as const;
