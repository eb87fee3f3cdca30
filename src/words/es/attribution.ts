import type { ATTRIBUTION as EN } from '../en/attribution.ts';
import type { Translation } from '../language.ts';

/** What else could have brought an effect about, and what is missing from the evidence. */
export const ATTRIBUTION: Translation<typeof EN> = {
  'attribution-clear': 'Nada más de lo que se observaba pudo haber provocado los efectos.',
  'competing-cause':
    '{interlock} puede haber actuado al mismo tiempo. Repetir con su causa ausente con certeza.',
  'stop-by-hand': '{signal} se pulsó, o pudo pulsarse, antes del efecto. Repetir sin tocar el paro.',
  'trip-bit-silent':
    'La máquina paró, pero {signal} nunca indicó disparo: la paró otra persona u otra cosa. Repetir y observar quién la para.',
  'hand-stop-not-excluded':
    'No se puede leer ningún pulsador de paro ni indicación de disparo[ de {machine}]: no se puede excluir un paro a mano. Añadir uno de los dos, o hacer atestiguar que nadie pulsó el paro.',
  'press-not-excluded':
    '{signal} se lee con demasiada poca frecuencia para excluir que alguien lo pulsara un momento. Leerlo más rápido que un dedo, o hacer que quede retenido.',
  'arming-lost': '{signal} dejó su estado armado antes del efecto. Repetir con la máquina en marcha estable.',
  'bypass-during-trial':
    '{signal} indicó una anulación, o pudo indicarla, durante la prueba. Quitarla y repetir.',
  'forced-during-trial':
    '{signal} estuvo forzado, o pudo estarlo, durante la prueba. Quitar el forzado y repetir.',
  'attested-bypass': 'Una anulación está atestiguada por {by}.',
  'evidence-gap':
    'No hay lectura de {signal} durante {seconds:seconds} donde decide ({absence:absence}). Repetir con la conexión sin interrupciones.',
  'uncertain-value':
    'El servidor de {signal} declaró incierto su valor, o perdió valores antes, donde decide. Corregirlo y repetir.',
  'unlisted-change':
    '{signal} pasó a {state}, lo que ningún enclavamiento espera aquí. Averiguar por qué y después repetir.',
  'other-machine-acted':
    '{signal} de {machine} pasó a {state}, lo que este enclavamiento no hace. Comprobar a qué máquina está cableado.',
  'acted-before-cause':
    '{effect} llegó antes de que la causa alcanzara su valor de ajuste. Actuó otra cosa. Repetir.',
  'siblings-moved': '{signal} también se movió. Mover un solo sensor y comprobar que es el correcto.',
  'signal-too-still':
    '{signal} variaba antes y ahora muestra siempre el mismo valor, como si estuviera escrito en el programa. Mover el sensor mismo y repetir.',
  'raw-disagrees':
    '{shown} no muestra lo que muestra su entrada directa {raw}. Quitar el forzado, o averiguar por qué, y después repetir.',
  'setting-changed':
    '{signal} se cambió durante la prueba[ (a {to})]. Corregirlo, registrar el cambio y repetir.',
  'heartbeat-still':
    '{signal} está parado: puede que el controlador no ejecute su programa. Repetir cuando cuente.',
};
