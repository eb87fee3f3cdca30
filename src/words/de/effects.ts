import type { EFFECTS as EN } from '../en/effects.ts';
import type { Translation } from '../language.ts';

/** What the effects did. */
export const EFFECTS: Translation<typeof EN> = {
  'effect-in-time': '{effect} kam in {response:s} (höchstens {within:seconds}).',
  'effect-late': '{effect} kam zu spät: {response:s}, höchstens {within:seconds}.',
  'effect-early': '{effect} kam zu früh: {response:s}, nicht vor {notBefore:seconds}.',
  'effect-time-undecided':
    'Ob {effect} innerhalb von {within:seconds} kam, ist nicht zu entscheiden[: {response:s}]. Schneller abfragen[ als alle {poll:seconds}] oder einen scharfen Sprung machen.',
  'effect-time-reported':
    '{effect} kam[; {response:s} nach dem Einstellwert wird mitgeteilt, nicht beurteilt, weil die Ursache als Rampe bewegt wurde].',
  'trip-or-stop':
    '{effect} kam nicht, aber vielleicht hat jemand die Maschine ungesehen gestoppt, und dann gab es nichts mehr auszulösen. Den Stopptaster schneller abfragen, als ein Finger drückt, oder bezeugen lassen, dass ihn niemand gedrückt hat, und wiederholen.',
  'effect-missing':
    '{effect} kam nicht, obwohl die Ursache sicher länger als {deadline:seconds} in ihrem Auslösebereich war.',
  'effect-was-there':
    '{effect} war schon da, bevor sich die Ursache bewegte: hier nicht geprüft. Rückstellen und wiederholen oder mit der Verriegelung prüfen, die zuerst kommt.',
  'effect-awaited':
    '{effect} war noch nicht gekommen, als der Versuch endete (erlaubt waren {within:seconds}). Die Ursache länger bestehen lassen und warten, bevor rückgestellt wird.',
  'effect-not-reached':
    '{effect} war nicht zu erwarten: Die Ursache war nie sicher jenseits ihres Einstellwerts. Weiter darüber hinausgehen.',
  'effect-attested': '{effect} ist von {by} bezeugt; kein Signal zeigt es.',
  'effect-substituted':
    '{effect} kann nicht durch {signal} bewiesen werden, weil dieser Sensor während der Prüfung ersetzt war. Bezeugen lassen oder ein anderes Signal nehmen.',
  'held-until-reset':
    '{effect} blieb noch {seconds:seconds}, nachdem die Ursache weg war, ohne Rückstellung.',
  'released-on-recovery':
    '{effect} ging weg, als die Ursache wegging, ohne Rückstellung. Es muss gehalten werden.',
  'released-while-cause': '{effect} ging weg, während die Ursache noch da war.',
  'release-inside': '{effect} ging bei {value:unit} weg, innerhalb seines Rückfallbandes {allowed:band}.',
  'release-outside': '{effect} ging bei {value:unit} weg, außerhalb seines Rückfallbandes {allowed:band}.',
  'release-undecided':
    'Ob {effect} innerhalb seines Rückfallbandes {allowed:band} wegging, ist nicht zu entscheiden ({value:unit}). Die Ursache langsamer zurückführen.',
  'not-released':
    '{effect} blieb, obwohl die Ursache über sein Rückfallband {allowed:band} hinaus zurückgegangen war.',
  'release-not-seen':
    'Der Rückfall von {effect} wurde nicht gesehen. Die Ursache langsam über {allowed:band} hinaus zurückführen und warten.',
  'latch-not-tested':
    'Ob {effect} bis zur Rückstellung gehalten wird, wurde nicht geprüft. Die Ursache wegnehmen und[ {seconds:seconds}] warten, erst dann rückstellen und starten.',
  'gone-without-reset':
    '{effect} ging nach dem Versuch weg, obwohl niemand rückgestellt hat. Es muss gehalten werden.',
  'effect-momentary':
    '{effect} kam und ging wieder, während die Ursache noch da war: Dass es überhaupt gesehen wurde, ist Glück. Es halten lassen oder so lange bestehen lassen wie seine Ursache.',
  'restarted-without-start': '{effect} kam zurück, obwohl niemand auf Start gedrückt hat.',
  'order-kept': '{effect} kam nach {after}, wie es muss.',
  'order-broken':
    '{effect} kam vor {after}: Die Maschine ist vielleicht aus einem anderen Grund stehen geblieben.',
  'order-undecided':
    'Ob {effect} nach {after} kam, ist nicht zu entscheiden. Schneller abfragen oder beide in einer Abfrage lesen.',
  stayed: '{effect} blieb für {seconds:seconds}, wie es war; so muss es sein.',
  'did-not-stay': '{effect} änderte sich, musste aber bleiben, wie es war.',
  'stay-not-tested': 'Ob {effect} bleibt, wie es ist, wurde nicht geprüft: Die Ursache war nie sicher da.',
  'stay-not-seen':
    '{effect} wurde nach der Ursache nicht ununterbrochen für {seconds:seconds} gesehen. Länger warten, bevor die Prüfung geschlossen wird.',
  'not-held-long-enough':
    'Der Wert wurde höchstens {seconds:seconds} zwischen seinen beiden Grenzen gehalten; verlangt sind {wanted:seconds}. Länger halten.',
  'band-overshot':
    '{effect} änderte sich, aber der Wert kann weiter gegangen sein, als dieser Versuch erlaubt. Wiederholen und zwischen den beiden Grenzen bleiben.',
};
