/** What the trade does, where no rule that we have read says so. */
export const PRACTICE = 'common practice, no source';

/** The rule behind each caution, where there is one. */
const RULES: Readonly<Record<string, string>> = {
  'precaution-observes-only': 'limit of this program',
  'precaution-lock-out': '29 CFR 1910.147(f)(1), 1926.555(a)(7)',
  'precaution-run-empty': '29 CFR 1910.272(q) forbids jogging',
  'precaution-ignition': 'ISA-RP12.12.03',
  'precaution-warn-before-start': '30 CFR 57.14201, 29 CFR 1926.555',
  'precaution-no-bypass': '30 CFR 56.4503 and 57.4503',
  'caution-no-isolation': 'South African conveyor code',
  'caution-forcing': 'documentation of controllers',
  'caution-after': 'principles of proof testing, United Kingdom',
};

/** The rule behind a caution, by its code. */
export const ruleBehind = (code: string): string => RULES[code] ?? PRACTICE;
