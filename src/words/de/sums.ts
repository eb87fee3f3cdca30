import type { SUMS as EN } from '../en/sums.ts';
import type { Translation } from '../language.ts';

/** The sums behind the figures of a verdict. */
export const SUMS: Translation<typeof EN> = {
  'sum-share':
    'Auslösepunkt {trip:unit} ÷ Normalwert {normal:unit}: {trip:low} ÷ {normal:high} … {trip:high} ÷ {normal:low} = {share:percent}.',
  'sum-trip': 'Auslösepunkt {trip:unit} gegen {band}: {place}.',
  'sum-trip-reaction':
    'Auslösepunkt {trip:unit}, falls sofort ausgelöst wird, {within:unit}, falls es {reaction:s} dauert, gegen {band}: {place}.',
  'sum-trip-declared':
    'Mit der Verzögerung, wie sie angegeben ist[, {delay:band-s}], wäre der Auslösepunkt {trip:unit}, gegen {band}: {place}.',
  'sum-estimate':
    '{what}: beste Schätzung ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}, gegen die Grenzen selbst, {limits}: {place}[; Konformitätswahrscheinlichkeit {probability:conformance}].',
  'sum-guard-band':
    '{what}: beste Schätzung ({low:short} + {high:short}) ÷ 2 = {middle:short-unit}; U = ({high:short} − {low:short}) ÷ √3 = {expanded:short-unit}, w = {r:short} × U = {guard:short-unit}; angenommen innerhalb von {accepts}, abgelehnt außerhalb von {rejects}: {place}[; Konformitätswahrscheinlichkeit {probability:conformance}].',
  'sum-delay-each': 'Was die Verzögerung sein kann: {trials:semicolons}.',
  'sum-delay': '{what} {delay:s} gegen {time} ± {tolerance:s} = {allowed:band-s}: {place}.',
  'sum-limit':
    'Grenzwert ({basis}): {side} {limit}; {what} {value:unit}. Abstand: {over:low} − {under:high} … {over:high} − {under:low} = {spare:step}: {place}.',
  'sum-limit-value': 'Grenzwert ({basis}): {side} {limit}; {what} {value:unit}.',
  'sum-limit-idle':
    'Grenzwert ({basis}): {side} {limit}. {seconds:seconds} lang jenseits von {value:unit} gehalten, ohne dass ausgelöst wurde: verletzt.',
  'sum-normal':
    'Normalwert {normal:unit} ÷ {what} {reference:unit} = {share:percent}, gegen 100 ± {allowance} %: {place}.',
  'sum-repeat':
    'Die Auslösepunkte von {trials} Versuchen ({wanted} verlangt) liegen {apart:step} auseinander, gegen höchstens {allowed:step}: {place}.',
  'sum-repeat-few': 'Auslösepunkte, die sich vergleichen lassen: {trials}, von {wanted} verlangten.',
  'sum-observed':
    'Messgerät {observed:unit}, Steuerung {trip:unit}: Abweichung {observed:low} − {trip:high} … {observed:high} − {trip:low} = {apart:step}, gegen ± {tolerance:step}: {place}.',
  'sum-observed-values': 'Messgerät {observed:unit}, Steuerung {trip:unit}.',
  'sum-hold-acted':
    '{trial}: {lasted:seconds} bei {held:unit} gehalten ({where}), bis ausgelöst wurde; höchstens: {needed}.',
  'sum-hold-quiet':
    '{trial}: {lasted:seconds} bei {held:unit} gehalten ({where}), und nichts löste aus; nötig: {needed}.',
  'sum-response':
    '{effect} änderte sich nach {after:fixed} s und bis {by:fixed} s; die Ursache erreichte ihren Einstellwert nach {reachedAfter:fixed} s und bis {reachedBy:fixed} s: {after:fixed} − {reachedBy:fixed} … {by:fixed} − {reachedAfter:fixed} = Ansprechzeit {response:s}.',
  'sum-response-at-once':
    '{effect} änderte sich nach {after:fixed} s und bis {by:fixed} s; die Ursache erreichte ihren Einstellwert nach {reachedAfter:fixed} s, vielleicht erst mit der Änderung selbst: 0 … {by:fixed} − {reachedAfter:fixed} = Ansprechzeit {response:s}.',
  'sum-effect-missing':
    '{effect}: höchstens {deadline:seconds}, und es war noch nicht gekommen, als diese Zeit sicher vorbei war.',
  'sum-effect-time': '{effect}: {response:s}, gegen {asked}: {place}.',
  'sum-effect-time-ramp':
    '{effect}: {response:s}, vom Auslösewert selbst an gezählt, gegen {asked}: {place}.',
  'sum-held':
    '{effect}: sollte {dwell:seconds} bleiben, nachdem die Ursache weg war, ohne Rückstellung und Start; es blieb mindestens {dwell:seconds}[; {seen}].',
  'sum-held-not-seen':
    '{effect}: sollte {dwell:seconds} bleiben, nachdem die Ursache weg war, ohne Rückstellung und Start; so lange war es nicht zu sehen[; {seen}].',
  'sum-stayed':
    '{effect}: sollte {dwell:seconds} bleiben, wie es war; mindestens {dwell:seconds} ununterbrochen gesehen[; {seen}].',
  'sum-stay-not-seen':
    '{effect}: sollte {dwell:seconds} bleiben, wie es war; nicht so lange ununterbrochen gesehen[; {seen}].',
  'sum-between':
    '{effect}: Der Wert wurde höchstens {seconds:seconds} zwischen seinen beiden Grenzen gehalten, von {wanted:seconds}, die verlangt sind.',
  'sum-order-kept':
    '{after} änderte sich bis {first:fixed} s, {effect} nach {second:fixed} s: in dieser Reihenfolge.',
  'sum-order-broken':
    '{effect} änderte sich bis {first:fixed} s, {after} nach {second:fixed} s: nicht in der verlangten Reihenfolge.',
  'sum-order-open':
    '{effect} änderte sich in {from:fixed} … {to:fixed} s, {after} in {afterFrom:fixed} … {afterTo:fixed} s: Sie überschneiden sich, nicht entschieden.',
  'sum-release': '{effect} ging bei {value:unit} weg, gegen {allowed:band}: {place}.',
};
