/**
 * The sums behind the figures of a verdict. `{place}`, `{band}` and the like are phrases (see `places`); `{effect}`: name of
 * an effect; seconds count from the opening of the window.
 */
export const SUMS = {
  'sum-share':
    'Trip point {trip:unit} ÷ normal {normal:unit}: {trip:low} ÷ {normal:high} … {trip:high} ÷ {normal:low} = {share:percent}.',
  'sum-trip': 'Trip point {trip:unit} against {band}: {place}.',
  'sum-trip-reaction':
    'Trip point {trip:unit} if it acts at once, {within:unit} if it takes {reaction:s}, against {band}: {place}.',
  'sum-trip-declared':
    'With the delay as declared[, {delay:band-s}], the trip point would be {trip:unit}, against {band}: {place}.',
  'sum-estimate':
    '{what}: best estimate ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}, against the limits themselves, {limits}: {place}[; probability of conformance {probability:conformance}].',
  'sum-guard-band':
    '{what}: best estimate ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}; U = ({high:short} − {low:short}) ÷ √3 = {expanded:short-unit}, w = {r:short} × U = {guard:short-unit}; accepted within {accepts}, rejected beyond {rejects}: {place}[; probability of conformance {probability:conformance}].',
  'sum-delay-each': 'What the delay can be: {trials:semicolons}.',
  'sum-delay': '{what} {delay:s} against {time} ± {tolerance:s} = {allowed:band-s}: {place}.',
  'sum-limit':
    'Limit ({basis}): {side} {limit}; {what} {value:unit}. To spare: {over:low} − {under:high} … {over:high} − {under:low} = {spare:step}: {place}.',
  'sum-limit-value': 'Limit ({basis}): {side} {limit}; {what} {value:unit}.',
  'sum-limit-idle':
    'Limit ({basis}): {side} {limit}. Held beyond {value:unit} for {seconds:seconds} without action: broken.',
  'sum-normal':
    'Normal {normal:unit} ÷ {what} {reference:unit} = {share:percent}, against 100 ± {allowance} %: {place}.',
  'sum-repeat':
    'Trip points of {trials} trials ({wanted} asked for) lie {apart:step} apart, against at most {allowed:step}: {place}.',
  'sum-repeat-few': 'Trip points that can be compared: {trials}, of {wanted} asked for.',
  'sum-observed':
    'Instrument {observed:unit}, controller {trip:unit}: apart {observed:low} − {trip:high} … {observed:high} − {trip:low} = {apart:step}, against ± {tolerance:step}: {place}.',
  'sum-observed-values': 'Instrument {observed:unit}, controller {trip:unit}.',
  'sum-hold-acted':
    '{trial}: held at {held:unit} ({where}) for {lasted:seconds} until it acted; at most: {needed}.',
  'sum-hold-quiet':
    '{trial}: held at {held:unit} ({where}) for {lasted:seconds}, and nothing acted; needed: {needed}.',
  'sum-response':
    '{effect} changed after {after:fixed} s and by {by:fixed} s; the cause reached its set point after {reachedAfter:fixed} s and by {reachedBy:fixed} s: {after:fixed} − {reachedBy:fixed} … {by:fixed} − {reachedAfter:fixed} = response {response:s}.',
  'sum-response-at-once':
    '{effect} changed after {after:fixed} s and by {by:fixed} s; the cause reached its set point after {reachedAfter:fixed} s, perhaps only with the change itself: 0 … {by:fixed} − {reachedAfter:fixed} = response {response:s}.',
  'sum-effect-missing':
    '{effect}: at most {deadline:seconds}, and it had not come when that had certainly passed.',
  'sum-effect-time': '{effect}: {response:s}, against {asked}: {place}.',
  'sum-effect-time-ramp':
    '{effect}: {response:s}, counted from the trip level itself, against {asked}: {place}.',
  'sum-held':
    '{effect}: asked to stay for {dwell:seconds} after the cause had cleared, without reset or start; it stayed for at least {dwell:seconds}[; {seen}].',
  'sum-held-not-seen':
    '{effect}: asked to stay for {dwell:seconds} after the cause had cleared, without reset or start; so long was not seen[; {seen}].',
  'sum-stayed':
    '{effect}: asked to stay as it was for {dwell:seconds}; seen unbroken for at least {dwell:seconds}[; {seen}].',
  'sum-stay-not-seen':
    '{effect}: asked to stay as it was for {dwell:seconds}; not seen unbroken for so long[; {seen}].',
  'sum-between':
    '{effect}: the value was held between its two levels for {seconds:seconds} at most, of {wanted:seconds} asked for.',
  'sum-order-kept': '{after} changed by {first:fixed} s, {effect} after {second:fixed} s: in this order.',
  'sum-order-broken':
    '{effect} changed by {first:fixed} s, {after} after {second:fixed} s: not in the order asked for.',
  'sum-order-open':
    '{effect} changed in {from:fixed} … {to:fixed} s, {after} in {afterFrom:fixed} … {afterTo:fixed} s: they overlap, not decided.',
  'sum-release': '{effect} went away at {value:unit}, against {allowed:band}: {place}.',
} as const;
