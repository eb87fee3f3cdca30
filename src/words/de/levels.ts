import type { LEVELS as EN } from '../en/levels.ts';
import type { Translation } from '../language.ts';

/** Set point, delay, limit and normal. An undecided one says what would decide it. */
export const LEVELS: Translation<typeof EN> = {
  'set-point-inside':
    'Der Auslösepunkt {trip:unit} liegt [~probability|ganz ]im Band des Einstellwerts {allowed:band}[; Verzögerung {delay:s}][; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'set-point-outside':
    'Der Auslösepunkt {trip:unit} liegt [~probability|ganz ]außerhalb des Bandes des Einstellwerts {allowed:band}[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'set-point-undecided':
    'Der Auslösepunkt {trip:unit} liegt weder [~probability|ganz ]innerhalb noch [~probability|ganz ]außerhalb des Bandes {allowed:band}[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}]. Eine Halteprüfung machen: knapp innerhalb halten, dann knapp außerhalb[; oder bei dieser Abfragerate eine Rampe von höchstens {advised:rate} fahren].',
  'reaction-not-measured':
    'Der Auslösepunkt {trip:unit} liegt im Band {allowed:band}, falls sofort ausgelöst wird. Es darf bis zu {reaction:s} dauern: dann kann er bei {within:unit} liegen[; Konformitätswahrscheinlichkeit {probability:chance}]. Die Ursache langsamer bewegen oder in derselben Prüfung einen Sprung weit jenseits des Einstellwerts machen; er misst, wie schnell ausgelöst wird.',
  'level-and-delay-not-separated':
    'Eine einzige Rampe kann einen niedrigen Einstellwert nicht von einer langen Verzögerung unterscheiden[ (Auslösepunkt {trip:unit}, Verzögerung {delay:s})][; Wahrscheinlichkeit, dass der Auslösepunkt konform ist: {probability:chance}]. In derselben Prüfung einen Sprung weit jenseits des Einstellwerts oder eine Halteprüfung hinzufügen.',
  'level-or-delay-outside':
    'Einstellwert und Verzögerung können nicht beide stimmen: Mit der Verzögerung, wie sie angegeben ist[ ({delay:s})], wäre der Auslösepunkt {trip:unit}, außerhalb von {allowed:band}.',
  'trials-disagree':
    'Kein Einstellwert und keine Verzögerung erklären alle Versuche zusammen. Die Verriegelung wiederholt sich nicht, oder etwas anderes hat gewirkt. Die Versuche wiederholen.',
  'limit-met':
    'Der Auslösepunkt {trip:unit} hält den Grenzwert {limit:band} ein ({basis})[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'limit-violated':
    'Der Auslösepunkt {trip:unit} verletzt den Grenzwert {limit:band} ({basis})[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'limit-undecided':
    'Der Auslösepunkt {trip:unit} kann auf beiden Seiten des Grenzwerts {limit:band} liegen ({basis})[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}]. Die Rampe langsamer fahren oder eine Halteprüfung knapp innerhalb des Grenzwerts machen.',
  'limit-without-action':
    'Für {seconds:seconds} jenseits von {value:unit} gehalten, hat nichts ausgelöst, obwohl der Grenzwert {limit:band} ist ({basis}).',
  'limit-not-tested': 'Der Grenzwert ({basis}) wurde nicht geprüft: Es wurde kein Auslösepunkt gemessen.',
  'delay-inside':
    'Die Verzögerung {delay:s} liegt [~probability|ganz ]innerhalb von {allowed:band-s}[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'delay-outside':
    'Die Verzögerung {delay:s} liegt [~probability|ganz ]außerhalb von {allowed:band-s}[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}].',
  'delay-undecided':
    'Ob die Verzögerung {delay:s} innerhalb von {allowed:band-s} liegt, ist nicht zu entscheiden[; nach bester Schätzung, Konformitätswahrscheinlichkeit {probability:chance}]. Schneller abfragen oder einen schärferen Sprung machen.',
  'delay-not-measured':
    'Die Verzögerung[ (angegeben {allowed:band-s})] wurde nicht gemessen. In dieser Prüfung einen Sprung weit jenseits des Einstellwerts machen.',
  'normal-agrees':
    'Der Normalwert {normal:unit} stimmt mit dem Typenschild {nameplate:unit} überein (± {allowance} %).',
  'normal-disagrees':
    'Der Normalwert {normal:unit} weicht um mehr als {allowance} % vom Typenschild {nameplate:unit} ab. Er wurde vielleicht an einem rutschenden Gurt gelernt. Die Drehzahl von Hand nachmessen.',
  'normal-agrees-with':
    'Der Normalwert {normal:unit} stimmt mit {signal} überein, das {reference:unit} zeigt (± {allowance} %).',
  'normal-differs-from':
    'Der Normalwert {normal:unit} weicht um mehr als {allowance} % von {signal} ab, das {reference:unit} zeigt. Der Gurt rutscht vielleicht. Die Drehzahl von Hand nachmessen.',
  'normal-unsure-against':
    'Ob der Normalwert {normal:unit} mit {signal} übereinstimmt, das {reference:unit} zeigt (± {allowance} %), ist nicht zu entscheiden. Beide mit feinerer Auflösung lesen.',
  'normal-without-reference': 'Der Normalwert kann nicht mit {signal} verglichen werden: Es hat keinen Wert.',
  'normal-as-before':
    'Der Normalwert {normal:unit} ist derselbe wie in {window} ({earlier:unit}, ± {allowance} %).',
  'normal-moved':
    'Der Normalwert {normal:unit} hat sich seit {window} um mehr als {allowance} % verändert ({earlier:unit}). Den Grund suchen und die Drehzahl von Hand nachmessen: Er wurde vielleicht an einem rutschenden Gurt gelernt.',
  'normal-undecided':
    'Ob der Normalwert {normal:unit} mit dem Typenschild {nameplate:unit} übereinstimmt (± {allowance} %), ist nicht zu entscheiden. Länger gleichmäßig laufen lassen oder mit feinerer Auflösung lesen.',
  'no-nameplate':
    'Es ist kein Wert des Typenschilds angegeben[ für {basis}]: Der Normalwert kann nicht mit ihm verglichen werden.',
  'quiet-inside':
    'Für {seconds:seconds} bei {value:unit} gehalten, knapp innerhalb des Einstellwerts, hat sie nicht ausgelöst.',
  'acted-inside':
    'Sie hat bei {value:unit} ausgelöst, obwohl die Ursache das Band des Einstellwerts sicher nicht erreicht hatte.',
  'on-return-as-declared':
    'Als die Ursache für einen Moment zurückging, galt für die Verzögerung: {found:return}, wie angegeben.',
  'on-return-otherwise':
    'Als die Ursache für einen Moment zurückging, galt für die Verzögerung: {found:return}; angegeben ist: {declared:return}.',
  'acted-after-return':
    'Sie hat ausgelöst, obwohl die Ursache nur {lasted:seconds} gedauert hatte und wieder weg war; die Verzögerung ist {delay:s}. Die Verzögerung beginnt nicht von vorn.',
  'observed-agrees':
    'Am Sensor zeigte das Instrument ({instrument}) {observed:unit} (abgelesen von {by}), die Steuerung {trip:unit}: Sie stimmen innerhalb der Toleranz überein.',
  'observed-disagrees':
    'Am Sensor zeigte das Instrument ({instrument}) {observed:unit} (abgelesen von {by}), die Steuerung aber {trip:unit}. Skalierung und Sensor prüfen.',
  'observed-undecided':
    'Am Sensor zeigte das Instrument ({instrument}) {observed:unit} (abgelesen von {by}), die Steuerung {trip:unit}: Ob sie innerhalb der Toleranz übereinstimmen, ist nicht zu entscheiden. Die Ursache langsamer bewegen oder ein feineres Instrument nehmen.',
  'observed-without-trip':
    'Am Sensor zeigte das Instrument ({instrument}) {observed:unit} (abgelesen von {by}), aber es gibt keine Auslösung, mit der es verglichen werden könnte.',
  repeats: '{trials} Versuche stimmen auf {apart:unit} überein[ (erlaubt {allowed:band})].',
  'does-not-repeat':
    '{trials} Versuche liegen {apart:unit} auseinander, mehr als die erlaubten {allowed:band}.',
  'repeat-undecided':
    'Ob {trials} Versuche übereinstimmen, ist nicht zu entscheiden: Sie liegen {apart:unit} auseinander, erlaubt sind {allowed:band}. Die Ursache langsamer bewegen.',
  'repeat-more': 'Verlangt sind {wanted} Versuche; {trials} sind vergleichbar. Weitere machen.',
  'contact-has-no-trip-point': 'Die Ursache ist ein Kontakt; sie hat keinen Auslösepunkt.',
  'response-reported': 'Die Ansprechzeit[ {response:s}] wird mitgeteilt, nicht beurteilt.',
};
