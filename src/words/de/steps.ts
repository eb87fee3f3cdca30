import type { STEPS as EN } from '../en/steps.ts';
import type { Translation } from '../language.ts';

/** What people did on the way through a guided window. */
export const STEPS: Translation<typeof EN> = {
  'step-identified': 'Sensor von {interlock} genannt, {how:naming}: „{typed}“.',
  'step-not-identified': 'Sensor von {interlock} falsch genannt, {how:naming}: „{typed}“.',
  'step-watch-alone': 'Sensor von {interlock} berührt: Allein ihr Signal bewegte sich.',
  'step-watch-others': 'Sensor von {interlock} berührt: Es bewegten sich {moved}.',
  'step-watch-nothing': 'Sensor von {interlock} berührt: Nichts bewegte sich.',
  'step-watch-open': 'Sensor von {interlock} berührt: Ob er sich allein bewegte, war nicht zu sehen.',
  'step-left': '{interlock} verlassen: {why}.',
  'step-taken-up': '{interlock} wieder aufgenommen.',
  'step-restored': 'In Ordnung gebracht: {item:restoration}[ ({note})].',
  'step-away': 'Der Dienst war {seconds:seconds} fort; von dieser Zeit ist nichts bekannt.',
  'step-open': 'Geschlossen, während offen war: {open:unended}.',
};
