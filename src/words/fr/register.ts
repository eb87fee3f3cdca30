import type { REGISTER as EN } from '../en/register.ts';
import type { Translation } from '../language.ts';

/** Why an item of the register is not opened or closed, and what to do instead. */
export const REGISTER: Translation<typeof EN> = {
  'register-unknown-on':
    'Aucun asservissement ni aucune machine de ce site ne s’appelle « {on} ».[ Il y a : {known}.]',
  'register-text': 'Dire en mots de quoi traite ce point ({item:item}).',
  'register-missing': 'Ce point ({item:item}) ne peut être ouvert sans : {fields}.',
  'register-day':
    'Un tel moment n’existe pas ({field:field}) : {day}. Un jour s’écrit 2026-11-25, une heure 2026-11-25T06:30:00Z.',
  'register-day-past': 'Ce jour est passé ({field:field}) : {day}.',
  'register-since-future': 'Ce moment est encore à venir : {since}.',
  'register-unknown-id': 'Il n’y a pas de point « {id} ».[ Il y a : {known}.]',
  'register-closed': '{id} est fermé depuis {at}. En ouvrir un nouveau.',
  'register-needs-window': '{id} est de catégorie A : nommer l’essai qui prouve {on}.',
  'register-no-window': 'Il n’y a pas dans ce journal d’essai {window} pour fermer {id}.',
  'register-window-standing':
    'État de l’essai {window} : {standing:window}. {id} se ferme par un essai qui a été fermé.',
  'register-window-before':
    'L’essai {window} a été ouvert avant {id} : il ne prouve pas que le défaut a disparu.',
  'register-not-proved': 'L’essai {window} ne dit rien de {on} : il ne ferme pas {id}.',
  'register-not-passed': 'L’essai {window} ne prouve pas {on} : {open}. {id} reste ouvert.',
  'log-other-daemon':
    'Le service à {url} écrit un autre journal. Nommer avec --daemon celui qui écrit {log}.',
};
