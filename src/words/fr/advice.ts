import type { ADVICE as EN } from '../en/advice.ts';
import type { Translation } from '../language.ts';

/** How to make the test, from what the polling can decide. */
export const ADVICE: Translation<typeof EN> = {
  'plan-ramp':
    'Rampe d’au plus {rate:rate}[, sans saut à partir de {from:unit}] ; puis maintenir à {level:unit} pendant {seconds:seconds}.',
  'plan-hold':
    'Aucune rampe n’est assez lente. Maintenir à {inside:unit} pendant {insideFor:seconds} ou plus : il ne doit pas agir. Puis à {acting:unit} pendant {actingFor:seconds} : s’il agit ici, c’est conforme. Puis à {outside:unit} pendant {outsideFor:seconds} : il doit agir.',
  'plan-or-hold':
    'Ou maintenir à {inside:unit} pendant {insideFor:seconds} ou plus : il ne doit pas agir. Puis à {acting:unit} pendant {actingFor:seconds} : s’il agit ici, c’est conforme. Puis à {outside:unit} pendant {outsideFor:seconds} : il doit agir.',
  'plan-step':
    'Pour la temporisation, un échelon de la valeur normale à[ {below:unit} ou moins][ {above:unit} ou plus], pendant {seconds:seconds}, dans le même essai.',
  'plan-step-first':
    'Ou d’abord un échelon de la valeur normale à[ {below:unit} ou moins][ {above:unit} ou plus], pendant {seconds:seconds}, dans le même essai : il mesure la réaction, et une rampe d’au plus {rate:rate} est assez lente.',
  'plan-stop-first':
    'Ou d’abord un échelon de la valeur normale à l’immobilité, pendant {seconds:seconds}, dans le même essai : il mesure la réaction, et une rampe d’au plus {rate:rate} est assez lente.',
  'plan-stop':
    'Pour la temporisation, un échelon de la valeur normale à l’immobilité, pendant {seconds:seconds}, dans le même essai.',
  'plan-band': 'Maintenir dans {within:band} pendant {seconds:seconds} ou plus.',
  'plan-keep': 'Faire durer la cause au moins {seconds:seconds}.',
};
