import type { SUMS as EN } from '../en/sums.ts';
import type { Translation } from '../language.ts';

/** The sums behind the figures of a verdict. */
export const SUMS: Translation<typeof EN> = {
  'sum-share':
    'Punto de disparo {trip:unit} ÷ valor normal {normal:unit}: {trip:low} ÷ {normal:high} … {trip:high} ÷ {normal:low} = {share:percent}.',
  'sum-trip': 'Punto de disparo {trip:unit} frente a {band}: {place}.',
  'sum-trip-reaction':
    'Punto de disparo {trip:unit} si actúa en el acto, {within:unit} si tarda {reaction:s}, frente a {band}: {place}.',
  'sum-trip-declared':
    'Con el retardo declarado[, {delay:band-s}], el punto de disparo sería {trip:unit}, frente a {band}: {place}.',
  'sum-estimate':
    '{what}: mejor estimación ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}, frente a los límites mismos, {limits}: {place}[; probabilidad de conformidad {probability:conformance}].',
  'sum-guard-band':
    '{what}: mejor estimación ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}; U = ({high:short} − {low:short}) ÷ √3 = {expanded:short-unit}, w = {r:short} × U = {guard:short-unit}; se acepta dentro de {accepts}, se rechaza fuera de {rejects}: {place}[; probabilidad de conformidad {probability:conformance}].',
  'sum-delay-each': 'Lo que puede ser el retardo: {trials:semicolons}.',
  'sum-delay': '{what} {delay:s} frente a {time} ± {tolerance:s} = {allowed:band-s}: {place}.',
  'sum-limit':
    'Límite ({basis}): {side} {limit}; {what} {value:unit}. Margen: {over:low} − {under:high} … {over:high} − {under:low} = {spare:step}: {place}.',
  'sum-limit-value': 'Límite ({basis}): {side} {limit}; {what} {value:unit}.',
  'sum-limit-idle':
    'Límite ({basis}): {side} {limit}. Mantenido más allá de {value:unit} durante {seconds:seconds} sin que nada actuara: incumplido.',
  'sum-normal':
    'Valor normal {normal:unit} ÷ {what} {reference:unit} = {share:percent}, frente a 100 ± {allowance} %: {place}.',
  'sum-repeat':
    'Los puntos de disparo de {trials} pruebas (se piden {wanted}) difieren en {apart:step}, frente a {allowed:step} como máximo: {place}.',
  'sum-repeat-few': 'Puntos de disparo que se pueden comparar: {trials}, de {wanted} que se piden.',
  'sum-observed':
    'Instrumento {observed:unit}, controlador {trip:unit}: diferencia {observed:low} − {trip:high} … {observed:high} − {trip:low} = {apart:step}, frente a ± {tolerance:step}: {place}.',
  'sum-observed-values': 'Instrumento {observed:unit}, controlador {trip:unit}.',
  'sum-hold-acted':
    '{trial}: mantenido en {held:unit} ({where}) durante {lasted:seconds} hasta que actuó; como máximo: {needed}.',
  'sum-hold-quiet':
    '{trial}: mantenido en {held:unit} ({where}) durante {lasted:seconds}, y nada actuó; hace falta: {needed}.',
  'sum-response':
    '{effect} cambió después de {after:fixed} s y antes de {by:fixed} s; la causa alcanzó su valor de ajuste después de {reachedAfter:fixed} s y antes de {reachedBy:fixed} s: {after:fixed} − {reachedBy:fixed} … {by:fixed} − {reachedAfter:fixed} = respuesta {response:s}.',
  'sum-response-at-once':
    '{effect} cambió después de {after:fixed} s y antes de {by:fixed} s; la causa alcanzó su valor de ajuste después de {reachedAfter:fixed} s, quizá solo con el cambio mismo: 0 … {by:fixed} − {reachedAfter:fixed} = respuesta {response:s}.',
  'sum-effect-missing':
    '{effect}: como máximo {deadline:seconds}, y no había llegado cuando ese tiempo había pasado con certeza.',
  'sum-effect-time': '{effect}: {response:s}, frente a {asked}: {place}.',
  'sum-effect-time-ramp':
    '{effect}: {response:s}, contados desde el nivel de disparo mismo, frente a {asked}: {place}.',
  'sum-held':
    '{effect}: debía permanecer {dwell:seconds} después de que la causa desapareciera, sin rearme ni marcha; permaneció al menos {dwell:seconds}[; {seen}].',
  'sum-held-not-seen':
    '{effect}: debía permanecer {dwell:seconds} después de que la causa desapareciera, sin rearme ni marcha; no se vio tanto tiempo[; {seen}].',
  'sum-stayed':
    '{effect}: debía seguir como estaba {dwell:seconds}; visto sin interrupción al menos {dwell:seconds}[; {seen}].',
  'sum-stay-not-seen':
    '{effect}: debía seguir como estaba {dwell:seconds}; no se vio tanto tiempo sin interrupción[; {seen}].',
  'sum-between':
    '{effect}: el valor se mantuvo entre sus dos niveles {seconds:seconds} como máximo, de {wanted:seconds} que se piden.',
  'sum-order-kept':
    '{after} cambió antes de {first:fixed} s, {effect} después de {second:fixed} s: en este orden.',
  'sum-order-broken':
    '{effect} cambió antes de {first:fixed} s, {after} después de {second:fixed} s: no en el orden que se pide.',
  'sum-order-open':
    '{effect} cambió en {from:fixed} … {to:fixed} s, {after} en {afterFrom:fixed} … {afterTo:fixed} s: se solapan, no decidido.',
  'sum-release': '{effect} desapareció en {value:unit}, frente a {allowed:band}: {place}.',
};
