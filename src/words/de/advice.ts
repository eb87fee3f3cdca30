import type { ADVICE as EN } from '../en/advice.ts';
import type { Translation } from '../language.ts';

/** How to make the test, from what the polling can decide. */
export const ADVICE: Translation<typeof EN> = {
  'plan-ramp':
    'Eine Rampe von höchstens {rate:rate} fahren[, ohne Sprung ab {from:unit}]; dann {seconds:seconds} bei {level:unit} halten.',
  'plan-hold':
    'Keine Rampe ist langsam genug. Bei {inside:unit} für {insideFor:seconds} oder länger halten: Sie darf nicht auslösen. Dann bei {acting:unit} für {actingFor:seconds}: löst sie hier aus, ist es bestanden. Dann bei {outside:unit} für {outsideFor:seconds}: Sie muss auslösen.',
  'plan-or-hold':
    'Oder bei {inside:unit} für {insideFor:seconds} oder länger halten: Sie darf nicht auslösen. Dann bei {acting:unit} für {actingFor:seconds}: löst sie hier aus, ist es bestanden. Dann bei {outside:unit} für {outsideFor:seconds}: Sie muss auslösen.',
  'plan-step':
    'Für die Verzögerung ein Sprung vom Normalwert auf[ {below:unit} oder tiefer][ {above:unit} oder höher], für {seconds:seconds}, in derselben Prüfung.',
  'plan-step-first':
    'Oder zuerst ein Sprung vom Normalwert auf[ {below:unit} oder tiefer][ {above:unit} oder höher], für {seconds:seconds}, in derselben Prüfung: Er misst die Reaktion, und eine Rampe von höchstens {rate:rate} ist langsam genug.',
  'plan-stop-first':
    'Oder zuerst ein Sprung vom Normalwert zum Stillstand, für {seconds:seconds}, in derselben Prüfung: Er misst die Reaktion, und eine Rampe von höchstens {rate:rate} ist langsam genug.',
  'plan-stop':
    'Für die Verzögerung ein Sprung vom Normalwert zum Stillstand, für {seconds:seconds}, in derselben Prüfung.',
  'plan-band': 'Für {seconds:seconds} oder länger innerhalb von {within:band} halten.',
  'plan-keep': 'Die Ursache mindestens {seconds:seconds} bestehen lassen.',
};
