/** Machines before and after this one, whose roles an effect or a condition can name. */
export const RELATIONS = ['feeder', 'receiver'] as const;
export type Relation = (typeof RELATIONS)[number];

/** Role of an effect or condition: its own, or of the machines before or after it. */
export const relationOf = (signal: string): { relation?: Relation; role: string } => {
  const relation = RELATIONS.find((word) => signal.startsWith(`${word}.`));
  return relation === undefined ? { role: signal } : { relation, role: signal.slice(relation.length + 1) };
};
