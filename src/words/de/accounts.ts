import type { ACCOUNTS as EN } from '../en/accounts.ts';
import type { Translation } from '../language.ts';

/** Why an account or a password is not taken, and what to do instead. */
export const ACCOUNTS: Translation<typeof EN> = {
  'person-id':
    'Das ist keine Kennung („{id}“): 2 bis 60 kleine Buchstaben, Ziffern, Punkte und Striche schreiben.',
  'person-id-used':
    'Die Kennung „{id}“ wurde schon vergeben. Eine Kennung wird nie zweimal vergeben; eine andere wählen.',
  'person-name': 'Das Konto „{id}“ braucht den ausgeschriebenen Namen seiner Person.',
  'person-roles':
    'Das Konto „{id}“ braucht mindestens eine Rolle: Betrachter, Prüfer, Gegenprüfer oder Verwalter.',
  'person-first': 'Das erste Konto muss ein Verwalter sein: „{id}“ auch diese Rolle geben.',
  'person-unknown': 'Es gibt kein Konto „{id}“.',
  'person-closed':
    'Das Konto „{id}“ ist geschlossen und bleibt es. Ein neues unter einer anderen Kennung anlegen.',
  'person-not-locked': 'Das Konto „{id}“ ist nicht gesperrt.',
  'person-last': 'Der letzte Verwalter, der handeln kann, ist „{id}“. Zuerst einen weiteren anlegen.',
  'person-not-administrator': 'Das darf nur ein Verwalter, und „{id}“ ist keiner. Einen Verwalter bitten.',
  'person-needs-administrator': 'Nur ein Verwalter ändert Konten: einen mit --as nennen.',
  'password-short': 'Das Passwort ist zu kurz: mindestens {least} Zeichen.',
  'password-long': 'Das Passwort ist zu lang: höchstens {most} Zeichen.',
  'password-name': 'Das Passwort darf nicht die Kennung oder der Name seiner Person sein.',
  'password-wrong': 'Kennung oder Passwort stimmt nicht.',
  'password-locked':
    'Das Konto „{id}“ ist nach zu vielen falschen Passwörtern gesperrt. Ein Verwalter entsperrt es.',
  'password-lost':
    'Kein Passwort von „{id}“ passt zum Protokoll: people.json wurde geändert oder ging verloren. Es aus einer Kopie wiederherstellen, oder ein Verwalter setzt ein neues. Wenn kein Verwalter mehr eines hat: den Dienst beenden, und „people password LOG ID“ setzt eines für einen Verwalter.',
};
