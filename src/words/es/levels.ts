import type { LEVELS as EN } from '../en/levels.ts';
import type { Translation } from '../language.ts';

/** Set point, delay, limit and normal. An undecided one says what would decide it. */
export const LEVELS: Translation<typeof EN> = {
  'set-point-inside':
    'El punto de disparo {trip:unit} está [~probability|del todo ]dentro de la banda del valor de ajuste {allowed:band}[; retardo {delay:s}][; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'set-point-outside':
    'El punto de disparo {trip:unit} está [~probability|del todo ]fuera de la banda del valor de ajuste {allowed:band}[; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'set-point-undecided':
    'El punto de disparo {trip:unit} no está ni [~probability|del todo ]dentro ni [~probability|del todo ]fuera de la banda {allowed:band}[; según su mejor estimación, probabilidad de conformidad {probability:chance}]. Hacer una prueba de valor mantenido: mantener justo por dentro y después justo por fuera[; o una rampa de {advised:rate} como máximo con esta cadencia de lectura].',
  'reaction-not-measured':
    'El punto de disparo {trip:unit} está dentro de la banda {allowed:band} si actúa en el acto. Puede tardar hasta {reaction:s}: entonces puede estar en {within:unit}[; probabilidad de conformidad {probability:chance}]. Mover la causa más despacio, o añadir en el mismo ensayo un escalón mucho más allá del valor de ajuste, que mide lo que tarda en actuar.',
  'level-and-delay-not-separated':
    'Una sola rampa no distingue un valor de ajuste bajo de un retardo largo[ (punto de disparo {trip:unit}, retardo {delay:s})][; probabilidad de que el punto de disparo sea conforme: {probability:chance}]. Añadir en el mismo ensayo un escalón mucho más allá del valor de ajuste o una prueba de valor mantenido.',
  'level-or-delay-outside':
    'El valor de ajuste y el retardo no pueden ser correctos los dos: con el retardo declarado[ ({delay:s})] el punto de disparo sería {trip:unit}, fuera de {allowed:band}.',
  'trials-disagree':
    'Ningún valor de ajuste con ningún retardo explica juntas todas las pruebas. El enclavamiento no se repite, o actuó otra cosa. Repetir las pruebas.',
  'limit-met':
    'El punto de disparo {trip:unit} respeta el límite {limit:band} ({basis})[; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'limit-violated':
    'El punto de disparo {trip:unit} incumple el límite {limit:band} ({basis})[; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'limit-undecided':
    'El punto de disparo {trip:unit} puede estar a un lado o al otro del límite {limit:band} ({basis})[; según su mejor estimación, probabilidad de conformidad {probability:chance}]. Hacer la rampa más despacio, o una prueba de valor mantenido justo por dentro del límite.',
  'limit-without-action':
    'Mantenido más allá de {value:unit} durante {seconds:seconds}, nada actuó, aunque el límite es {limit:band} ({basis}).',
  'limit-not-tested': 'El límite ({basis}) no se ensayó: no se midió ningún punto de disparo.',
  'delay-inside':
    'El retardo {delay:s} está [~probability|del todo ]dentro de {allowed:band-s}[; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'delay-outside':
    'El retardo {delay:s} está [~probability|del todo ]fuera de {allowed:band-s}[; según su mejor estimación, probabilidad de conformidad {probability:chance}].',
  'delay-undecided':
    'No se puede decidir si el retardo {delay:s} está dentro de {allowed:band-s}[; según su mejor estimación, probabilidad de conformidad {probability:chance}]. Leer más a menudo, o hacer un escalón más brusco.',
  'delay-not-measured':
    'El retardo[ (declarado {allowed:band-s})] no se midió. Hacer en este ensayo un escalón mucho más allá del valor de ajuste.',
  'normal-agrees':
    'El valor normal {normal:unit} concuerda con la placa de características {nameplate:unit} (± {allowance} %).',
  'normal-disagrees':
    'El valor normal {normal:unit} difiere de la placa de características {nameplate:unit} en más del {allowance} %. Puede haberse aprendido con una banda que patinaba. Comprobar la velocidad a mano.',
  'normal-agrees-with':
    'El valor normal {normal:unit} concuerda con {signal}, que da {reference:unit} (± {allowance} %).',
  'normal-differs-from':
    'El valor normal {normal:unit} difiere de {signal}, que da {reference:unit}, en más del {allowance} %. Puede que la banda patine. Comprobar la velocidad a mano.',
  'normal-unsure-against':
    'No se puede decidir si el valor normal {normal:unit} concuerda con {signal}, que da {reference:unit} (± {allowance} %). Leer ambos con una resolución más fina.',
  'normal-without-reference': 'El valor normal no se puede comparar con {signal}: no tiene valor.',
  'normal-as-before':
    'El valor normal {normal:unit} es el mismo que en {window} ({earlier:unit}, ± {allowance} %).',
  'normal-moved':
    'El valor normal {normal:unit} ha cambiado más del {allowance} % desde {window} ({earlier:unit}). Averiguar por qué y comprobar la velocidad a mano: puede haberse aprendido con una banda que patinaba.',
  'normal-undecided':
    'No se puede decidir si el valor normal {normal:unit} concuerda con la placa de características {nameplate:unit} (± {allowance} %). Dejarla funcionar estable más tiempo, o leerlo con una resolución más fina.',
  'no-nameplate':
    'No se ha indicado ningún valor de placa de características[ para {basis}]: el valor normal no se puede comparar con él.',
  'quiet-inside':
    'Mantenido en {value:unit} durante {seconds:seconds}, justo por dentro de su valor de ajuste, no actuó.',
  'acted-inside':
    'Actuó en {value:unit}, aunque la causa con certeza no había alcanzado la banda del valor de ajuste.',
  'on-return-as-declared':
    'Cuando la causa retrocedió un momento, el retardo {found:return}, como está declarado.',
  'on-return-otherwise':
    'Cuando la causa retrocedió un momento, el retardo {found:return}; está declarado que {declared:return}.',
  'acted-after-return':
    'Actuó aunque la causa solo había durado {lasted:seconds} y ya se había ido; el retardo es {delay:s}. El retardo no empieza de nuevo.',
  'observed-agrees':
    'En el sensor, el instrumento ({instrument}) marcó {observed:unit} (leído por {by}) y el controlador {trip:unit}: concuerdan dentro de la tolerancia.',
  'observed-disagrees':
    'En el sensor, el instrumento ({instrument}) marcó {observed:unit} (leído por {by}), pero el controlador tenía {trip:unit}. Comprobar el escalado y el sensor.',
  'observed-undecided':
    'En el sensor, el instrumento ({instrument}) marcó {observed:unit} (leído por {by}) y el controlador {trip:unit}: no se puede decidir si concuerdan dentro de la tolerancia. Mover la causa más despacio, o usar un instrumento más fino.',
  'observed-without-trip':
    'En el sensor, el instrumento ({instrument}) marcó {observed:unit} (leído por {by}), pero no hay disparo con el que compararlo.',
  repeats: '{trials} pruebas concuerdan dentro de {apart:unit}[ (permitido {allowed:band})].',
  'does-not-repeat': '{trials} pruebas difieren en {apart:unit}, más de lo permitido, {allowed:band}.',
  'repeat-undecided':
    'No se puede decidir si {trials} pruebas concuerdan: difieren en {apart:unit}, se permiten {allowed:band}. Mover la causa más despacio.',
  'repeat-more': 'Se piden {wanted} pruebas; se pueden comparar {trials}. Hacer más.',
  'contact-has-no-trip-point': 'La causa es un contacto; no tiene punto de disparo.',
  'response-reported': 'El tiempo de respuesta[ {response:s}] se comunica, no se juzga.',
};
