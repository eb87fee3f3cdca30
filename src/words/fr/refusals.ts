import type { REFUSALS as EN } from '../en/refusals.ts';
import type { Translation } from '../language.ts';

/** Why the daemon does not do what was asked, where no rule of the record is against it. */
export const REFUSALS: Translation<typeof EN> = {
  'not-found': 'Il n’y a rien ici.',
  'no-window':
    'Ce service n’a pas d’essai {window} depuis son démarrage. Un essai plus ancien figure dans le journal : « tripwitness report LOG --window {window} » le montre.',
  'no-window-in-log': 'Il n’y a pas d’essai {window} au journal.',
  'no-book': 'Le journal ne contient pas encore de livre de règles.',
  'window-open-already': 'L’essai {window} est encore ouvert. Le fermer d’abord.',
  'no-interlock': 'Il n’y a pas d’asservissement « {name} ».[ Il y a : {known}.]',
  'no-machine': 'Il n’y a pas de machine « {name} ».',
  'no-method': 'Il n’y a pas de méthode d’essai « {name} ».[ Il y a : {known}.]',
  'interlocks-unnamed': 'Nommer au moins un asservissement : interlocks=a,b.',
  'methods-not-fitting': 'Nommer une méthode d’essai pour chaque asservissement, ou une pour tous.',
  'no-level-to-observe': '{interlock} n’agit sur aucun niveau mesuré : il n’y a pas de valeur à lire.',
  'other-unit':
    '{signal} se mesure en {own}, et « {said} » n’en est pas une valeur. Écrire un nombre avec l’une de ces unités : {units}.',
  'no-signal': 'Il n’y a pas de signal {signals}.',
  'signals-unnamed': 'Nommer les signaux : signals=a,b.',
  'signals-too-many': 'On peut suivre au plus {most} signaux à la fois.',
  'followers-too-many': '{most} pages suivent déjà. En fermer une.',
  'bad-request': 'La demande n’a pas été comprise.[ Pas comme il faut : {faults:semicolons}.]',
  'too-large': 'Ce qui a été envoyé est trop grand.',
  trouble: 'Le service a rencontré un défaut interne[ : {detail}]. Voir ce qu’il a affiché.',
};
