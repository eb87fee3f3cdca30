import type { Precaution } from '../../../guide/index.ts';

/**
 * Each with the rule behind it, as it is cited in every language; '' where it is common practice and no rule is known. A
 * missing one does not compile.
 */
const RULES: Readonly<Record<Precaution, string>> = {
  'precaution-observes-only': '',
  'precaution-lock-out': '29 CFR 1910.147(f)(1), 1926.555(a)(7)',
  'precaution-run-empty': '29 CFR 1910.272(q)',
  'precaution-guards-on': '',
  'precaution-ignition': 'ISA-RP12.12.03',
  'precaution-warn-before-start': '30 CFR 57.14201, 29 CFR 1926.555',
  'precaution-no-bypass': '30 CFR 56.4503, 57.4503',
  'precaution-stop-at-hand': '',
  'precaution-local-rules': '',
};

export const ruleOf = (one: Precaution): string => RULES[one];

/** In the order in which they are confirmed. */
export const PRECAUTIONS = Object.keys(RULES) as readonly Precaution[];
