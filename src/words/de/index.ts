/**
 * German.
 * Written in the infinitive, addressed to nobody. Terms, from English, the same everywhere:
 *
 * interlock: Verriegelung · cause, effect: Ursache, Wirkung · trip: Auslösung, auslösen · trip point: Auslösepunkt ·
 * trip region: Auslösebereich · set point: Einstellwert · limit: Grenzwert · normal: Normalwert · nameplate: Typenschild ·
 * delay: Verzögerung · response time: Ansprechzeit · clear band: Ruheband · release band: Rückfallband ·
 * beyond a level: jenseits (in either direction) · armed: scharf
 * test window: Prüfung · trial: Versuch · hold test: Halteprüfung · ramp, step: Rampe, Sprung · as found, as left: wie
 * vorgefunden, wie hinterlassen · demand: wirkliche Auslösung · proof: Nachweis · record: Beleg · log: Protokoll ·
 * entry: Eintrag · rulebook: Regelbuch · scope: Umfang · stale: überholt · due: fällig
 * pass, fail, inconclusive, not tested: bestanden, nicht bestanden, nicht entscheidbar, nicht geprüft
 * reset: Rückstellung, rückstellen · start, stop: Start, Stopp · emergency stop: Not-Halt · isolator: Trennschalter ·
 * contactor: Schütz · drive: Antrieb · bypass: Überbrückung · force: erzwungener Wert (Force) · latched: gehalten ·
 * horn: Hupe · target: Schaltfahne · feed: Aufgabe · slipping belt: rutschender Gurt · bucket elevator: Becherwerk ·
 * belt conveyor: Gurtförderer · misalignment: Schieflauf · bearing: Lager · controller: Steuerung
 * reading: gelesener Wert · to poll: abfragen · source: Quelle · unit (Modbus): Teilnehmer · to attest: bezeugen ·
 * probability of conformance: Konformitätswahrscheinlichkeit · process safety time: Prozesssicherheitszeit
 * viewer, tester, reviewer, administrator: Betrachter, Prüfer, Gegenprüfer, Verwalter · punch item: Restpunkt ·
 * deferral: Aufschub · impairment: eingeschränkter Schutz
 */
import type { LanguagePack } from '../language.ts';
import { NUMBERS } from './numbers.ts';
import { PHRASES } from './phrases.ts';
import { TERMS } from './terms.ts';
import { TEXTS } from './texts.ts';

export const DE: LanguagePack = {
  language: 'de',
  texts: TEXTS,
  phrases: PHRASES,
  terms: TERMS,
  numbers: NUMBERS,
};
