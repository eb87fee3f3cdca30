import type { PLANNING as EN } from '../en/planning.ts';
import type { Translation } from '../language.ts';

/** What the polling as it stands can and cannot decide, told before anybody tests. */
export const PLANNING: Translation<typeof EN> = {
  'set-point-at-limit':
    'Der Einstellwert {setPoint:unit} liegt am Grenzwert {limit:unit} oder jenseits davon: Eine Auslösung dort ist meist nicht entscheidbar. Den Einstellwert auf die sichere Seite legen.',
  'tolerance-beyond-limit':
    'Das Band des Einstellwerts {band:band} reicht über den Grenzwert {limit:unit} hinaus: Innerhalb ihrer Toleranz könnte die Verriegelung ihn verletzen.',
  'resolution-too-coarse':
    'Das Signal ist bestenfalls auf {doubt:unit} bekannt, das Band ist {band:unit} breit: Keine Prüfung kann es entscheiden.[ In Schritten von {needed:unit} lesen oder die Toleranz erweitern.]',
  'resolution-by-luck':
    'Das Signal ist auf {doubt:unit} bekannt, der Einstellwert ist {room:unit} von dem entfernt, was nicht erlaubt ist: Eine Prüfung entscheidet nur, wenn die Werte günstig fallen.[ In Schritten von {needed:unit} lesen oder die Toleranz erweitern.]',
  'pulses-too-coarse':
    'Ein Impuls ist {step:unit} wert, ein gelesener Wert ist {doubt:unit} breit, das Band {band:unit}: Zählen kann es nicht entscheiden.[ {targets}-mal so viele Schaltfahnen könnten es;][ ebenso eine Torzeit von {gate:seconds};][ am besten die Periode messen, in Takten von {tick} µs oder weniger.]',
  'pulses-by-luck':
    'Ein Impuls oder Takt ist {step:unit} wert, eine Schranke kann um {doubt:unit} danebenliegen, der Einstellwert ist {room:unit} von dem entfernt, was nicht erlaubt ist: Eine Prüfung entscheidet nur, wenn die Impulse günstig fallen.[ {targets}-mal so viele Schaltfahnen könnten es;][ ebenso eine Torzeit von {gate:seconds};][ am besten die Periode messen, in Takten von {tick} µs oder weniger.]',
  'pulses-beat':
    'Am Einstellwert kommen Impulse mit {hertz} Hz: {beats} in jedem Zyklus von {scan:seconds}. Ein Programm, das einmal je Zyklus auf den Eingang schaut, sieht ihn dort stillstehen. Eine Auslösung nur dann als bewiesen nehmen, wenn die Impulse auf einen Zählereingang oder eine schnellere Task gehen.',
  'pulses-missed':
    'Am Einstellwert kommen Impulse mit {hertz} Hz: Ein Programm, das alle {scan:seconds} auf den Eingang schaut, verpasst einige. Es muss alle {needed:seconds} oder schneller schauen oder in Hardware zählen.',
  'needs-step-or-hold':
    'Bei einer Verzögerung von {delay:seconds} entscheidet eine Rampe oder ein Halten allein nichts: In derselben Prüfung einen Sprung hinzufügen.',
  'normal-not-known-yet': 'Einstellwert und Band sind in Zahlen erst bekannt, wenn der Normalwert es ist.',
  'delay-unresolvable':
    'Die Verzögerung wird bestenfalls auf {doubt:seconds} gemessen; das kann ± {tolerance:seconds} nicht entscheiden.[ Alle {poll:seconds} oder schneller abfragen oder die Toleranz erweitern.][ Abtastung und Veröffentlichung müssen zusammen {pace:seconds} betragen, oder die Toleranz muss weiter sein.]',
  'delay-by-luck':
    'Die Verzögerung wird auf {doubt:seconds} gemessen; das entscheidet ± {tolerance:seconds} nur, wenn die Abfragen günstig fallen: Sonst den Sprung wiederholen.[ Alle {poll:seconds} abgefragt, würde es jeder Sprung.][ Mit zusammen {pace:seconds} für Abtastung und Veröffentlichung würde es jeder Sprung.]',
  'within-too-tight':
    '{effect} muss innerhalb von {within:seconds} kommen, ist zeitlich aber nur auf {doubt:seconds} bekannt[ nach einer Verzögerung von {delay:seconds}].[ Alle {poll:seconds} oder schneller abfragen oder mehr Zeit erlauben.][ Abtastung und Veröffentlichung müssen zusammen {pace:seconds} betragen, oder die Zeit muss länger sein.]',
  'beyond-process-safety-time':
    '{effect} kann {uses:seconds} nach der Abweichung kommen, Alter der gelesenen Werte eingerechnet: {over:seconds} später, als die Prozesssicherheitszeit von {safety:seconds} erlaubt. Es kann nicht rechtzeitig schützen.',
  'half-process-safety-time':
    '{effect} kann {uses:seconds} der Prozesssicherheitszeit von {safety:seconds} brauchen, Alter der gelesenen Werte eingerechnet; {left:seconds} bleiben übrig. Nach einer Faustregel braucht es höchstens die Hälfte: Spielraum {byHalf:seconds}.',
  'cause-and-effect-apart':
    'Ursache ({cause}) und Wirkung ({effect}) kommen aus zwei Quellen: Ihre Zeiten sind weniger genau bekannt. Beide aus einer lesen.',
  'bypass-not-visible': 'Ob {machine} überbrückt ist, kann nicht gelesen werden. Es muss bezeugt werden.',
  'effect-is-momentary':
    '{effect} dauert nur so lange wie die Ursache: Die Ursache {seconds:seconds} länger bestehen lassen, sonst kann es zwischen zwei Abfragen verpasst werden.',
};
