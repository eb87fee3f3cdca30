import { faultText } from '../config/index.ts';
import type { Reason } from '../measure/index.ts';
import { type Feasibility, feasibility, readPlan } from '../rulebook/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';
import { decidedLines } from './plan-text.ts';
import { readPlanLines } from './read-plan.ts';
import { loadBook } from './site.ts';

const worded = (one: Feasibility) => {
  const unit = one.tripPoint?.unit ?? '';
  const said = (reasons: readonly Reason[]) =>
    reasons.map((reason) => ({ ...reason, text: text(reason, { unit }) }));
  return { undecidable: said(one.undecidable), notes: said(one.notes), advice: said(one.advice) };
};

export interface CheckOptions {
  readonly json: boolean;
  readonly selfTest: boolean;
  readonly connect: boolean;
  readonly pki: string;
  readonly at: readonly string[];
}

/** Reads site and rulebook; lists every fault, or what this polling can and cannot decide. */
export const checkCommand = async (site: string, options: CheckOptions): Promise<number> => {
  const { book, warnings } = await loadBook(site, options.json);
  if (options.selfTest) return (await import('./self-test.ts')).selfTestCommand(book, options);
  if (options.connect) {
    const { movedTo } = await import('./whereabouts.ts');
    return (await import('./connect/check-connect.ts')).connectCommand(movedTo(book, options.at), options);
  }
  const feasible = feasibility(book);
  if (options.json) {
    const plan = readPlan(book);
    json({
      ok: true,
      site: book.site,
      warnings: warnings.map((fault) => ({ ...fault, text: faultText(fault) })),
      plan: plan.requests,
      interlocks: feasible.map((one) => ({
        ...one,
        interlock: book.interlocks[one.interlock]?.name,
        ...worded(one),
      })),
    });
    return EXIT.ok;
  }
  out(
    `${book.title || book.site}: ${book.machines.length} machines, ${book.interlocks.length} interlocks, ${book.signals.length} signals`,
  );
  for (const warning of warnings) out(hung(faultText(warning), 'warning: ', '  ').join('\n'));
  out(
    ['', ...readPlanLines(book), '', 'What this polling can decide', ...decidedLines(book, feasible)].join(
      '\n',
    ),
  );
  out('\nNo fault.');
  return EXIT.ok;
};
