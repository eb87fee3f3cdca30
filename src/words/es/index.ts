/**
 * Spanish.
 * Written in the infinitive, addressed to nobody. Terms, from English, the same everywhere:
 *
 * interlock: enclavamiento · cause, effect: causa, efecto · trip: disparo, dispararse · trip point: punto de disparo ·
 * trip region: zona de disparo · set point: valor de ajuste · limit: límite · normal: valor normal · nameplate: placa de
 * características · delay: retardo · response time: tiempo de respuesta · clear band: banda de reposo ·
 * release band: banda de retorno · beyond a level: más allá de (in either direction) · armed: armado
 * test window: ensayo · trial: prueba · hold test: prueba de valor mantenido · ramp, step: rampa, escalón · as found, as
 * left: tal como se encontró, tal como se deja · demand: disparo real · to prove: demostrar · log: registro ·
 * entry: asiento · rulebook: libro de reglas · scope: alcance · stale: caducado · due: vence
 * pass, fail, inconclusive, not tested: apto, no apto, no concluyente, no ensayado
 * reset: rearme, rearmar · start, stop: marcha, paro · emergency stop: parada de emergencia · isolator: seccionador ·
 * contactor: contactor · drive: variador · bypass: anulación · force: forzado · latched: retenido · horn: bocina ·
 * target: leva de detección · feed: alimentación de producto · slipping belt: banda que patina · bucket elevator: elevador
 * de cangilones · belt conveyor: cinta transportadora · misalignment: desalineación · bearing: rodamiento ·
 * controller: controlador
 * reading: lectura · to poll: leer · source: fuente · unit (Modbus): unidad · to attest: atestiguar · probability of
 * conformance: probabilidad de conformidad · process safety time: tiempo de seguridad del proceso
 * viewer, tester, reviewer, administrator: observador, ensayador, revisor, administrador · punch item: punto pendiente ·
 * deferral: aplazamiento · impairment: protección reducida
 */
import type { LanguagePack } from '../language.ts';
import { NUMBERS } from './numbers.ts';
import { PHRASES } from './phrases.ts';
import { TERMS } from './terms.ts';
import { TEXTS } from './texts.ts';

export const ES: LanguagePack = {
  language: 'es',
  texts: TEXTS,
  phrases: PHRASES,
  terms: TERMS,
  numbers: NUMBERS,
};
