import { addressForms } from '../config/index.ts';
import { MILLISECOND } from '../measure/index.ts';
import { type Book, needs, readPlan } from '../rulebook/index.ts';
import { type LineLoad, lineLoads, type Request, TURNAROUND } from '../signal/index.ts';
import { hung } from './hung.ts';

/** Addresses in every form, and what is on the wire: `hr:0 to hr:12 (40001 to 40013, 400001 to 400013), function 3, …`. */
const rangeText = ({ table, at, count }: Request): string => {
  const [first, last] = [addressForms(table, at), addressForms(table, at + count - 1)];
  const range = (a: string, b: string): string => (a === b ? a : `${a} to ${b}`);
  const five = last.five === undefined || first.five === undefined ? '' : `${range(first.five, last.five)}, `;
  const forms = `${range(first.named, last.named)} (${five}${range(first.six, last.six)})`;
  return `${forms}, function ${first.functionCode}, on the wire ${range(first.wire, last.wire)}`;
};

const tenth = (micros: number): string => `${Math.round((10 * micros) / MILLISECOND) / 10} ms`;

/** How often: while watching, and while a window needs it where that is more often. */
const paceText = (book: Book, { source: index, pace }: Request): string => {
  const source = book.sources[index];
  if (source?.protocol !== 'modbus') return '';
  if (pace === 'slow') return `each ${tenth(source.slowPoll)}, for no interlock needs it`;
  const faster =
    source.windowPoll < source.poll ? `, each ${tenth(source.windowPoll)} while a window needs it` : '';
  return `each ${tenth(source.poll)}${faster}`;
};

const requestLines = (book: Book, one: Request): string[] => {
  const count = one.signals.length;
  const about = `${rangeText(one)}; ${count} ${count === 1 ? 'signal' : 'signals'} in one answer, ${paceText(book, one)}`;
  return hung(about, `  ${book.sources[one.source]?.name}  `, '      ');
};

const percent = (part: number): string => `${Math.round(100 * part)} %`;

/** Of a serial line: how much of its time the plan takes. Over TCP nobody knows beforehand what a device takes. */
const loadLines = (load: LineLoad): string[] => {
  if (load.baud === undefined) return [];
  const about =
    `${load.baud} baud: on the wire ${percent(load.least)} of the time at most, ${percent(load.usual)} if each ` +
    `answer takes the usual ${tenth(TURNAROUND)} to come`;
  return hung(about, `  ${load.place}  `, '      ');
};

/** What is asked, how often, and what it takes of each serial line. */
export const readPlanLines = (book: Book): string[] => {
  const wishes = needs(book);
  const plan = readPlan(book, wishes);
  const items = [...plan.items].map(
    ([source, ids]) => `  ${book.sources[source]?.name}  ${ids.length} monitored items`,
  );
  const loads = lineLoads(book.sources, plan, wishes.together);
  return [
    'Read plan',
    ...plan.requests.flatMap((one) => requestLines(book, one)),
    ...items,
    ...loads.flatMap(loadLines),
  ];
};
