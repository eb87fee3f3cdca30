/** What stands against closing a guided window, and why a step is not taken now. */
export const GUIDANCE = {
  'guide-trial-runs': 'A trial of {interlock} is running. Let it end, or abort it.',
  'guide-no-trial': '{interlock} has not been tried. Try it, or leave it and say why.',
  'guide-undecided':
    '{interlock} is not decided after {trials} {trials|trial|trials}. Try again, or leave it and say why.',
  'guide-not-identified':
    '{interlock} was tried, and nobody has named its sensor rightly. Name it, or say why not in a note.',
  'guide-not-alone':
    'While the sensor of {interlock} was touched, not its signal alone moved. Find the right sensor, and watch again.',
  'guide-not-attested': 'Nobody has said during a trial of {interlock}: {what:attestation}.',
  'guide-not-restored': 'Not put right yet: {item:restoration}.',
  'guide-permit': 'Say under which permit the test is made, or "none needed" and why.',
  'guide-permit-why': 'Where no permit is needed, say why: "none needed: …".',
  'guide-people': 'Name at least one person who tests.',
  'guide-precautions': 'Confirm every precaution first. Missing: {missing}.',
  'guide-no-book':
    'The window cannot go on: the site was changed while the daemon was away. What was tested before stands in the record.',
  'guide-too-long':
    'The window cannot go on: nobody came back for {minutes} minutes. What was tested before stands in the record.',
  'guide-clock-back':
    'The window cannot go on: the clock of this machine was set back while the daemon was away. What was tested before stands in the record.',
  'guide-not-the-same':
    'The window cannot go on: this version of the program judges what was recorded in another way. What was tested before stands in the record.',
  'guide-not-open': 'Window {window} is not open.',
  'guide-not-guided': 'Window {window} is not guided: marks are enough.',
  'guide-not-in-window': '{interlock} is not under test in this window. Under test: {known}.',
  'guide-is-left': '{interlock} was left. Take it up again first.',
  'guide-not-left': '{interlock} is not over: there is nothing to take up again.',
  'guide-in-trial': 'A trial of {interlock} is running. Wait until it is over.',
  'guide-identify-first': 'Name the sensor of {interlock} first: what stands on its tag, or its signal.',
  'guide-wait-first': '{interlock} is not ready. See what it waits for.',
  'guide-call-first': 'Call the movement of {interlock} first.',
  'guide-repeat-first': 'Wait until the other person has repeated the call for {interlock}.',
  'guide-counting': 'It is counted down already, to {at}.',
  'guide-not-counting': 'Nothing is counted down for {interlock}.',
  'guide-watching': 'It is watched already what moves for {interlock}.',
  'guide-not-watching': 'It is not watched what moves for {interlock}.',
  'guide-blind': 'There are no readings of {signal} from the last seconds to hold a movement against.',
} as const;
