import { EXIT, json, out, Stop } from './io.ts';

/** Two windows, or two revisions, side by side. */
export const compareCommand = async (
  log: string,
  a: string,
  b: string,
  options: { readonly json: boolean },
): Promise<number> => {
  const { historyFrom } = await import('../daemon/index.ts');
  const { compareSides, compareText, isChanged } = await import('../report/index.ts');
  const history = historyFrom(log);
  const known = new Set([
    ...history.windows.map(({ id }) => id),
    ...history.windows.flatMap(({ revisions }) =>
      revisions.flatMap(({ opened, closed }) => [opened, closed ?? opened]),
    ),
  ]);
  const strange = [a, b].find((name) => !known.has(name));
  if (strange !== undefined)
    throw new Stop(
      `${log} has no window and no tested revision "${strange}"; there are: ${[...known].join(', ') || 'none'}`,
      { exit: EXIT.usage },
    );
  const comparison = compareSides(history, a, b);
  if (options.json) json(comparison);
  else out(compareText(comparison));
  if (comparison.rows.some(isChanged)) return EXIT.fail;
  const open = comparison.rows.some((row) => row.a === undefined || row.b === undefined);
  return open || comparison.rows.length === 0 ? EXIT.undecided : EXIT.ok;
};
