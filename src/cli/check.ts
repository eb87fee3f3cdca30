import { addressForms, faultText } from '../config/index.ts';
import type { Reason } from '../measure/index.ts';
import { type Book, type Feasibility, feasibility, readPlan } from '../rulebook/index.ts';
import type { Request } from '../signal/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';
import { decidedLines } from './plan-text.ts';
import { loadBook } from './site.ts';

/** Addresses in every form, and what is on the wire: `hr:0 to hr:12 (40001 to 40013, 400001 to 400013), function 3, …`. */
const rangeText = ({ table, at, count }: Request): string => {
  const [first, last] = [addressForms(table, at), addressForms(table, at + count - 1)];
  const range = (a: string, b: string): string => (a === b ? a : `${a} to ${b}`);
  const five = last.five === undefined || first.five === undefined ? '' : `${range(first.five, last.five)}, `;
  const forms = `${range(first.named, last.named)} (${five}${range(first.six, last.six)})`;
  return `${forms}, function ${first.functionCode}, on the wire ${range(first.wire, last.wire)}`;
};

const planLines = (book: Book): string[] => {
  const plan = readPlan(book);
  const requests = plan.requests.flatMap((one) => {
    const about = `${rangeText(one)}; ${one.signals.length} ${one.signals.length === 1 ? 'signal' : 'signals'} in one answer`;
    return hung(about, `  ${book.sources[one.source]?.name}  `, '      ');
  });
  const items = [...plan.items].map(
    ([source, ids]) => `  ${book.sources[source]?.name}  ${ids.length} monitored items`,
  );
  return ['Read plan', ...requests, ...items];
};

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
    return (await import('./check-connect.ts')).connectCommand(movedTo(book, options.at), options);
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
    ['', ...planLines(book), '', 'What this polling can decide', ...decidedLines(book, feasible)].join('\n'),
  );
  out('\nNo fault.');
  return EXIT.ok;
};
