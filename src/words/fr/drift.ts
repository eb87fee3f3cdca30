import type { DRIFT as EN } from '../en/drift.ts';
import type { Translation } from '../language.ts';

/** What years of tests say of an interlock. */
export const DRIFT: Translation<typeof EN> = {
  'drift-trip':
    'Son point de déclenchement dérive de {slope:unit} par an[ ; il peut quitter sa tolérance à partir du {earliest:day}][, et l’aura quittée le {latest:day}]. Ce sont les bornes de toutes les droites passant par tous les intervalles mesurés.',
  'drift-response':
    'Sa réponse dérive de {slope:unit} par an[ ; elle peut venir trop tard à partir du {earliest:day}][, et ce sera le cas le {latest:day}]. Ce sont les bornes de toutes les droites passant par tous les intervalles mesurés.',
  'too-constant':
    'Trop constant pour être vrai : le point de déclenchement et la réponse de {windows} sont égaux au dernier chiffre près. De vrais essais varient ; comparer les tracés, et essayer de nouveau avec un témoin.',
};
