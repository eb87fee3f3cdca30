import type { STEPS as EN } from '../en/steps.ts';
import type { Translation } from '../language.ts';

/** What people did on the way through a guided window. */
export const STEPS: Translation<typeof EN> = {
  'step-identified': 'Sensor de {interlock} nombrado, {how:naming}: «{typed}».',
  'step-not-identified': 'Sensor de {interlock} mal nombrado, {how:naming}: «{typed}».',
  'step-watch-alone': 'Sensor de {interlock} tocado: solo se movió su señal.',
  'step-watch-others': 'Sensor de {interlock} tocado: lo que se movió fue {moved}.',
  'step-watch-nothing': 'Sensor de {interlock} tocado: no se movió nada.',
  'step-watch-open': 'Sensor de {interlock} tocado: no se vio si se movió solo.',
  'step-left': '{interlock} se dejó: {why}.',
  'step-taken-up': '{interlock} se retomó.',
  'step-restored': 'Restablecido: {item:restoration}[ ({note})].',
  'step-away': 'El servicio estuvo ausente {seconds:seconds}; de ese tiempo no se sabe nada.',
  'step-open': 'Cerrado con esto abierto: {open:unended}.',
};
