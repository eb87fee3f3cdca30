import type { SUMS as EN } from '../en/sums.ts';
import type { Translation } from '../language.ts';

/** The sums behind the figures of a verdict. */
export const SUMS: Translation<typeof EN> = {
  'sum-share':
    'Point de déclenchement {trip:unit} ÷ valeur normale {normal:unit} : {trip:low} ÷ {normal:high} … {trip:high} ÷ {normal:low} = {share:percent}.',
  'sum-trip': 'Point de déclenchement {trip:unit} face à {band} : {place}.',
  'sum-trip-reaction':
    'Point de déclenchement {trip:unit} si l’action est immédiate, {within:unit} si elle prend {reaction:s}, face à {band} : {place}.',
  'sum-trip-declared':
    'Avec la temporisation déclarée[, {delay:band-s}], le point de déclenchement serait {trip:unit}, face à {band} : {place}.',
  'sum-estimate':
    '{what} : meilleure estimation ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}, face aux limites mêmes, {limits} : {place}[ ; probabilité de conformité {probability:conformance}].',
  'sum-guard-band':
    '{what} : meilleure estimation ({low:short} + {high:short}) ÷ 2 = {middle:short-unit} ; U = ({high:short} − {low:short}) ÷ √3 = {expanded:short-unit}, w = {r:short} × U = {guard:short-unit} ; accepté dans {accepts}, rejeté hors de {rejects} : {place}[ ; probabilité de conformité {probability:conformance}].',
  'sum-delay-each': 'Ce que peut être la temporisation : {trials:semicolons}.',
  'sum-delay': '{what} {delay:s} face à {time} ± {tolerance:s} = {allowed:band-s} : {place}.',
  'sum-limit':
    'Limite ({basis}) : {side} {limit} ; {what} {value:unit}. Marge : {over:low} − {under:high} … {over:high} − {under:low} = {spare:step} : {place}.',
  'sum-limit-value': 'Limite ({basis}) : {side} {limit} ; {what} {value:unit}.',
  'sum-limit-idle':
    'Limite ({basis}) : {side} {limit}. Maintenu au-delà de {value:unit} pendant {seconds:seconds} sans que rien n’agisse : enfreinte.',
  'sum-normal':
    'Valeur normale {normal:unit} ÷ {what} {reference:unit} = {share:percent}, face à 100 ± {allowance} % : {place}.',
  'sum-repeat':
    'Les points de déclenchement de {trials} épreuves ({wanted} demandées) diffèrent de {apart:step}, face à {allowed:step} au plus : {place}.',
  'sum-repeat-few': 'Points de déclenchement comparables : {trials}, sur {wanted} demandés.',
  'sum-observed':
    'Instrument {observed:unit}, automate {trip:unit} : écart {observed:low} − {trip:high} … {observed:high} − {trip:low} = {apart:step}, face à ± {tolerance:step} : {place}.',
  'sum-observed-values': 'Instrument {observed:unit}, automate {trip:unit}.',
  'sum-hold-acted':
    '{trial} : maintenu à {held:unit} ({where}) pendant {lasted:seconds} jusqu’à l’action ; au plus : {needed}.',
  'sum-hold-quiet':
    '{trial} : maintenu à {held:unit} ({where}) pendant {lasted:seconds}, et rien n’a agi ; nécessaire : {needed}.',
  'sum-response':
    '{effect} a changé après {after:fixed} s et avant {by:fixed} s ; la cause a atteint sa valeur de réglage après {reachedAfter:fixed} s et avant {reachedBy:fixed} s : {after:fixed} − {reachedBy:fixed} … {by:fixed} − {reachedAfter:fixed} = réponse {response:s}.',
  'sum-response-at-once':
    '{effect} a changé après {after:fixed} s et avant {by:fixed} s ; la cause a atteint sa valeur de réglage après {reachedAfter:fixed} s, peut-être seulement avec le changement même : 0 … {by:fixed} − {reachedAfter:fixed} = réponse {response:s}.',
  'sum-effect-missing':
    '{effect} : au plus {deadline:seconds}, et il n’était pas venu quand ce délai était certainement passé.',
  'sum-effect-time': '{effect} : {response:s}, face à {asked} : {place}.',
  'sum-effect-time-ramp':
    '{effect} : {response:s}, comptés depuis le niveau de déclenchement même, face à {asked} : {place}.',
  'sum-held':
    '{effect} : devait rester {dwell:seconds} après la disparition de la cause, sans réarmement ni marche ; il est resté au moins {dwell:seconds}[ ; {seen}].',
  'sum-held-not-seen':
    '{effect} : devait rester {dwell:seconds} après la disparition de la cause, sans réarmement ni marche ; il n’a pas été vu si longtemps[ ; {seen}].',
  'sum-stayed':
    '{effect} : devait rester tel quel {dwell:seconds} ; vu sans interruption au moins {dwell:seconds}[ ; {seen}].',
  'sum-stay-not-seen':
    '{effect} : devait rester tel quel {dwell:seconds} ; n’a pas été vu si longtemps sans interruption[ ; {seen}].',
  'sum-between':
    '{effect} : la valeur a été maintenue entre ses deux niveaux {seconds:seconds} au plus, sur {wanted:seconds} demandées.',
  'sum-order-kept':
    '{after} a changé avant {first:fixed} s, {effect} après {second:fixed} s : dans cet ordre.',
  'sum-order-broken':
    '{effect} a changé avant {first:fixed} s, {after} après {second:fixed} s : pas dans l’ordre demandé.',
  'sum-order-open':
    '{effect} a changé en {from:fixed} … {to:fixed} s, {after} en {afterFrom:fixed} … {afterTo:fixed} s : ils se recouvrent, non décidé.',
  'sum-release': '{effect} a disparu à {value:unit}, face à {allowed:band} : {place}.',
};
