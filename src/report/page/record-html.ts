import type { Subject } from '../facts.ts';
import { escaped } from '../markup.ts';
import { type RuleHeld, rulesHeld } from '../record-rules.ts';
import type { WindowReport } from '../types.ts';

const ruleRow = ({ rule, fields, missing }: RuleHeld): string => {
  const state =
    missing.length === 0
      ? '<span aria-hidden="true">✔ </span>all stated'
      : `<strong><span aria-hidden="true">○ </span>not stated:</strong> ${escaped(missing.join('; '))}`;
  return `<tr><th scope="row">${escaped(rule)}</th><td>${escaped(fields.join('; '))}</td><td>${state}</td></tr>`;
};

/** What rules ask of the record, and what of it is missing. Nobody made a test record where a demand came. */
export const missingHtml = (report: WindowReport, subjects: readonly Subject[]): string => {
  const rules = rulesHeld(report, subjects);
  return rules.length === 0
    ? ''
    : `<h4>What rules ask of a record</h4><div class="tw-scroll"><table><thead><tr><th scope="col">Rule</th><th scope="col">Asks for</th><th scope="col">This record</th></tr></thead><tbody>${rules.map(ruleRow).join('')}</tbody></table></div>`;
};
