import type { Subject } from './facts.ts';
import type { WindowReport } from './types.ts';

/** Fields that rules on records ask for, by the words in which they are told. */
const FIELDS = {
  date: 'date of the test',
  person: 'name of the person who tested',
  identifier: 'serial number or other identifier of the equipment',
  signature: 'signature of the person who tested',
  description: 'description of the test',
  results: 'results',
  procedure: 'procedure',
  instrument: 'reference of the test equipment',
  'as-found': 'condition as found',
  'as-left': 'condition as left',
  reviewer: 'independent reviewer',
  company: 'company of the person who tested',
} as const;
type FieldName = keyof typeof FIELDS;

interface RecordRule {
  readonly rule: string;
  readonly fields: readonly FieldName[];
  /** It holds where an interlock of the window cites this; absent: it is held against every record. */
  readonly cited?: RegExp;
}

/**
 * What a record has to hold, and who says so. 1910.272(m)(3), 51 FR 34552, 46 CFR 109.435 and 30 CFR 56.19121 after their
 * published texts; 1910.119(j)(4)(iv), IEC 61511-1 and ISO/IEC 17025 from memory: read the current edition before citing.
 */
const RULES: readonly RecordRule[] = [
  { rule: '29 CFR 1910.272(m)(3)', fields: ['date', 'person', 'identifier'] },
  {
    rule: 'Proof-test practice (IEC 61511-1, 16.3.3)',
    fields: [
      'date',
      'person',
      'identifier',
      'description',
      'procedure',
      'instrument',
      'results',
      'as-found',
      'as-left',
      'reviewer',
    ],
  },
  { rule: '51 FR 34552', cited: /29 CFR 1910\.272/, fields: ['date', 'signature', 'identifier'] },
  {
    rule: '29 CFR 1910.119(j)(4)(iv)',
    cited: /29 CFR 1910\.119/,
    fields: ['date', 'person', 'identifier', 'description', 'results'],
  },
  { rule: '30 CFR 56.19121', cited: /30 CFR 5[67]\./, fields: ['date', 'signature', 'results'] },
  { rule: '46 CFR 109.435', cited: /46 CFR 109\./, fields: ['date', 'identifier', 'person', 'company'] },
  { rule: 'ISO/IEC 17025, 7.8.4.1', cited: /17025/, fields: ['as-found', 'as-left'] },
];

type Test = (report: WindowReport, subjects: readonly Subject[]) => boolean;

const says = (report: WindowReport, name: string): boolean => (report.stated[name] ?? '').trim() !== '';
const signedAs = (report: WindowReport, meaning: string): boolean =>
  (report.papers?.signing.signatures ?? []).some((one) => one.meaning === meaning);
/** What was never tried has no condition, and its blank is the verdict "not tested". */
const tried = (subjects: readonly Subject[]): readonly Subject[] =>
  subjects.filter(({ report }) => report.verdict.outcome !== 'not-tested');

const STATED: Readonly<Record<FieldName, Test>> = {
  date: () => true,
  person: (report) => report.people.some(({ name }) => name.trim() !== ''),
  identifier: (_, subjects) => subjects.every(({ machine }) => (machine?.name ?? '') !== ''),
  signature: (report) => signedAs(report, 'performed'),
  description: (_, subjects) => tried(subjects).every(({ report }) => report.method !== 'unstated'),
  results: (report) => report.standing === 'closed',
  procedure: (report) => says(report, 'procedure'),
  instrument: (report) => says(report, 'instrument'),
  'as-found': (_, subjects) => tried(subjects).every(({ report }) => report.verdict.asFound !== undefined),
  // As left is as found where nothing was done in between.
  'as-left': (_, subjects) =>
    tried(subjects).every(({ report: { verdict } }) => (verdict.asLeft ?? verdict.asFound) !== undefined),
  reviewer: (report) => says(report, 'reviewer') || signedAs(report, 'reviewed'),
  company: (report) => says(report, 'company'),
};

/** A rule that is held against a record, and what of it nobody stated. */
export interface RuleHeld {
  readonly rule: string;
  readonly fields: readonly string[];
  readonly missing: readonly string[];
}

/** The rules that a window's record is held against: those for every record, and those that its interlocks cite. */
export const rulesHeld = (report: WindowReport, subjects: readonly Subject[]): readonly RuleHeld[] => {
  if (report.demand) return [];
  const citations = subjects.flatMap(({ interlock }) => interlock.limit?.basis ?? []);
  return RULES.filter(({ cited }) => cited === undefined || citations.some((one) => cited.test(one))).map(
    ({ rule, fields }) => ({
      rule,
      fields: fields.map((name) => FIELDS[name]),
      missing: fields.filter((name) => !STATED[name](report, subjects)).map((name) => FIELDS[name]),
    }),
  );
};
