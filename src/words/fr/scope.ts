import type { SCOPE as EN } from '../en/scope.ts';
import type { Translation } from '../language.ts';

/** Why an interlock is to be proved again after a change. */
export const SCOPE: Translation<typeof EN> = {
  'scope-line': 'Sa propre règle a été nommée ({name}).',
  'scope-depends-on': 'Il dépend de {name}.',
  'scope-tag': 'Il repose sur la variable {name}.',
  'scope-rule': '{what} : avant {was}, désormais {becomes}.',
  'scope-shares': 'Il partage {name} avec {other}.',
  'scope-same-sensor': 'Il repose sur le même capteur que {other} ({name}).',
  'scope-same-effect': 'Il provoque le même effet que {other} ({name}).',
  'scope-cascade': 'Sa machine s’arrête avec celle de {other} ({machine}).',
  'scope-control': 'Personne n’y a touché ; parmi ceux-là, sa preuve est la plus ancienne.',
  'scope-all': 'Rien de l’ancien automate ne peut être tenu pour acquis.',
};
