import type { PLANNING as EN } from '../en/planning.ts';
import type { Translation } from '../language.ts';

/** What the polling as it stands can and cannot decide, told before anybody tests. */
export const PLANNING: Translation<typeof EN> = {
  'set-point-at-limit':
    'El valor de ajuste {setPoint:unit} está en su límite {limit:unit} o más allá: allí un disparo es casi siempre no concluyente. Llevar el valor de ajuste al lado seguro.',
  'tolerance-beyond-limit':
    'La banda del valor de ajuste {band:band} llega más allá del límite {limit:unit}: dentro de su tolerancia el enclavamiento podría incumplirlo.',
  'resolution-too-coarse':
    'La señal se conoce con {doubt:unit} en el mejor caso, y la banda tiene {band:unit} de ancho: ningún ensayo puede decidirlo.[ Leerla en pasos de {needed:unit}, o ampliar la tolerancia.]',
  'resolution-by-luck':
    'La señal se conoce con {doubt:unit}, y el valor de ajuste está a {room:unit} de lo que no se permite: un ensayo solo decide si los valores caen bien.[ Leerla en pasos de {needed:unit}, o ampliar la tolerancia.]',
  'pulses-too-coarse':
    'Un impulso vale {step:unit}, una lectura tiene {doubt:unit} de ancho y la banda {band:unit}: contar no puede decidirlo.[ Con {targets} veces más levas de detección, sí;][ también con un tiempo de conteo de {gate:seconds};][ lo mejor es medir el período, en pasos de {tick} µs o menos.]',
  'pulses-by-luck':
    'Un impulso o un paso vale {step:unit}, una cota puede errar en {doubt:unit}, y el valor de ajuste está a {room:unit} de lo que no se permite: un ensayo solo decide si los impulsos caen bien.[ Con {targets} veces más levas de detección, siempre;][ también con un tiempo de conteo de {gate:seconds};][ lo mejor es medir el período, en pasos de {tick} µs o menos.]',
  'pulses-beat':
    'En el valor de ajuste los impulsos llegan a {hertz} Hz: {beats} en cada ciclo de {scan:seconds}. Un programa que mira la entrada una vez por ciclo la ve quieta ahí. Dar un disparo por demostrado solo si los impulsos van a una entrada de conteo o a una tarea más rápida.',
  'pulses-missed':
    'En el valor de ajuste los impulsos llegan a {hertz} Hz: un programa que mira la entrada cada {scan:seconds} pierde algunos. Debe mirar cada {needed:seconds} o más a menudo, o contar por hardware.',
  'needs-step-or-hold':
    'Con un retardo de {delay:seconds}, una rampa o un valor mantenido solos no deciden nada: añadir un escalón en el mismo ensayo.',
  'normal-not-known-yet':
    'El valor de ajuste y la banda solo se conocen en cifras cuando se conoce el valor normal.',
  'delay-unresolvable':
    'El retardo se mide con {doubt:seconds} en el mejor caso, lo que no puede decidir ± {tolerance:seconds}.[ Leer cada {poll:seconds} o más a menudo, o ampliar la tolerancia.][ El muestreo y la publicación juntos deben ser {pace:seconds}, o la tolerancia más amplia.]',
  'delay-by-luck':
    'El retardo se mide con {doubt:seconds}, lo que solo decide ± {tolerance:seconds} si las lecturas caen bien: si no, repetir el escalón.[ Leyendo cada {poll:seconds}, cualquier escalón decidiría.][ Con {pace:seconds} de muestreo y publicación juntos, cualquier escalón decidiría.]',
  'within-too-tight':
    '{effect} debe llegar dentro de {within:seconds}, pero su tiempo solo se conoce con {doubt:seconds}[ después de un retardo de {delay:seconds}].[ Leer cada {poll:seconds} o más a menudo, o permitir más tiempo.][ El muestreo y la publicación juntos deben ser {pace:seconds}, o el tiempo más largo.]',
  'beyond-process-safety-time':
    '{effect} puede llegar {uses:seconds} después de la desviación, incluida la edad de las lecturas: {over:seconds} más tarde de lo que permite el tiempo de seguridad del proceso de {safety:seconds}. No puede proteger a tiempo.',
  'half-process-safety-time':
    '{effect} puede usar {uses:seconds} del tiempo de seguridad del proceso de {safety:seconds}, incluida la edad de las lecturas; quedan {left:seconds}. Según una regla práctica usa como máximo la mitad: margen {byHalf:seconds}.',
  'cause-and-effect-apart':
    'La causa ({cause}) y el efecto ({effect}) vienen de dos fuentes: sus tiempos se conocen peor. Leer ambos de una sola.',
  'bypass-not-visible': 'No se puede leer si {machine} está anulada. Hay que atestiguarlo.',
  'effect-is-momentary':
    '{effect} solo dura mientras dura la causa: mantener la causa {seconds:seconds} más, o puede perderse entre dos lecturas.',
};
