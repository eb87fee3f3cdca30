/** What holds a process open, counted before and after. */

const OURS = new Set([
  'TCPSocketWrap',
  'TCPServerWrap',
  'TCPConnectWrap',
  'PipeWrap',
  'Timeout',
  'ProcessWrap',
  'FSReqCallback',
  'FSEvent',
]);

export const handles = (): string[] =>
  process
    .getActiveResourcesInfo()
    .filter((name) => OURS.has(name))
    .sort();

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Turns of the event loop that closing one may take; on the way of a socket are some, of a file some more. */
const TURNS = 20_000;

/** Handles beyond those of `before` that stay. */
export const leftBehind = async (before: readonly string[]): Promise<string[]> => {
  const extra = (): string[] => {
    const rest = [...before];
    return handles().filter((name) => {
      const at = rest.indexOf(name);
      if (at >= 0) rest.splice(at, 1);
      return at < 0;
    });
  };
  for (let turns = 0; turns < TURNS && extra().length > 0; turns += 1) await turn();
  return extra();
};
