import type { ACCESS as EN } from '../en/access.ts';
import type { Translation } from '../language.ts';

/** Why a request to the daemon is refused before its work begins, and what to do. */
export const ACCESS: Translation<typeof EN> = {
  'foreign-name':
    'Dieser Dienst antwortet nicht auf diesen Namen. Ihn unter seiner Adresse aufrufen oder mit --name starten.',
  'foreign-page': 'Eine fremde Seite hat das verlangt. Das dürfen nur Seiten dieses Dienstes.',
  'session-needed':
    'Hier ist niemand angemeldet. Zuerst anmelden; auf der Befehlszeile das Konto mit --as nennen.',
  'session-open':
    'Unter dieser Adresse meldet sich niemand an: Sie steht dem offen, der an diesem Rechner sitzt.',
  'session-token': 'Die Anfrage trägt nicht das Kennzeichen ihrer Sitzung. Die Seite neu laden.',
  'session-role':
    'Dafür braucht es die Rolle {role:account-role}, die „{id}“ nicht hat. Rollen vergibt ein Verwalter.',
  'session-other-name':
    '{name} ist angemeldet: Hier wird nichts im Namen von {other} eingetragen. Diese Person sich anmelden lassen oder den Namen weglassen.',
  'session-needs-password':
    'Eine Änderung von Konten verlangt jedes Mal das Passwort eines Verwalters, obwohl {name} angemeldet ist.',
  'who-missing': 'Sagen, wer das einträgt: ein Name, oder ein Konto mit seinem Passwort.',
  'too-often': 'Von hier kamen zu viele Anfragen. {seconds} s warten.',
};
