import type { CAUTIONS as EN } from '../en/cautions.ts';
import type { Translation } from '../language.ts';

/** What to do where a protection did not act. */
const ABSENT =
  'parar la máquina con su paro normal o la parada de emergencia, mantener alejadas a las personas, ponerla fuera de servicio, informar de la deficiencia';

/** What is printed on every report, and confirmed before a guided window is opened. */
export const CAUTIONS: Translation<typeof EN> = {
  'precaution-observes-only':
    'Esta herramienta observa. No protege, no dispara, no rearma ni bloquea nada. Un resultado apto muestra el comportamiento en un ensayo, con una revisión del programa.',
  'precaution-lock-out':
    'Bloquear y señalizar antes de meter la mano, ajustar o limpiar. Donde un ensayo necesita energía: retirar herramientas, retirar personas, quitar candados, dar energía, ensayar, quitar energía, volver a bloquear.',
  'precaution-run-empty':
    'Funcionar en vacío. Parar primero la alimentación de producto. Nunca dar impulsos para liberar un elevador atascado.',
  'precaution-guards-on':
    'Resguardos puestos. Nunca anular un resguardo para llegar a un sensor: puntos de atrapamiento, tensión acumulada.',
  'precaution-ignition':
    'Las pistolas de calor, las llamas y los comprobadores y tabletas sin certificar son fuentes de ignición en el polvo. Primero limpieza, después permiso de trabajo en caliente; mejor un calibrador de bloque seco o una sustitución.',
  'caution-hot': 'Los rodamientos y los patines de roce calientes queman.',
  'precaution-warn-before-start':
    'Avisar y revisar la línea antes de cada arranque; avisar otra vez si el arranque se retrasa.',
  'precaution-no-bypass':
    'Nunca anular en producción para un ensayo. Donde no se pueda evitar: autorizado, limitado en tiempo, vigilado, anunciado, anotado, retirado, ensayado de nuevo.',
  'caution-no-isolation': 'Una parada de emergencia no es un bloqueo. Un puesto de paro no aísla.',
  'caution-forcing':
    'Forzar un valor puede mover máquinas. Mantener alejadas a las personas. Lo forzado queda cuando el portátil se va.',
  'caution-electrical':
    'Trabajos eléctricos solo por personas cualificadas. Cuidado con caídas y espacios confinados: cabeza del elevador, fosos, silos.',
  'precaution-stop-at-hand': `Si un paro exigido no ocurre: ${ABSENT}.`,
  'caution-after':
    'Después del ensayo: levas de detección y tapas en su sitio, anulaciones quitadas, nada forzado, valores de ajuste como deben ser, bocina sonando de nuevo, operadores avisados.',
  'precaution-local-rules':
    'Prevalecen las normas locales, las instrucciones de los fabricantes y el estudio de seguridad de la planta. Solo personas cualificadas.',
  'stop-failed-at-once': `Este paro no se produjo como debía. De inmediato: ${ABSENT}.`,
};
