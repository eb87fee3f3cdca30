import type { WindowLine } from '../../../api/index.ts';
import { OUTCOMES, type Outcome } from '../../../measure/index.ts';
import { goTo, type Route } from '../../state/route.ts';

export interface Filter {
  readonly machine: string;
  readonly outcome: Outcome | '';
  readonly kind: 'window' | 'demand' | '';
  readonly text: string;
  /** From 1. */
  readonly page: number;
}

export const PAGE = 20;

const oneOf = <T extends string>(all: readonly T[], value: string | null): T | '' =>
  all.find((one) => one === value) ?? '';

export const filterIn = ({ query }: Route): Filter => ({
  machine: query.get('machine') ?? '',
  outcome: oneOf(OUTCOMES, query.get('outcome')),
  kind: oneOf(['window', 'demand'] as const, query.get('kind')),
  text: query.get('text') ?? '',
  page: Math.max(1, Math.trunc(Number(query.get('page')) || 1)),
});

export const filterBy = ({ page, ...others }: Filter): void => {
  const said = Object.entries(others).filter(([, value]) => value !== '');
  goTo(['records'], { ...Object.fromEntries(said), ...(page > 1 && { page: String(page) }) });
};

/** An interlock is named after its machine. */
export const machineOf = (interlock: string): string =>
  interlock.slice(0, Math.max(0, interlock.indexOf('.')));

const says = ({ window, people, interlocks }: WindowLine, text: string): boolean =>
  [window, ...people, ...interlocks.map(({ name }) => name)].some((one) => one.toLowerCase().includes(text));

/** Those lines that the filter lets through, in their order. */
export const filtered = (lines: readonly WindowLine[], filter: Filter): readonly WindowLine[] => {
  const { machine, outcome, kind } = filter;
  const text = filter.text.trim().toLowerCase();
  return lines.filter(
    (line) =>
      (machine === '' || line.interlocks.some(({ name }) => machineOf(name) === machine)) &&
      (outcome === '' || line.interlocks.some((one) => one.outcome === outcome)) &&
      (kind === '' || line.demand === (kind === 'demand')) &&
      (text === '' || says(line, text)),
  );
};
