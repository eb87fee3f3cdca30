/** Set point, delay, limit and normal. An undecided one says what would decide it. */
export const LEVELS = {
  'set-point-inside':
    'Trip point {trip:unit} lies [~probability|wholly ]inside the set point band {allowed:band}[; delay {delay:s}][; by its best estimate, probability of conformance {probability:chance}].',
  'set-point-outside':
    'Trip point {trip:unit} lies [~probability|wholly ]outside the set point band {allowed:band}[; by its best estimate, probability of conformance {probability:chance}].',
  'set-point-undecided':
    'Trip point {trip:unit} lies neither [~probability|wholly ]inside nor [~probability|wholly ]outside the band {allowed:band}[; by its best estimate, probability of conformance {probability:chance}]. Make a hold test: hold just inside, then just outside[; or ramp at most {advised:rate} at this poll rate].',
  'reaction-not-measured':
    'Trip point {trip:unit} lies inside the band {allowed:band} if it acts at once. It may take up to {reaction:s}: then it may lie at {within:unit}[; probability of conformance {probability:chance}]. Move the cause more slowly, or add a step well beyond the set point in the same window, which measures how soon it acts.',
  'level-and-delay-not-separated':
    'One ramp cannot tell a low set point from a long delay[ (trip point {trip:unit}, delay {delay:s})][; probability that the trip point conforms: {probability:chance}]. Add a step well beyond the set point, or a hold test, in the same window.',
  'level-or-delay-outside':
    'Set point and delay cannot both be right: with the delay as declared[ ({delay:s})] the trip point would be {trip:unit}, outside {allowed:band}.',
  'trials-disagree':
    'No set point and delay explain all trials together. The interlock does not repeat, or something else acted. Repeat the trials.',
  'limit-met':
    'Trip point {trip:unit} keeps the limit {limit:band} ({basis})[; by its best estimate, probability of conformance {probability:chance}].',
  'limit-violated':
    'Trip point {trip:unit} breaks the limit {limit:band} ({basis})[; by its best estimate, probability of conformance {probability:chance}].',
  'limit-undecided':
    'Trip point {trip:unit} may lie on either side of the limit {limit:band} ({basis})[; by its best estimate, probability of conformance {probability:chance}]. Ramp more slowly, or make a hold test just inside the limit.',
  'limit-without-action':
    'Held beyond {value:unit} for {seconds:seconds} nothing acted, although the limit is {limit:band} ({basis}).',
  'limit-not-tested': 'The limit ({basis}) was not tested: no trip point was measured.',
  'delay-inside':
    'Delay {delay:s} lies [~probability|wholly ]inside {allowed:band-s}[; by its best estimate, probability of conformance {probability:chance}].',
  'delay-outside':
    'Delay {delay:s} lies [~probability|wholly ]outside {allowed:band-s}[; by its best estimate, probability of conformance {probability:chance}].',
  'delay-undecided':
    'Delay {delay:s} cannot be placed against {allowed:band-s}[; by its best estimate, probability of conformance {probability:chance}]. Poll faster, or make a sharper step.',
  'delay-not-measured':
    'The delay[ (declared {allowed:band-s})] was not measured. Make a step well beyond the set point in this window.',
  'normal-agrees': 'Normal {normal:unit} agrees with the nameplate {nameplate:unit} (± {allowance} %).',
  'normal-disagrees':
    'Normal {normal:unit} differs from the nameplate {nameplate:unit} by more than {allowance} %. It may have been learned on a slipping belt. Check the speed by hand.',
  'normal-agrees-with':
    'Normal {normal:unit} agrees with {signal}, which gives {reference:unit} (± {allowance} %).',
  'normal-differs-from':
    'Normal {normal:unit} differs from {signal}, which gives {reference:unit}, by more than {allowance} %. The belt may slip. Check the speed by hand.',
  'normal-unsure-against':
    'Whether normal {normal:unit} agrees with {signal}, which gives {reference:unit} (± {allowance} %), cannot be decided. Read both with a finer resolution.',
  'normal-without-reference': 'Normal cannot be held against {signal}: it has no value.',
  'normal-as-before': 'Normal {normal:unit} is what it was in {window} ({earlier:unit}, ± {allowance} %).',
  'normal-moved':
    'Normal {normal:unit} has moved by more than {allowance} % since {window} ({earlier:unit}). Find out why, and check the speed by hand: it may have been learned on a slipping belt.',
  'normal-undecided':
    'Whether normal {normal:unit} agrees with the nameplate {nameplate:unit} (± {allowance} %) cannot be decided. Let it run steady for longer, or read it with a finer resolution.',
  'no-nameplate': 'No nameplate value is stated[ for {basis}]: normal cannot be compared with it.',
  'quiet-inside': 'Held at {value:unit} for {seconds:seconds}, just inside its set point, it did not act.',
  'acted-inside':
    'It acted at {value:unit}, although the cause certainly had not reached the set point band.',
  'on-return-as-declared': 'When the cause came back for a moment, the delay {found:return}, as declared.',
  'on-return-otherwise':
    'When the cause came back for a moment, the delay {found:return}; it is declared that it {declared:return}.',
  'acted-after-return':
    'It acted although the cause had lasted only {lasted:seconds} and had gone again; the delay is {delay:s}. The delay does not begin anew.',
  'observed-agrees':
    'The {instrument} at the sensor showed {observed:unit} (read by {by}), the controller {trip:unit}: they agree within the tolerance.',
  'observed-disagrees':
    'The {instrument} at the sensor showed {observed:unit} (read by {by}), but the controller had {trip:unit}. Check the scaling and the sensor.',
  'observed-undecided':
    'The {instrument} at the sensor showed {observed:unit} (read by {by}), the controller {trip:unit}: whether they agree within the tolerance cannot be decided. Move the cause more slowly, or use a finer instrument.',
  'observed-without-trip':
    'The {instrument} at the sensor showed {observed:unit} (read by {by}), but there is no trip to compare it with.',
  repeats: '{trials} trials agree within {apart:unit}[ (allowed {allowed:band})].',
  'does-not-repeat': '{trials} trials differ by {apart:unit}, more than the allowed {allowed:band}.',
  'repeat-undecided':
    'Whether {trials} trials agree cannot be decided: they are {apart:unit} apart, {allowed:band} allowed. Move the cause more slowly.',
  'repeat-more': '{wanted} trials are asked for; {trials} can be compared. Make more.',
  'contact-has-no-trip-point': 'The cause is a contact; it has no trip point.',
  'response-reported': 'Response time[ {response:s}] is reported, not judged.',
} as const;
