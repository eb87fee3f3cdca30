import type { ACCOUNTS as EN } from '../en/accounts.ts';
import type { Translation } from '../language.ts';

/** Why an account or a password is not taken, and what to do instead. */
export const ACCOUNTS: Translation<typeof EN> = {
  'person-id':
    'Ce n’est pas un identifiant (« {id} ») : écrire 2 à 60 lettres minuscules, chiffres, points et tirets.',
  'person-id-used':
    'L’identifiant « {id} » a déjà été donné. Un identifiant n’est jamais donné deux fois ; en choisir un autre.',
  'person-name': 'Le compte « {id} » a besoin du nom complet de sa personne.',
  'person-roles':
    'Le compte « {id} » a besoin d’au moins un rôle : observateur, essayeur, relecteur ou administrateur.',
  'person-first': 'Le premier compte doit être celui d’un administrateur : donner aussi ce rôle à « {id} ».',
  'person-unknown': 'Il n’y a pas de compte « {id} ».',
  'person-closed':
    'Le compte « {id} » est fermé, et le reste. En ajouter un nouveau sous un autre identifiant.',
  'person-not-locked': 'Le compte « {id} » n’est pas verrouillé.',
  'person-last': 'Le dernier administrateur qui peut agir est « {id} ». En créer d’abord un autre.',
  'person-not-administrator':
    'Seul un administrateur peut le faire, et « {id} » n’en est pas un. S’adresser à un administrateur.',
  'person-needs-administrator': 'Seul un administrateur modifie les comptes : en nommer un avec --as.',
  'password-short': 'Le mot de passe est trop court : au moins {least} caractères.',
  'password-long': 'Le mot de passe est trop long : au plus {most} caractères.',
  'password-name': 'Le mot de passe ne doit être ni l’identifiant ni le nom de sa personne.',
  'password-wrong': 'L’identifiant ou le mot de passe n’est pas juste.',
  'password-locked':
    'Le compte « {id} » est verrouillé après trop de mots de passe faux. Un administrateur le déverrouille.',
  'password-lost':
    'Aucun mot de passe de « {id} » ne correspond au journal : people.json a été modifié ou perdu. Le restaurer d’une copie, ou un administrateur en met un nouveau. Si aucun administrateur n’en a plus : terminer le service, et « people password LOG ID » en met un pour un administrateur.',
};
