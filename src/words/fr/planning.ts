import type { PLANNING as EN } from '../en/planning.ts';
import type { Translation } from '../language.ts';

/** What the polling as it stands can and cannot decide, told before anybody tests. */
export const PLANNING: Translation<typeof EN> = {
  'set-point-at-limit':
    'La valeur de réglage {setPoint:unit} est à sa limite {limit:unit} ou au-delà : un déclenchement y est le plus souvent non concluant. Placer la valeur de réglage du côté sûr.',
  'tolerance-beyond-limit':
    'La bande de la valeur de réglage {band:band} dépasse la limite {limit:unit} : dans sa tolérance, l’asservissement pourrait l’enfreindre.',
  'resolution-too-coarse':
    'Le signal est connu à {doubt:unit} au mieux, la bande est large de {band:unit} : aucun essai ne peut en décider.[ Le lire par pas de {needed:unit}, ou élargir la tolérance.]',
  'resolution-by-luck':
    'Le signal est connu à {doubt:unit}, la valeur de réglage est à {room:unit} de ce qui n’est pas permis : un essai ne décide que si les valeurs tombent bien.[ Le lire par pas de {needed:unit}, ou élargir la tolérance.]',
  'pulses-too-coarse':
    'Une impulsion vaut {step:unit}, une lecture est large de {doubt:unit}, la bande de {band:unit} : le comptage ne peut en décider.[ {targets} fois plus de cibles le pourraient ;][ de même un temps de comptage de {gate:seconds} ;][ le mieux est de mesurer la période, par pas de {tick} µs ou moins.]',
  'pulses-by-luck':
    'Une impulsion ou un pas vaut {step:unit}, une borne peut être fausse de {doubt:unit}, la valeur de réglage est à {room:unit} de ce qui n’est pas permis : un essai ne décide que si les impulsions tombent bien.[ {targets} fois plus de cibles le pourraient toujours ;][ de même un temps de comptage de {gate:seconds} ;][ le mieux est de mesurer la période, par pas de {tick} µs ou moins.]',
  'pulses-beat':
    'À la valeur de réglage, les impulsions viennent à {hertz} Hz : {beats} par cycle de {scan:seconds}. Un programme qui regarde l’entrée une fois par cycle la voit immobile. Ne tenir un déclenchement pour prouvé que si les impulsions vont à une entrée de comptage ou à une tâche plus rapide.',
  'pulses-missed':
    'À la valeur de réglage, les impulsions viennent à {hertz} Hz : un programme qui regarde l’entrée toutes les {scan:seconds} en manque. Il doit regarder toutes les {needed:seconds} ou plus souvent, ou compter en matériel.',
  'needs-step-or-hold':
    'Avec une temporisation de {delay:seconds}, une rampe ou une valeur maintenue seule ne décide rien : ajouter un échelon dans le même essai.',
  'normal-not-known-yet':
    'La valeur de réglage et la bande ne sont connues en chiffres que lorsque la valeur normale l’est.',
  'delay-unresolvable':
    'La temporisation est mesurée à {doubt:seconds} au mieux, ce qui ne peut décider de ± {tolerance:seconds}.[ Lire toutes les {poll:seconds} ou plus souvent, ou élargir la tolérance.][ L’échantillonnage et la publication ensemble doivent faire {pace:seconds}, ou la tolérance être plus large.]',
  'delay-by-luck':
    'La temporisation est mesurée à {doubt:seconds}, ce qui ne décide de ± {tolerance:seconds} que si les lectures tombent bien : sinon, répéter l’échelon.[ En lisant toutes les {poll:seconds}, chaque échelon déciderait.][ Avec {pace:seconds} d’échantillonnage et de publication ensemble, chaque échelon déciderait.]',
  'within-too-tight':
    '{effect} doit venir en {within:seconds}, mais son instant n’est connu qu’à {doubt:seconds}[ après une temporisation de {delay:seconds}].[ Lire toutes les {poll:seconds} ou plus souvent, ou permettre plus de temps.][ L’échantillonnage et la publication ensemble doivent faire {pace:seconds}, ou le temps être plus long.]',
  'beyond-process-safety-time':
    '{effect} peut venir {uses:seconds} après l’écart, âge des lectures compris : {over:seconds} plus tard que ne le permet le temps de sécurité du procédé de {safety:seconds}. Il ne peut pas protéger à temps.',
  'half-process-safety-time':
    '{effect} peut prendre {uses:seconds} du temps de sécurité du procédé de {safety:seconds}, âge des lectures compris ; il reste {left:seconds}. Selon une règle empirique, il en prend au plus la moitié : marge {byHalf:seconds}.',
  'cause-and-effect-apart':
    'La cause ({cause}) et l’effet ({effect}) viennent de deux sources : leurs instants sont moins bien connus. Lire les deux d’une seule.',
  'bypass-not-visible': 'On ne peut lire si {machine} est inhibée. Cela doit être attesté.',
  'effect-is-momentary':
    '{effect} ne dure que tant que dure la cause : faire durer la cause {seconds:seconds} de plus, sinon il peut être manqué entre deux lectures.',
};
