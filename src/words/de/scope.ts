import type { SCOPE as EN } from '../en/scope.ts';
import type { Translation } from '../language.ts';

/** Why an interlock is to be proved again after a change. */
export const SCOPE: Translation<typeof EN> = {
  'scope-line': 'Ihre eigene Regel wurde genannt ({name}).',
  'scope-depends-on': 'Sie hängt von {name} ab.',
  'scope-tag': 'Sie stützt sich auf die Variable {name}.',
  'scope-rule': '{what}: bisher {was}, künftig {becomes}.',
  'scope-shares': 'Sie teilt {name} mit {other}.',
  'scope-same-sensor': 'Sie stützt sich auf denselben Sensor wie {other} ({name}).',
  'scope-same-effect': 'Sie hat dieselbe Wirkung wie {other} ({name}).',
  'scope-cascade': 'Ihre Maschine bleibt mit der von {other} stehen ({machine}).',
  'scope-control': 'Niemand hat sie berührt; unter diesen liegt ihr Nachweis am längsten zurück.',
  'scope-all': 'Nichts von der alten Steuerung darf als gegeben gelten.',
};
