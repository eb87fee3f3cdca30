/** How to make the test, from what the polling can decide. */
export const ADVICE = {
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
} as const;
