/** What people did on the way through a guided window, as a report tells it. */
export const STEPS = {
  'step-identified': 'Sensor of {interlock} named, {how:naming}: "{typed}".',
  'step-not-identified': 'Sensor of {interlock} named wrongly, {how:naming}: "{typed}".',
  'step-watch-alone': 'Sensor of {interlock} touched: its signal alone moved.',
  'step-watch-others': 'Sensor of {interlock} touched: what moved was {moved}.',
  'step-watch-nothing': 'Sensor of {interlock} touched: nothing moved.',
  'step-watch-open': 'Sensor of {interlock} touched: whether it moved alone was not seen.',
  'step-left': '{interlock} left: {why}.',
  'step-taken-up': '{interlock} taken up again.',
  'step-restored': 'Put right: {item:restoration}[ ({note})].',
  'step-away': 'The daemon was away for {seconds:seconds}; nothing is known of that time.',
  'step-open': 'Closed with this open: {open:unended}.',
} as const;
