/**
 * French.
 * Written in the infinitive, addressed to nobody. Terms, from English, the same everywhere:
 *
 * interlock: asservissement · cause, effect: cause, effet · trip: déclenchement, se déclencher · trip point: point de
 * déclenchement · trip region: zone de déclenchement · set point: valeur de réglage · limit: limite · normal: valeur
 * normale · nameplate: plaque signalétique · delay: temporisation · response time: temps de réponse · clear band: bande de
 * repos · release band: bande de retour · beyond a level: au-delà de (in either direction) · armed: armé
 * test window: essai · trial: épreuve · hold test: épreuve à valeur maintenue · ramp, step: rampe, échelon · as found, as
 * left: tel que trouvé, tel que laissé · demand: déclenchement réel · proof: preuve · log: journal · entry: écriture ·
 * to record, to enter: inscrire · lock-out, to lock out: consignation, consigner (nothing else is called so) ·
 * rulebook: livre de règles · scope: périmètre · stale: périmé · due: à échéance
 * pass, fail, inconclusive, not tested: conforme, non conforme, non concluant, non essayé
 * reset: réarmement, réarmer · start, stop: marche, arrêt · emergency stop: arrêt d’urgence · isolator: sectionneur ·
 * contactor: contacteur · drive: variateur · bypass: inhibition · force: forçage · latched: maintenu · horn: avertisseur ·
 * target: cible · feed: alimentation en produit · slipping belt: bande qui patine · bucket elevator: élévateur à godets ·
 * belt conveyor: convoyeur à bande · misalignment: déport de bande · bearing: palier · controller: automate
 * reading: lecture · to poll: lire · source: source · unit (Modbus): unité · to attest: attester · probability of
 * conformance: probabilité de conformité · process safety time: temps de sécurité du procédé
 * viewer, tester, reviewer, administrator: observateur, essayeur, relecteur, administrateur · punch item: réserve ·
 * deferral: report · impairment: protection réduite
 */
import type { LanguagePack } from '../language.ts';
import { NUMBERS } from './numbers.ts';
import { PHRASES } from './phrases.ts';
import { spaced } from './spacing.ts';
import { TERMS } from './terms.ts';
import { TEXTS } from './texts.ts';

export const FR: LanguagePack = {
  language: 'fr',
  texts: spaced(TEXTS),
  phrases: spaced(PHRASES),
  terms: TERMS,
  numbers: NUMBERS,
};
