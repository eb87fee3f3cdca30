import type { Param } from '../measure/index.ts';

/** Where something stands; lines and columns count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** One thing that is wrong (or, as a warning, doubtful) in a file that a person wrote. */
export interface Fault extends Place {
  readonly code: string;
  readonly params: Readonly<Record<string, Param>>;
  /** What was probably meant. */
  readonly suggestion?: string;
}

/** Collects what is wrong, so that every fault is told in one go. */
export type Tell = (
  place: Place,
  code: string,
  params?: Readonly<Record<string, Param>>,
  suggestion?: string,
) => void;

export const teller =
  (into: Fault[]): Tell =>
  (place, code, params = {}, suggestion) => {
    const fault = { file: place.file, line: place.line, column: place.column, code, params };
    into.push(suggestion === undefined ? fault : { ...fault, suggestion });
  };

const order = (a: string, b: string): number => {
  if (a === b) return 0;
  return a < b ? -1 : 1;
};

const keyOf = (fault: Fault): string =>
  `${fault.file}\n${fault.line}\n${fault.column}\n${fault.code}\n${JSON.stringify(fault.params)}`;

/** By file and line; a pack that forty machines use tells its fault once. */
export const inOrder = (faults: readonly Fault[]): readonly Fault[] => {
  const once = new Map(faults.map((fault) => [keyOf(fault), fault]));
  return [...once.values()].sort(
    (a, b) => order(a.file, b.file) || a.line - b.line || a.column - b.column || order(a.code, b.code),
  );
};
