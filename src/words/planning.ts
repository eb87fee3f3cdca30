/** What the polling as it stands can and cannot decide, told before anybody tests; and how to make the test. */
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
  'plan-ramp':
    'Ramp at most {rate:rate}[, without a jump from {from:unit} on]; then hold at {level:unit} for {seconds:seconds}.',
  'plan-hold':
    'No ramp is slow enough. Hold at {inside:unit} for {insideFor:seconds} or longer: it must not act. Then at {acting:unit} for {actingFor:seconds}: acting here passes. Then at {outside:unit} for {outsideFor:seconds}: it must act.',
  'plan-or-hold':
    'Or hold at {inside:unit} for {insideFor:seconds} or longer: it must not act. Then at {acting:unit} for {actingFor:seconds}: acting here passes. Then at {outside:unit} for {outsideFor:seconds}: it must act.',
  'plan-step':
    'For the delay, one step from normal to[ {below:unit} or lower][ {above:unit} or higher], for {seconds:seconds}, in the same window.',
  'plan-step-first':
    'Or first one step from normal to[ {below:unit} or lower][ {above:unit} or higher], for {seconds:seconds}, in the same window: it measures the reaction, and a ramp of at most {rate:rate} is slow enough.',
  'plan-stop-first':
    'Or first one step from normal to standstill, for {seconds:seconds}, in the same window: it measures the reaction, and a ramp of at most {rate:rate} is slow enough.',
  'plan-stop':
    'For the delay, one step from normal to standstill, for {seconds:seconds}, in the same window.',
  'plan-band': 'Hold it within {within:band} for {seconds:seconds} or longer.',
  'plan-keep': 'Keep the cause for {seconds:seconds} at least.',
  'coach-no-reading': 'No reading of the cause to go by.',
  'coach-not-there': 'The cause is not there yet.',
  'coach-approach': 'Not yet in range[: from {level:unit} on, at most {allowed:rate}].',
  'coach-slow-down': 'Slow down: {rate:unit}/s, at most {allowed:rate}.',
  'coach-in-range': 'In range: {rate:unit}/s, at most {allowed:rate}.',
  'coach-unclear': 'Somewhere in {rate:unit}/s, at most {allowed:rate}: keep it slow and steady.',
  'coach-stand-still': 'No ramp is slow enough here: hold.',
  'coach-hold': 'Hold: {left:seconds} more.',
  'coach-held': 'Held long enough.',
} as const;
