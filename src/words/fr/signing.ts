import type { SIGNING as EN } from '../en/signing.ts';
import type { Translation } from '../language.ts';

/** Why a signature, a correction or a written sheet is not entered, and what to do instead. */
export const SIGNING: Translation<typeof EN> = {
  'transcribe-no-window':
    'Il n’y a pas d’essai {window} dans ce journal ; « new » commence une feuille à part.',
  'sign-role':
    'Pour signer au titre « {meaning:meaning} », il faut le rôle {role:account-role}, que « {id} » n’a pas.',
  'sign-no-window': 'Il n’y a pas d’essai {window} dans ce journal.',
  'sign-open': 'L’essai {window} est ouvert. Le fermer d’abord ; une signature couvre tout l’essai.',
  'sign-differs':
    'Une signature antérieure de {window} ne correspond pas à ce qu’elle couvre. Lancer audit ; rien n’est signé par-dessus.',
  'sign-twice':
    'L’essai {window} est déjà signé au titre « {meaning:meaning} » par cette personne, et rien n’a été inscrit depuis.',
  'sign-not-independent': '{name} a pris part à l’essai {window}. Ce site demande un relecteur indépendant.',
  'open-not-independent':
    'Ce site demande un relecteur indépendant, et {name} est aussi nommé pour une autre tâche ({role:role}). Nommer un autre relecteur.',
  'signature-unreadable': 'Ce n’est pas une signature telle que ce programme les écrit.',
  'signature-differs':
    'Ce qui figure de {window} n’est pas ce que {person} a signé au titre « {meaning:meaning} ».',
  'amend-no-entry': 'L’essai {window} n’a pas d’écriture {entry}[ : {known}].',
  'amend-evidence':
    'L’écriture {entry} est du type « {kind} » : ce qui a été lu, constaté ou jugé n’est jamais corrigé. Essayer de nouveau.',
  'amend-not-text':
    'Dans l’écriture {entry} (« {kind} »), « {field} » n’est pas écrit par des personnes, ou un verdict repose dessus.[ Peuvent être corrigés : {may}.]',
  'comment-no-window': 'Il n’y a pas d’essai {window} à commenter dans ce journal.',
  'comment-no-interlock': 'L’essai {window} ne connaît aucun asservissement « {interlock} ».',
  'comment-trial-of-none': 'Épreuve {trial} : indiquer de quel asservissement elle est.',
  'amend-same': 'Le texte de « {field} » dit déjà cela.',
  'amendment-misquotes':
    'Cette correction de {field} dans l’écriture {of} montre un ancien texte qui n’y figurait pas.',
};
