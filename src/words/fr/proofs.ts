import type { PROOFS as EN } from '../en/proofs.ts';
import type { Translation } from '../language.ts';

/** Why the proof of an interlock holds, or does not hold any longer. */
export const PROOFS: Translation<typeof EN> = {
  'stale-revision':
    'L’automate de {machine} est passé de la révision {from} à {to} (vu le {at:day}) : ce qui a été prouvé sur l’ancienne n’est pas ce qui tourne[ ; il a été mis dans le périmètre : {why}]. Le prouver de nouveau, ou inscrire le périmètre de la modification.',
  'stale-scope':
    'Après une modification ({change}), {by} l’a mis dans le périmètre le {at:day} : {why}. Le prouver de nouveau.',
  'stale-rule':
    'La règle a changé ({what}) : lors de la preuve {was}, à présent {becomes}. Le prouver de nouveau.',
  'stale-no-book':
    'Le livre de règles selon lequel l’essai {window} a été jugé n’est pas dans le journal : personne ne peut dire s’il est encore le même. Le prouver de nouveau.',
  'failed-in-test':
    'Il était non conforme dans l’essai {window} le {at:day}, et n’a pas été conforme depuis. Y remédier et le prouver.',
  'failed-on-demand':
    'Il n’a pas agi comme il devait quand il le fallait ({window}, {at:day}), et n’a été conforme dans aucun essai depuis. Y remédier et le prouver.',
  'danger-seen':
    'Le {at:day}, on a vu qu’il ne protège pas (écriture {entry}), et il n’a été conforme dans aucun essai depuis. Chercher pourquoi, y remédier et le prouver.',
  'proof-bypassed':
    'Il est inhibé depuis le {at:day} ({id}). Il ne protège personne tant que l’inhibition n’est pas levée.',
  'proof-overdue': 'Il était à échéance le {due:day}. Le prouver, ou le reporter avec un motif.',
  'proof-in-grace': 'Il était à échéance le {due:day}, avec délai de grâce jusqu’au {grace:day}.',
  'proof-deferred': 'Il était à échéance le {due:day}, et est reporté au {until:day} ({id}).',
  'proof-inconclusive': 'Le dernier essai était non concluant ({window}, {at:day}).',
  'proof-method-does-not-count':
    'Il était conforme dans l’essai {window} avec cette façon d’essayer : {method:method}. Pour son échéance ne comptent que : {methods:method}.',
  'proof-demand-only':
    'Il a agi comme il le doit lors d’un déclenchement réel ({window}, {at:day}). C’est une preuve partielle qui ne remplace aucun essai.',
  'proof-failed-as-found':
    'Tel que trouvé, il était non conforme dans l’essai {window} ; on y a remédié et il était conforme tel que laissé. Chercher depuis quand.',
  'proof-no-revision':
    'Personne n’a indiqué quelle révision tournait dans l’essai {window} : une modification du programme entre ce jour et maintenant ne peut être exclue.',
};
