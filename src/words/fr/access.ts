import type { ACCESS as EN } from '../en/access.ts';
import type { Translation } from '../language.ts';

/** Why a request to the daemon is refused before its work begins, and what to do. */
export const ACCESS: Translation<typeof EN> = {
  'foreign-name': 'Ce service ne répond pas à ce nom. L’appeler par son adresse, ou le démarrer avec --name.',
  'foreign-page': 'Une page étrangère l’a demandé. Seules les pages de ce service le peuvent.',
  'session-needed':
    'Personne n’est identifié ici. S’identifier d’abord ; en ligne de commande, nommer le compte avec --as.',
  'session-open':
    'Personne ne s’identifie à cette adresse : elle est ouverte à qui est devant cette machine.',
  'session-token': 'La requête ne porte pas le jeton de sa session. Recharger la page.',
  'session-role':
    'Il faut le rôle {role:account-role}, que « {id} » n’a pas. Un administrateur donne les rôles.',
  'session-other-name':
    '{name} est identifié : rien n’est inscrit ici au nom de {other}. Laisser cette personne s’identifier, ou retirer le nom.',
  'session-needs-password':
    'Une modification de comptes demande chaque fois le mot de passe d’un administrateur, bien que {name} soit identifié.',
  'who-missing': 'Dire qui l’inscrit : un nom, ou un compte avec son mot de passe.',
  'too-often': 'Trop de requêtes sont venues d’ici. Attendre {seconds} s.',
};
