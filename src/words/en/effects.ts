/** What the effects did. */
export const EFFECTS = {
  'effect-in-time': '{effect} came in {response:s} (at most {within:seconds}).',
  'effect-late': '{effect} came too late: {response:s}, at most {within:seconds}.',
  'effect-early': '{effect} came too early: {response:s}, not before {notBefore:seconds}.',
  'effect-time-undecided':
    'Whether {effect} came within {within:seconds} cannot be decided[: {response:s}]. Poll faster[ than {poll:seconds}], or make a sharp step.',
  'effect-time-reported':
    '{effect} came[; {response:s} after the set point is reported, not judged, because the cause was ramped].',
  'trip-or-stop':
    '{effect} did not come, but somebody may have stopped the machine unseen, and then nothing was left to trip. Poll the stop button faster than a finger, or have it attested that nobody pressed it, and repeat.',
  'effect-missing':
    '{effect} did not come, although the cause was certainly in its trip region for longer than {deadline:seconds}.',
  'effect-was-there':
    '{effect} was there before the cause moved: not tested here. Reset it and repeat, or test it with the interlock that comes first.',
  'effect-awaited':
    '{effect} had not come when the trial ended ({within:seconds} were allowed). Let the cause last longer, and wait before you reset.',
  'effect-not-reached':
    '{effect} could not be expected: the cause was never certainly past its set point. Go further beyond it.',
  'effect-attested': '{effect} is attested by {by}; no signal shows it.',
  'effect-substituted':
    '{effect} cannot be proved by {signal}, because that sensor was replaced during the test. Have it attested, or use another signal.',
  'held-until-reset': '{effect} stayed for {seconds:seconds} after the cause had cleared, without a reset.',
  'released-on-recovery': '{effect} went away when the cause cleared, without a reset. It must be held.',
  'released-while-cause': '{effect} went away while the cause was still there.',
  'release-inside': '{effect} went away at {value:unit}, inside its release band {allowed:band}.',
  'release-outside': '{effect} went away at {value:unit}, outside its release band {allowed:band}.',
  'release-undecided':
    'Whether {effect} went away inside its release band {allowed:band} cannot be decided ({value:unit}). Bring the cause back more slowly.',
  'not-released': '{effect} stayed although the cause had come back beyond its release band {allowed:band}.',
  'release-not-seen':
    'The release of {effect} was not seen. Bring the cause back slowly, past {allowed:band}, and wait.',
  'latch-not-tested':
    'Whether {effect} is held until reset was not tested. Let the cause clear and wait[ {seconds:seconds}] before reset and start.',
  'gone-without-reset': '{effect} went away after the trial although nobody pressed reset. It must be held.',
  'effect-momentary':
    '{effect} came and went again while its cause was still there: that it was seen at all is luck. Latch it, or let it last as long as its cause.',
  'restarted-without-start': '{effect} came back although nobody pressed start.',
  'order-kept': '{effect} came after {after}, as it must.',
  'order-broken': '{effect} came before {after}: the machine may have stopped for another reason.',
  'order-undecided':
    'Whether {effect} came after {after} cannot be decided. Poll faster, or read both in one request.',
  stayed: '{effect} stayed as it was for {seconds:seconds}, as it must.',
  'did-not-stay': '{effect} changed, but had to stay as it was.',
  'stay-not-tested': 'Whether {effect} stays as it is was not tested: the cause was never certainly there.',
  'stay-not-seen':
    '{effect} was not seen unbroken for {seconds:seconds} after the cause. Wait longer before the window is closed.',
  'not-held-long-enough':
    'The value was held between its two levels for {seconds:seconds} at most; {wanted:seconds} are asked for. Hold it longer.',
  'band-overshot':
    '{effect} changed, but the value may have gone farther than this test allows. Repeat, and stay between the two levels.',
} as const;
