/** What is wrong with a scenario, where, and what to do, by code. */
export const SCENARIO_FAULTS: Readonly<Record<string, string>> = {
  'scenario-about-nothing':
    'The scenario names neither a site ("site: FILE") nor a machine ("machine E1: RULES").',
  'scenario-acts':
    '"{text}" does not say who acts and when. Write INTERLOCK from 27.4 s, clears at 33 s, reset at 36 s, start at 38 s (the last three as needed).',
  'scenario-backwards': 'The end of this span lies before its beginning.',
  'scenario-code': 'Nothing ever tells "{code}"',
  'scenario-expect':
    '"{text}" is nothing that can be expected. Write trial N, the name of an aspect, trials, as-found, as-left, proves, tells or never-tells.',
  'scenario-expects-nothing':
    'The scenario expects nothing. Write "expect INTERLOCK: pass", or what else must come out.',
  'scenario-hand':
    '"{text}" is nothing that a person does here. Write press ROLE on MACHINE, attest WHAT on MACHINE, adjusted / aborted / bypassed INTERLOCK, observed VALUE ± DOUBT on INTERLOCK, now TEXT, clock stepped by TIME, interrupted since TIME, or revision of MACHINE is TEXT.',
  'scenario-indented':
    '"{text}" is indented, but stands under no machine. Indented lines describe the machine above them.',
  'scenario-move':
    '"{text}" does not say when. Write VALUE at TIME, VALUE from TIME to TIME, or ramp to VALUE at SLOPE from TIME.',
  'scenario-no-colon': '"{text}" has no colon. Every line is KEY: VALUE.',
  'scenario-no-normal': '{signal} has no {of} that a percentage could refer to. Write a value with its unit.',
  'scenario-order': '"{text}" comes before what stands in front of it. A line goes forward in time.',
  'scenario-outage': '"{text}" is no outage. Write one of {known} with from TIME to TIME.',
  'scenario-poll':
    '"{text}" is no way of polling. Write every TIME, at TIME, age TIME, scan TIME, aged after TIME, one answer.',
  'scenario-ramp-how': 'A ramp says how steep ("at 1 rpm/s") or how long ("in 10 s", "from 5 s to 15 s").',
  'scenario-several': '"{name}" could be any of {known}. Write the whole name.',
  'scenario-site-or-machine': 'A scenario names a site or its machines, not both.',
  'scenario-slope': '"{text}" is no slope. Write a value above 0 by time, such as 1 {unit}/s.',
  'scenario-unknown-interlock': 'There is no interlock "{name}" here. Interlocks: {known}',
  'scenario-unknown-line': 'Neither a key of a scenario nor a signal of its machines is called "{name}"',
  'scenario-window': '"{text}" is no window. Write none, whole, or from TIME to TIME.',
  'unknown-machine-here': 'There is no machine "{name}" here. Machines: {known}',
};
